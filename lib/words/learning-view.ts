import { TARGETS, type TargetKey } from '../batch/types/targets.ts';
/** What was learned of a setup, in words and in the brewer's units. */

import type { LearnedYeast } from '../batch/learning/archive.ts';
import { type Calibration, PROMISED_SHARE } from '../batch/learning/calibration.ts';
import type { BatchEvidence } from '../batch/learning/observe.ts';
import { POSSIBLE, tells, usable } from '../batch/learning/use.ts';
import { dimensionOf } from '../batch/model/assumed.ts';
import { SETUP_DEFAULTS } from '../batch/model/defaults.ts';
import {
  type Estimate,
  LEARNED_KEYS,
  LEAST_BATCHES,
  type Learned,
  type LearnedKey,
  type LearnedSetup,
  type Point,
  type UsedFigure,
} from '../batch/types/learning.ts';

import type { Setup } from '../batch/types/setup.ts';
import type { Units } from '../units/dimension.ts';
import { fixed, type Scale, scaleOf, volumeScale } from '../units/format/format.ts';
import { capital, counted } from './words.ts';

/** How far an uncertainty, or a difference, is on a scale. */
const widthOn = ({ of }: Scale, u: number): number => of(u) - of(0);

function shownIn(key: UsedFigure['key'], units: Units): Scale {
  const dimension = key === 'attenuation' ? 'percent' : dimensionOf(key);
  if (dimension === 'time') return { unit: 'min', step: 1, of: (minutes) => minutes };
  return dimension === 'volume' ? volumeScale(0, units) : scaleOf(dimension, 0, units);
}

const MOST_DECIMALS = 3;

/** Decimals that show an uncertainty with one digit, with two where the first is a 1 (common practice after JCGM 100, 7.2.6). */
function decimalsFor(u: number): number {
  if (!(u > 0)) return 1;
  for (let decimals = 0; decimals < MOST_DECIMALS; decimals++) {
    if (u * 10 ** decimals >= 1.95) return decimals;
  }
  return MOST_DECIMALS;
}

/** `2.61 ± 0.11 L/h`, spaces kept together. */
function plusMinus({ value, u }: Estimate, shown: Scale): string {
  const width = widthOn(shown, u);
  const decimals = decimalsFor(width);
  return `${fixed(shown.of(value), decimals)}\u00a0±\u00a0${fixed(width, decimals)}\u00a0${shown.unit}`;
}

const alone = (value: number, u: number, shown: Scale): string =>
  `${fixed(shown.of(value), decimalsFor(widthOn(shown, u)))}\u00a0${shown.unit}`;

const usedLabel = ({ key, yeast }: UsedFigure): string =>
  key === 'attenuation' ? `${yeast ?? 'the yeast'}, attenuation` : SETUP_DEFAULTS[key].label;

/** The same for paper, where every word takes room: `boil-off 2.6 L/h (10)`, in brackets how many batches. */
export const usedOnPaper = (used: readonly UsedFigure[], units: Units): readonly string[] =>
  used.map((figure) => {
    const { key, value, u, batches } = figure;
    return `${usedLabel(figure)} ${alone(value, u, shownIn(key, units))}\u00a0(${batches})`;
  });

/** A learned figure as it is shown and drawn; `line` is the setup's line with it. */
export type LearnedView = ReturnType<typeof viewOf> & { readonly line: string };

function viewOf(
  key: string,
  possible: UsedFigure['key'],
  label: string,
  shown: Scale,
  learned: Learned,
  next: Estimate,
) {
  const early = !tells(learned);
  const [least, most] = POSSIBLE[possible];
  const ends = ({ value, u }: Estimate) => ({
    low: shown.of(Math.max(least, value - 2 * u)),
    high: shown.of(Math.min(most, value + 2 * u)),
  });
  return {
    key,
    label,
    // Too early below three batches, which are not drawn either.
    text: early ? 'too early to say' : plusMinus(next, shown),
    early,
    setup: alone(learned.prior.value, learned.prior.u, shown),
    batches: counted(learned.batches, 'batch', 'batches'),
    known: learned.batches > 0,
    scatter:
      learned.scatter > 0 && !early
        ? `batches differ by ${alone(learned.scatter, learned.scatter, { ...shown, of: (u) => widthOn(shown, u) })} more than the instruments explain`
        : '',
    withOutliers:
      learned.withOutliers === null ? '' : `counting those too: ${plusMinus(learned.withOutliers, shown)}`,
    points: learned.points.map((point) => ({
      slug: point.slug,
      value: shown.of(point.value),
      ...ends(point),
      text: early ? '' : plusMinus(point, shown),
      outlier: point.outlier,
    })),
    drawn: {
      value: shown.of(next.value),
      ...ends(next),
      prior: shown.of(learned.prior.value),
      unit: shown.unit,
    },
  };
}

/** `2.61 ± 0.11 L/h` as a file holds it: plain spaces, a hyphen for minus. */
const inFile = (text: string): string => text.replaceAll('\u00a0', ' ').replaceAll('−', '-');

function setupLine(setup: Setup, key: LearnedKey, text: string, learned: LearnedSetup, units: Units): string {
  if (key !== 'chill.in' && key !== 'chill.to') return `${key}: ${inFile(text)}`;
  // Both are in one line, with the minutes.
  if (key === 'chill.to' && tells(learned['chill.in'])) return '';
  const { to_C, in_min, with: how, assumed } = setup.chill;
  const figure = (own: LearnedKey, written: string | null): string | null => {
    const found = learned[own];
    return tells(found) ? inFile(plusMinus(usable(own, found), shownIn(own, units))) : written;
  };
  const to = figure('chill.to', to_C.written);
  const within = figure('chill.in', in_min.written);
  const parts = [
    ...(to === null ? [] : [`to: ${to}`]),
    ...(within === null ? [] : [`in: ${within}`]),
    ...(assumed ? [] : [`with: ${how}`]),
  ];
  return `chill: { ${parts.join(', ')} }`;
}

/** Every figure of a setup that batches show, in the order of the day. */
export function learnedViews(setup: Setup, learned: LearnedSetup, units: Units): readonly LearnedView[] {
  return LEARNED_KEYS.flatMap((key) => {
    const found = learned[key];
    if (found === null) return [];
    const label = capital(SETUP_DEFAULTS[key].label);
    const view = viewOf(key, key, label, shownIn(key, units), found, usable(key, found));
    return [{ ...view, line: setupLine(setup, key, view.text, learned, units) }];
  });
}

/** Lines to paste into `setups.yaml`; only figures that enough batches support. */
export const setupLines = (key: string, views: readonly LearnedView[]): string =>
  [`${key}:`, ...views.filter(({ early, known }) => known && !early).map(({ line }) => `  ${line}`)].join(
    '\n',
  );

export const yeastViews = (yeasts: readonly LearnedYeast[]): readonly LearnedView[] =>
  yeasts.map(({ name, attenuation }) => {
    const next = { value: attenuation.value, u: attenuation.next_u };
    const view = viewOf(name, 'attenuation', name, shownIn('attenuation', 'metric'), attenuation, next);
    return { ...view, line: `attenuation: ${inFile(view.text)}` };
  });

/** The learned figures that a plan was made with, one line each: `boil-off 2.6 L/h (10 batches; the setup says 2.2 L/h)`. */
export const usedLines = (used: readonly UsedFigure[], units: Units): readonly string[] =>
  used.map((figure) => {
    const { key, value, u, batches, setup_value } = figure;
    const shown = shownIn(key, units);
    const behind = counted(batches, 'batch', 'batches');
    const said = key === 'attenuation' ? 'stated' : 'setup';
    return `${usedLabel(figure)} ${alone(value, u, shown)} (${behind}; ${said} ${alone(setup_value, u, shown)})`;
  });

export interface Says {
  readonly label: string;
  readonly text: string;
  /** That the figure is not counted, or cannot be; else empty. */
  readonly remark: string;
}

/** Shares of a whole: above it something was read wrongly. */
const SHARES: ReadonlySet<UsedFigure['key']> = new Set([
  'steep_efficiency',
  'mash_efficiency',
  'attenuation',
]);

function remarkOn(key: UsedFigure['key'], value: number, point: PointOf | null): string {
  if (point?.outlier) return 'not learned from: too far from the other batches';
  return SHARES.has(key) && value > 1 ? 'more than is possible: one of the readings is wrong' : '';
}

type PointOf = Pick<Point, 'outlier' | 'residual'>;

/**
 * What one batch shows of the setup and of its yeast, a line a figure.
 *
 * @param pointOf what all batches together make of this one's figure; null where they do not count it
 */
export function saysOf(
  { kit, attenuation }: BatchEvidence,
  units: Units,
  pointOf: (key: UsedFigure['key']) => PointOf | null,
): readonly Says[] {
  const line = (key: UsedFigure['key'], label: string, found: Estimate): Says => ({
    label,
    text: plusMinus(found, shownIn(key, units)),
    remark: remarkOn(key, found.value, pointOf(key)),
  });
  const figures = LEARNED_KEYS.flatMap((key) => {
    const found = kit[key];
    // One day alone cannot separate what hops hold from what stays in the kettle.
    if (found === undefined || key === 'hop_absorption') return [];
    return [line(key, capital(SETUP_DEFAULTS[key].label), found)];
  });
  if (attenuation === null) return figures;
  return [...figures, line('attenuation', `${attenuation.yeast}: attenuation`, attenuation)];
}

const percent = (share: number): string => `${Math.round(100 * share)}\u00a0%`;
const shareText = ({ inside, readings, low, high }: Omit<Calibration, 'targets' | 'batches'>): string =>
  `${percent(inside / readings)} (${Math.round(100 * low)} to ${percent(high)})`;

/** How often readings fell inside *fine between*; null where none was read. */
export function calibrationView(found: Calibration) {
  if (found.readings === 0) return null;
  const { low, high } = found;
  if (found.batches < LEAST_BATCHES) return { text: 'too early to say', verdict: '', rows: [] };
  const verdict =
    high < PROMISED_SHARE
      ? 'Too seldom: some uncertainty is larger than the setup says. The lines below show which.'
      : low > PROMISED_SHARE
        ? 'More often than that: the ranges could be narrower.'
        : 'They held, as far as this many readings can show.';
  return {
    text: `${found.inside}\u00a0of ${counted(found.readings, 'reading', 'readings')}, ${shareText(found)}`,
    verdict,
    rows: found.targets.map((one) => ({
      label: TARGETS[one.target as TargetKey].label,
      inside: `${one.inside}\u00a0of\u00a0${one.readings}`,
      share: shareText(one),
    })),
  };
}

export type CalibrationView = NonNullable<ReturnType<typeof calibrationView>>;
