import type { Figure, Plan } from '../batch/types/plan.ts';
import { TARGETS, type TargetKey, targetOf } from '../batch/types/targets.ts';
import type { Units } from '../units/dimension.ts';
import {
  fixed,
  iceScale,
  massScale,
  outward,
  type Scale,
  scaleOf,
  stepped,
  volumeScale,
} from '../units/format/format.ts';
import { LITRES_PER_US_GALLON } from '../units/table.ts';
import { volumeText } from './measures.ts';
import { spelled } from './words.ts';

/** A target in the brewer's units, rounded to its printed step. */
export interface FigureText {
  readonly key: TargetKey;
  readonly number: string;
  /** Empty where the figure has none (gravity, counts). */
  readonly unit: string;
  /** The two ends of *fine between*, in the same unit as the number. */
  readonly low: string;
  readonly high: string;
}

const US_BOTTLE_L = 0.3548823549;

const plain = (unit: string, step: number): Scale => ({ unit, step, of: (value) => value });

const energy = (units: Units): Scale =>
  units === 'metric'
    ? plain('kcal/L', 10)
    : { unit: 'kcal per 12 fl oz', step: 5, of: (kcal) => kcal * US_BOTTLE_L };

/** The unit and printed step of a target; `value` decides between a unit and its multiple. */
function scaleFor(key: TargetKey, value: number, units: Units): Scale {
  const { unit, step } = targetOf(key);
  switch (unit) {
    case 'SG':
      return plain('', 0.001);
    case 'L':
      return volumeScale(value, units);
    case '°C':
      return scaleOf('temperature', value, units);
    case 'kPa':
      return scaleOf('pressure', value, units);
    case 'kg':
      return iceScale(units);
    case 'g':
      return massScale(value, units);
    case 'kcal/L':
      return energy(units);
    case 'billion cells':
      return plain('billion', 10);
    case 'count':
      return plain('', 1);
    default:
      return plain(unit, step ?? 1);
  }
}

/** What a target is called. */
export const labelOf = (key: TargetKey, language: string): string => spelled(TARGETS[key].label, language);

/**
 * Puts a target into the brewer's units, value and range in the same unit.
 *
 * The range is the figure's printed one; where it has to be converted it is rounded outward once more to the
 * step of the new unit, so that it never becomes narrower than the range that verdicts are given by.
 * `given` replaces the target's usual unit.
 */
export function figureText(key: TargetKey, figure: Figure, units: Units, given?: Scale): FigureText {
  if (units === 'us' && targetOf(key).unit === 'L' && given === undefined) return quartsText(key, figure);
  const scale = given ?? scaleFor(key, figure.value, units);
  const range = outward(scale.of(figure.printed.low), scale.of(figure.printed.high), scale.step);
  const digits = (value: number): string =>
    targetOf(key).unit === 'SG' ? fixed(value, 3) : stepped(value, scale.step);
  return {
    key,
    number: digits(scale.of(figure.value)),
    unit: scale.unit,
    low: digits(range.low),
    high: digits(range.high),
  };
}

/** Gallons and quarts to the quarter quart, each end with its units. */
function quartsText(key: TargetKey, { value, printed }: Figure): FigureText {
  const range = outward(printed.low, printed.high, LITRES_PER_US_GALLON / 16);
  const text = (litres: number): string => volumeText(litres, 'us');
  return {
    key,
    number: text(value),
    unit: '',
    low: text(range.low),
    high: text(range.high),
  };
}

/** One line of a figure: `1.044`, `9.5 L`. */
export function figureLine(key: TargetKey, figure: Figure, units: Units): string {
  const text = figureText(key, figure, units);
  return text.unit === '' ? text.number : `${text.number}\u00a0${text.unit}`;
}

/** Of the volume that is made: less than a mark on a bucket can show. */
const SAME_VOLUME = 0.02;
/** Less than a hydrometer can show. */
const SAME_GRAVITY = 0.001;

/** What a kit's label says, and why the plan says other; null where there is no label, or both say the same. */
export function labelLine(
  { label, targets }: Pick<Plan, 'label' | 'targets'>,
  makes_L: number,
  units: Units,
): string | null {
  if (label === null) return null;
  const { original_gravity, final_gravity, volume_l, reachable_gravity, volume_for_label_l } = label;
  const isOff = (said: number | null, planned: Figure | null): boolean =>
    said !== null && planned !== null && (said < planned.printed.low || said > planned.printed.high);
  const off = isOff(original_gravity, targets.original_gravity);
  const ends = isOff(final_gravity, targets.final_gravity);
  const other = volume_l !== null && Math.abs(volume_l - makes_L) > SAME_VOLUME * makes_L;
  if (!off && !ends && !other) return null;
  const sg = (gravity: number): string => fixed(gravity, 3);
  const says = [
    ...(original_gravity === null ? [] : [`original gravity ${sg(original_gravity)}`]),
    ...(final_gravity === null ? [] : [`final gravity ${sg(final_gravity)}`]),
    ...(volume_l === null ? [] : [volumeText(volume_l, units)]),
  ];
  const poor =
    off && reachable_gravity !== null && Math.abs(reachable_gravity - original_gravity!) > SAME_GRAVITY;
  const why = [
    ...(other ? [`You make ${volumeText(makes_L, units)}.`] : []),
    ...(poor ? [`This extract gives ${sg(reachable_gravity)} in ${volumeText(volume_l!, units)}.`] : []),
    ...(off && (poor || volume_l === null) && volume_for_label_l !== null
      ? [`It would reach ${sg(original_gravity!)} in ${volumeText(volume_for_label_l, units)}.`]
      : []),
    ...(ends ? ['Where it ends depends on the yeast and on what it can ferment.'] : []),
  ];
  return `${says.join(', ')}. ${why.join(' ')}`.trim();
}
