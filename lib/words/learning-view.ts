import { TARGETS, type TargetKey } from '../batch/types/targets.ts';
/** What was learned of a kit, in words and in the brewer's units. */

import type { LearnedYeast } from '../batch/learning/archive.ts';
import { type Calibration, PROMISED_SHARE } from '../batch/learning/calibration.ts';
import type { BatchEvidence } from '../batch/learning/observe.ts';
import { POSSIBLE, tells, usable } from '../batch/learning/use.ts';
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
import { GRAMS_PER_POUND, LITRES_PER_US_GALLON } from '../units/table.ts';
import { capital } from './words.ts';

/** How a figure is shown: its unit, and how many of the internal unit make one. */
interface Shown {
  readonly unit: string;
  readonly size: number;
  /** What 0 of the internal unit is in this one. */
  readonly zero?: number;
}

const PERCENT: Shown = { unit: '%', size: 0.01 };

const shownValue = (value: number, { size, zero = 0 }: Shown): number => value / size + zero;

/** Litres to the kilogram in a quart to the pound. */
const QUARTS_PER_POUND = LITRES_PER_US_GALLON / 4 / (GRAMS_PER_POUND / 1000);

function shownIn(key: UsedFigure['key'], units: Units): Shown {
  switch (key) {
    case 'heat':
      return { unit: 'kW', size: 1 };
    case 'steep_efficiency':
    case 'mash_efficiency':
    case 'attenuation':
      return PERCENT;
    case 'chill.to':
      return units === 'us' ? { unit: '°F', size: 5 / 9, zero: 32 } : { unit: '°C', size: 1 };
    case 'chill.in':
      return { unit: 'min', size: 1 };
    case 'boil_off':
      return units === 'us' ? { unit: 'gal/h', size: LITRES_PER_US_GALLON } : { unit: 'L/h', size: 1 };
    case 'hop_absorption':
      return units === 'us' ? { unit: 'qt/lb', size: QUARTS_PER_POUND } : { unit: 'L/kg', size: 1 };
    case 'kettle_loss':
    case 'fermenter_loss':
      return units === 'us' ? { unit: 'qt', size: LITRES_PER_US_GALLON / 4 } : { unit: 'L', size: 1 };
  }
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

const digits = (value: number, decimals: number): string => {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
};

/** `2.61 ± 0.11 L/h`, spaces kept together. */
function plusMinus({ value, u }: Estimate, shown: Shown): string {
  const decimals = decimalsFor(u / shown.size);
  return `${digits(shownValue(value, shown), decimals)}\u00a0±\u00a0${digits(u / shown.size, decimals)}\u00a0${shown.unit}`;
}

const alone = (value: number, u: number, shown: Shown): string =>
  `${digits(shownValue(value, shown), decimalsFor(u / shown.size))}\u00a0${shown.unit}`;

const counted = (n: number, one: string, many: string): string => `${n}\u00a0${n === 1 ? one : many}`;

/** A batch behind a figure, in the figure's shown unit. */
export interface PointView {
  readonly slug: string;
  readonly value: number;
  /** Ends of two standard uncertainties, held to what is possible. */
  readonly low: number;
  readonly high: number;
  readonly text: string;
  readonly outlier: boolean;
  /** How far off it is, `4.8`. */
  readonly sigmas: string;
}

/** What a used figure is called: the kit's by its label, a yeast by its name. */
const usedLabel = ({ key, yeast }: UsedFigure): string =>
  key === 'attenuation' ? `${yeast ?? 'the yeast'}, attenuation` : SETUP_DEFAULTS[key].label;

/** The same for paper, where every word takes room: `evaporation 2.6 L/h (10)`, in brackets how many batches. */
export const usedOnPaper = (used: readonly UsedFigure[], units: Units): readonly string[] =>
  used.map((figure) => {
    const { key, value, u, batches } = figure;
    return `${usedLabel(figure)} ${alone(value, u, shownIn(key, units))}\u00a0(${batches})`;
  });

export interface LearnedView {
  readonly key: string;
  readonly label: string;
  /** `2.61 ± 0.11 L/h`; `too early to say` below three batches, which are not drawn either. */
  readonly text: string;
  readonly early: boolean;
  /** What the setup says. */
  readonly setup: string;
  /** `10 batches`. */
  readonly batches: string;
  /** Whether any batch stands behind it. */
  readonly known: boolean;
  /** How far batches differ beyond what the instruments explain; empty where they do not. */
  readonly scatter: string;
  /** `With them in: 2.7 ± 0.2 L/h`; empty without outliers. */
  readonly withOutliers: string;
  readonly points: readonly PointView[];
  /** In the shown unit, for the drawing. */
  readonly drawn: {
    readonly value: number;
    readonly low: number;
    readonly high: number;
    readonly prior: number;
    readonly unit: string;
  };
  /** The setup's line with what was learned. */
  readonly line: string;
}

function viewOf(
  key: string,
  possible: UsedFigure['key'],
  label: string,
  shown: Shown,
  learned: Learned,
  next: Estimate,
): Omit<LearnedView, 'line'> {
  const early = !tells(learned);
  const [least, most] = POSSIBLE[possible];
  const ends = ({ value, u }: Estimate) => ({
    low: shownValue(Math.max(least, value - 2 * u), shown),
    high: shownValue(Math.min(most, value + 2 * u), shown),
  });
  return {
    key,
    label,
    text: early ? 'too early to say' : plusMinus(next, shown),
    early,
    setup: alone(learned.prior.value, learned.prior.u, shown),
    batches: counted(learned.batches, 'batch', 'batches'),
    known: learned.batches > 0,
    scatter:
      learned.scatter > 0 && !early
        ? `batches differ by ${alone(learned.scatter, learned.scatter, { ...shown, zero: 0 })} more than the instruments explain`
        : '',
    withOutliers:
      learned.withOutliers === null ? '' : `with what is left out: ${plusMinus(learned.withOutliers, shown)}`,
    points: learned.points.map((point) => ({
      slug: point.slug,
      value: shownValue(point.value, shown),
      ...ends(point),
      text: early ? '' : plusMinus(point, shown),
      outlier: point.outlier,
      sigmas: digits(Math.abs(point.residual), 1),
    })),
    drawn: {
      value: shownValue(next.value, shown),
      ...ends(next),
      prior: shownValue(learned.prior.value, shown),
      unit: shown.unit,
    },
  };
}

/** `2.61 ± 0.11 L/h` as a file holds it: plain spaces, a hyphen for minus. */
const inFile = (text: string): string => text.replaceAll('\u00a0', ' ').replaceAll('−', '-');

function setupLine(setup: Setup, key: LearnedKey, text: string, learned: LearnedSetup, units: Units): string {
  if (key !== 'chill.in' && key !== 'chill.to') return `${key}: ${inFile(text)}`;
  // Both stand in one line, with the minutes.
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

/** Every figure that batches tell of a setup, in the order of the day. */
export function learnedViews(setup: Setup, learned: LearnedSetup, units: Units): readonly LearnedView[] {
  return LEARNED_KEYS.flatMap((key) => {
    const found = learned[key];
    if (found === null) return [];
    const label = capital(SETUP_DEFAULTS[key].label);
    const view = viewOf(key, key, label, shownIn(key, units), found, usable(key, found));
    return [{ ...view, line: setupLine(setup, key, view.text, learned, units) }];
  });
}

/** Lines to paste into `setups.yaml`; only figures that enough batches stand behind. */
export const setupLines = (key: string, views: readonly LearnedView[]): string =>
  [`${key}:`, ...views.filter(({ early, known }) => known && !early).map(({ line }) => `  ${line}`)].join(
    '\n',
  );

/** Attenuation by yeast. */
export const yeastViews = (yeasts: readonly LearnedYeast[]): readonly LearnedView[] =>
  yeasts.map(({ name, attenuation }) => {
    const next = { value: attenuation.value, u: attenuation.next_u };
    const view = viewOf(name, 'attenuation', name, PERCENT, attenuation, next);
    return { ...view, line: `attenuation: ${inFile(view.text)}` };
  });

/** The learned figures that a plan was made with, one line each: `evaporation 2.6 L/h (10 batches; the setup says 2.2 L/h)`. */
export const usedLines = (used: readonly UsedFigure[], units: Units): readonly string[] =>
  used.map((figure) => {
    const { key, value, u, batches, setup_value } = figure;
    const shown = shownIn(key, units);
    const behind = counted(batches, 'batch', 'batches');
    const said = key === 'attenuation' ? 'stated' : 'setup';
    return `${usedLabel(figure)} ${alone(value, u, shown)} (${behind}; ${said} ${alone(setup_value, u, shown)})`;
  });

/** A figure as one batch alone says it. */
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
  if (point?.outlier)
    return `left out of what is learned: ${digits(Math.abs(point.residual), 1)} standard uncertainties off`;
  return SHARES.has(key) && value > 1 ? 'more than there is: one of the readings is off' : '';
}

type PointOf = Pick<Point, 'outlier' | 'residual'>;

/**
 * What one batch says of the kit and of its yeast, a line a figure.
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
    // One day alone cannot tell what hops hold from what stays in the kettle.
    if (found === undefined || key === 'hop_absorption') return [];
    return [line(key, capital(SETUP_DEFAULTS[key].label), found)];
  });
  if (attenuation === null) return figures;
  return [...figures, line('attenuation', `${attenuation.yeast}: attenuation`, attenuation)];
}

export interface CalibrationView {
  /** `142 of 150 readings, 95 % (92 to 97 %)`. */
  readonly text: string;
  readonly verdict: string;
  readonly rows: readonly { readonly label: string; readonly inside: string; readonly share: string }[];
}

const percent = (share: number): string => `${Math.round(100 * share)}\u00a0%`;
const shareText = ({ inside, readings, low, high }: Omit<Calibration, 'targets' | 'batches'>): string =>
  `${percent(inside / readings)} (${Math.round(100 * low)} to ${percent(high)})`;

/** How often readings fell inside *fine between*; null where none was read. */
export function calibrationView(found: Calibration): CalibrationView | null {
  if (found.readings === 0) return null;
  const { low, high } = found;
  if (found.batches < LEAST_BATCHES) return { text: 'too early to say', verdict: '', rows: [] };
  const verdict =
    high < PROMISED_SHARE
      ? 'Too seldom: some uncertainty is larger than the setup says. The rows below tell which.'
      : low > PROMISED_SHARE
        ? 'More often than promised: the ranges could be narrower.'
        : 'As promised, as far as so many readings can tell.';
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
