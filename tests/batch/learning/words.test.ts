import { FAILSAFE_SCHEMA, load } from 'js-yaml';
import { describe, expect, it } from 'vitest';
import { checkSetups } from '../../../lib/archive/schema/check-tables.ts';
import { createLearner } from '../../../lib/batch/learning/archive.ts';
import { usedFigures } from '../../../lib/batch/learning/use.ts';
import { learningChart } from '../../../lib/site/charts/learning-chart.ts';
import {
  calibrationView,
  learnedViews,
  setupLines,
  usedLines,
  usedOnPaper,
  yeastViews,
} from '../../../lib/words/learning-view.ts';
import { readXml } from '../../site/feeds/xml.ts';
import { randomFrom } from './random.ts';
import { brew, drawTruth } from './simulate.ts';

const random = randomFrom(11);
const truth = drawTruth(random);
const batches = Array.from({ length: 9 }, (_, i) => brew(truth, i, random));
const learner = createLearner(batches);
const all = { before: null, counts: () => true };
const setup = batches[0]!.setup;
const learned = learner.setup(setup, all);

describe.each(['metric', 'us'] as const)('learned figures in %s units', (units) => {
  const views = learnedViews(setup, learned, units);

  it('are one for each that batches tell', () => expect(views).toHaveLength(8));

  it('can be pasted into setups.yaml as they stand, and mean the same there', () => {
    const text = setupLines('stove', views).replace(
      'stove:\n',
      `stove:\n  kettle: ${units === 'us' ? '4 gal' : '15 L'}\n`,
    );
    const { setups, problems } = checkSetups(load(text, { schema: FAILSAFE_SCHEMA }), units);
    expect(problems).toEqual([]);
    const pasted = setups.get('stove')!;
    const pairs = [
      [pasted.boilOff_L_per_h, learned.boil_off],
      [pasted.kettleLoss_L, learned.kettle_loss],
      [pasted.hopAbsorption_L_per_kg, learned.hop_absorption],
      [pasted.fermenterLoss_L, learned.fermenter_loss],
      [pasted.steepEfficiency, learned.steep_efficiency],
      [pasted.mashEfficiency, learned.mash_efficiency],
      [pasted.heat_kW, learned.heat],
      [pasted.chill.in_min, learned['chill.in']],
    ] as const;
    for (const [figure, found] of pairs) {
      expect(figure.assumed).toBe(false);
      // Printed to a digit or two of the uncertainty: half a unit of the last is a quarter of it at most.
      expect(Math.abs(figure.value - found!.value)).toBeLessThan(0.3 * found!.next_u);
      expect(figure.u / found!.next_u).toBeGreaterThan(0.7);
      expect(figure.u / found!.next_u).toBeLessThan(1.35);
    }
  });

  it('show no litre to a brewer of US units, and no quart to another', () => {
    const text = JSON.stringify([views, usedLines(usedFigures(setup, learned), units)]);
    expect(text).not.toMatch(units === 'us' ? /\d\u00a0L\b/ : /\b(?:qt|gal)\b/);
  });

  it('are drawn as well-formed SVG with a dot for every batch', () => {
    for (const [i, view] of views.entries()) {
      const svg = learningChart(`learned-${i}`, view);
      readXml(svg);
      expect(svg.match(/class="dot"/g)).toHaveLength(view.points.filter(({ outlier }) => !outlier).length);
      expect(svg).not.toMatch(/NaN|Infinity/);
    }
  });
});

it('the lines on the sheet say what is used, of how many batches, and what the setup says', () => {
  const [line] = usedLines(
    [{ key: 'boil_off', value: 2.612, u: 0.31, batches: 1, setup_value: 2.2 }],
    'metric',
  );
  expect(line).toBe('evaporation 2.6\u00a0L/h (1\u00a0batch; setup 2.2\u00a0L/h)');
});

it('the line of a yeast says whose it is, and what was stated of it', () => {
  const used = [
    { key: 'attenuation', yeast: 'English ale', value: 0.781, u: 0.012, batches: 4, setup_value: 0.75 },
  ] as const;
  expect(usedLines(used, 'metric')).toEqual([
    'English ale, attenuation 78.1\u00a0% (4\u00a0batches; stated 75.0\u00a0%)',
  ]);
  expect(usedOnPaper(used, 'us')).toEqual(['English ale, attenuation 78.1\u00a0%\u00a0(4)']);
});

it('yeasts are told by name', () => {
  expect(yeastViews(learner.yeasts(all)).map(({ label, line }) => [label, line])).toEqual([
    ['English ale', expect.stringMatching(/^attenuation: \d\d(\.\d)? ± \d(\.\d+)? %$/)],
  ]);
});

describe('calibration in words', () => {
  const counts = (inside: number, readings: number, low: number, high: number) => ({
    inside,
    readings,
    batches: readings > 0 ? 20 : 0,
    low,
    high,
    targets: [],
  });
  it.each([
    [counts(95, 100, 0.9, 0.98), /As promised/],
    [counts(60, 100, 0.52, 0.68), /Too seldom/],
    [counts(999, 1000, 0.996, 1), /could be narrower/],
  ])('judges %j', (found, words) => expect(calibrationView(found)!.verdict).toMatch(words));
  it('is none without readings', () => expect(calibrationView(counts(0, 0, 0, 1))).toBeNull());
});
