/** Bottles by grades: the gas that is likely, at most, and what is said of it. Figures worked by hand from the formula of `gasIn`. */
import { describe, expect, it } from 'vitest';
import type { Plan } from '../../../lib/batch/types/plan.ts';
import type { PackagedReading, Readings } from '../../../lib/batch/types/readings.ts';
import type { PackageStep } from '../../../lib/batch/types/recipe.ts';
import { extract, given, sampleBatch, sampleRecipe, yeast } from '../sample.ts';
import { planOf } from '../sample-plan.ts';
import { days, litres, sg } from '../sample-readings.ts';

const VOLUME_L = 18;
/** Residual gas is 0.86 vol at this temperature (Weiss 1974: 0.846 at 20 °C, 0.991 at 15). */
const WARMEST_C = 19.5;
const RESIDUAL_vol = 0.86;
/** Sucrose, stoichiometric: 4 × 44.0095 / 342.2965. */
const SUCROSE_g_per_g = 0.5143;
/** For so many volumes, with 0.96 of the gas: missing × V × 1.9768 / (0.96 y). */
const sugarFor = (vol: number): number =>
  ((vol - RESIDUAL_vol) * VOLUME_L * 1.9768) / (0.96 * SUCROSE_g_per_g);

const step = (carbonation: number, limit: number): PackageStep => ({
  into: 'bottles',
  carbonation_vol: given(carbonation, `${carbonation} vol`),
  sugar: { name: 'table sugar', co2_g_per_g: SUCROSE_g_per_g, extract: 1 },
  bottle_L: given(0.5, '500 ml'),
  limit: { unit: 'vol', value: limit, written: `${limit} vol`, assumed: false },
  temperature_C: null,
  volume_L: null,
});

/** A wort of extract alone, 1.050 by weight and as read. */
const made = (attenuation: number, packaging: PackageStep, readings: Readings = {}) =>
  sampleBatch({
    recipe: sampleRecipe({
      grain: [],
      steep: null,
      extract: [extract(3514)],
      packaging: [packaging],
      yeast: [yeast({ attenuation: { value: attenuation as never, u: null, from: 'table' } })],
    }),
    readings: { original_gravity: sg(1.05), ...readings },
  });

/** The gravity ends as much lower as more of the wort ferments. */
const [endAtFirst, endAtLast] = [0.7, 0.95].map(
  (share) => planOf(made(share, step(2.4, 3))).finish!.expected_gravity,
);

/** With a yeast that takes it to an end. */
const brewed = (end_SG: number, readings: Readings, packaging: PackageStep) =>
  made(0.7 + (0.25 * (end_SG - endAtFirst!)) / (endAtLast! - endAtFirst!), packaging, readings);

const day = (n: number) => ({ date: `2026-03-${String(n).padStart(2, '0')}`, clock: null });
const degrees = (value: number) => ({ value: value as never, u: null, written: `${value} °C` });
const row = (n: number, gravity: number) => ({
  on: day(n),
  gravity: sg(gravity),
  temperature_C: degrees(WARMEST_C),
  note: null,
});
const part = (over: Partial<PackagedReading>): PackagedReading => ({
  on: day(10),
  into: null,
  volume: litres(VOLUME_L, 20, 0.03 * VOLUME_L),
  temperature_C: degrees(WARMEST_C),
  sugar_g: null,
  bottles: null,
  ...over,
});

type Case = readonly [
  says: string,
  log: ReturnType<typeof days>,
  end_SG: number,
  vol: number,
  limit_vol: number,
  is: readonly [grade: string, likely: number, most: number, level: string],
];

const DOUBLE = 'sugar weighed double';
// The seven cases, u of the grades' distance 1.9 points: 1.0 of the hydrometer, 1.6 of yeast and extract at 1.050.
const CASES: readonly Case[] = [
  ['as expected, flat 4 days', days('6 1.011'), 1.011, 2.4, 3, ['A', 2.4, 2.7, 'calm']],
  ['1.013', days('6 1.013'), 1.011, 2.4, 3, ['B', 2.4, 3.3, 'look again']],
  ['stuck at 1.016', days('6 1.016'), 1.011, 2.4, 3, ['C', 4.9, 6.5, 'act']],
  ['a saison at 1.008', days('6 1.008'), 1.003, 2.8, 5, ['C', 5.3, 6.9, 'act']],
  ['a saison at 1.002', days('6 1.002'), 1.003, 2.8, 5, ['A', 2.8, 3.1, 'calm']],
  ['1.020 and falling', days('8 1.024, 10 1.02'), 1.011, 2.4, 3, ['C', 7, 8.6, 'act']],
  [DOUBLE, days('6 1.011'), 1.011, 2.4, 3, ['A', 3.9, 4.3, 'act']],
];

function packagedPlan([says, log, end, vol, limit]: Case): Plan {
  const last = log.at(-1)![1];
  const sugar = sugarFor(vol) * (says === DOUBLE ? 2 : 1);
  const sugar_g = { value: sugar as never, u: 0.01 * sugar, written: `${sugar} g` };
  return planOf(
    brewed(
      end,
      {
        fermentation: log.map(([n, gravity]) => row(n, gravity)),
        warmest_after: degrees(WARMEST_C),
        final_gravity: sg(last),
        packaged: [part({ sugar_g })],
      },
      step(vol, limit),
    ),
  );
}

describe('bottles', () => {
  it.each(CASES.map((one) => [one[0], one] as const))('%s', (says, one) => {
    const [grade, likely, most, level] = one[5];
    const plan = packagedPlan(one);
    const [found] = plan.bottles!;
    expect([found!.grade, found!.level]).toEqual([grade, level]);
    expect(Math.abs(found!.likely_vol - likely)).toBeLessThanOrEqual(0.1);
    expect(Math.abs(found!.at_most_vol - most)).toBeLessThanOrEqual(0.1);
    expect(found!.limit_vol).toBe(one[4]);
    const loud = plan.judgments.filter((judgment) => judgment.level !== 'calm');
    expect(loud.map((judgment) => judgment.level)).toEqual(level === 'calm' ? [] : [level]);
    const why = says === DOUBLE ? 'sugar' : level === 'act' ? 'fall' : 'margin';
    expect(loud.map(({ key, cause }) => [key, cause?.code === 'gas' && cause.too_much])).toEqual(
      level === 'calm' ? [] : [[says === DOUBLE ? 'packaged.sugar' : 'final_gravity', why]],
    );
  });

  it.each([
    ['as expected, flat 4 days', 'finished', 'package'],
    ['1.013', 'nearly', 'read once more'],
    ['stuck at 1.016', 'stopped high', 'warm and rouse'],
    ['a saison at 1.008', 'stopped high', 'warm and rouse'],
    ['1.020 and falling', 'falling', 'next reading'],
  ])('before packaging, %s: %s, %s', (name, cause, act) => {
    const [, log, end, vol, limit] = CASES.find(([says]) => says === name)!;
    const rows = [...log, ...(log.length === 1 ? [[10, log[0]![1]] as const] : [])];
    const plan = planOf(
      brewed(end, { fermentation: rows.map(([n, gravity]) => row(n, gravity)) }, step(vol, limit)),
    );
    const said = plan.judgments.find(({ cause: own }) => own !== null)!;
    expect([said.cause!.code, said.do?.code]).toEqual([cause, act]);
    // Bottles of a beer that plainly still ferments are nothing to judge yet.
    expect(plan.bottles === null).toBe(cause === 'falling');
  });

  it('are spoken of no more once a tasting three months on proved them, and by nothing else', () => {
    const stuck = packagedPlan(CASES[2]!);
    expect(stuck.bottles![0]!.level).toBe('act');
    const tasted = (date: string) => {
      const batch = brewed(
        1.011,
        {
          fermentation: [row(6, 1.016)],
          warmest_after: degrees(WARMEST_C),
          final_gravity: sg(1.016),
          packaged: [part({})],
          tasted: [{ on: { date, clock: null }, score: 4, note: null }],
        },
        step(2.4, 3),
      );
      const plan = planOf(batch);
      return [plan.bottles![0]!.level, plan.judgments.some(({ cause }) => cause !== null)];
    };
    expect(tasted('2026-06-07')).toEqual(['act', true]);
    expect(tasted('2026-06-10')).toEqual(['calm', false]);
  });

  it('that did burst are danger, whatever the readings say', () => {
    const plan = planOf(
      brewed(
        1.011,
        { fermentation: [row(6, 1.011)], final_gravity: sg(1.011), packaged: [part({ burst: 2 })] },
        step(2.4, 3),
      ),
    );
    const loud = plan.judgments.filter(({ level }) => level !== 'calm');
    expect(loud).toEqual([
      { key: 'packaged.burst', level: 'act', cause: { code: 'burst', bottles: 2 }, do: { code: 'danger' } },
    ]);
  });

  it('none that burst is no reading and no danger', () => {
    const packaged = [part({ burst: 0 })];
    const plan = planOf(brewed(1.011, { fermentation: [row(6, 1.011)], packaged }, step(2.4, 3)));
    expect(plan.readings['packaged.burst']).toBeUndefined();
    expect(plan.judgments.map(({ key }) => key)).not.toContain('packaged.burst');
  });

  it('of a kegged beer are none', () => {
    const keg: PackageStep = { ...step(2.4, 3), into: 'keg', sugar: null };
    const readings = {
      fermentation: [row(6, 1.016), row(10, 1.016)],
      packaged: [part({ into: 'keg' as const })],
    };
    const plan = planOf(brewed(1.011, readings, keg));
    expect(plan.bottles).toBeNull();
    expect(plan.judgments.every(({ level }) => level === 'calm')).toBe(true);
  });

  it('made for a pressure are held against what gives it at 30 °C: 3.71 bar are 3.0 vol', () => {
    const limit = { unit: 'kPa' as const, value: 371, written: '3.7 bar', assumed: false };
    const batch = brewed(
      1.011,
      { fermentation: [row(6, 1.011), row(10, 1.011)] },
      { ...step(2.4, 3), limit },
    );
    expect(planOf(batch).bottles![0]!.limit_vol).toBeCloseTo(3, 1);
  });
});
