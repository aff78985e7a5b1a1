import type { Plan } from '../batch/types/plan.ts';
import type { Recipe } from '../batch/types/recipe.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import { figureText } from './figures.ts';
import { kept } from './words.ts';

/** One figure as the board shows it: large, with its range below. */
export interface BoardCell {
  readonly label: string;
  readonly number: string;
  readonly unit: string;
  /** `1.042 to 1.046`, or null where the brewer set the figure. */
  readonly between: string | null;
  /** True where the figure is words rather than a number: it is set smaller. */
  readonly long: boolean;
}

const LONGEST_NUMBER = 6;

const SHORT: Partial<Record<TargetKey, string>> = {
  alcohol_volume_percent: 'Alcohol',
};

/** A figure of the plan for the board; null where it does not apply. */
export function boardCell(plan: Plan, key: TargetKey, units: 'metric' | 'us'): BoardCell | null {
  const figure = plan.targets[key];
  if (figure === null) return null;
  const text = figureText(key, figure, units);
  const between = text.low === text.high ? null : `${text.low} to ${text.high}`;
  const { number, unit } = text;
  return { label: SHORT[key] ?? text.label, number, unit, between, long: number.length > LONGEST_NUMBER };
}

/** Splits what the brewer wrote into number and unit, so that both are set like a computed figure. */
export function writtenCell(label: string, written: string): BoardCell {
  const match = /^([\d.,½¼¾]+)\s*(\D[^\d]*)$/u.exec(written.trim());
  return match === null
    ? { label, number: kept(written), unit: '', between: null, long: written.length > LONGEST_NUMBER }
    : { label, number: match[1]!, unit: match[2]!.trim(), between: null, long: false };
}

/** The colour target that the brewer's units go with. */
export const colourKey = (units: 'metric' | 'us'): TargetKey =>
  units === 'metric' ? 'colour_ebc' : 'colour_srm';

/** The figures that a batch and its recipe are known by. */
export function board(plan: Plan, recipe: Recipe, units: 'metric' | 'us', day: boolean): BoardCell[] {
  const keys: TargetKey[] = [
    'original_gravity',
    'final_gravity',
    'alcohol_volume_percent',
    'bitterness_ibu',
    colourKey(units),
  ];
  const beer = keys.map((key) => boardCell(plan, key, units)).filter((cell) => cell !== null);
  const volume = writtenCell('Into the fermenter', recipe.intoFermenter_L.written);
  const boil = writtenCell('Boil', recipe.boil_min.written);
  const water = day ? boardCell(plan, 'water_to_heat_l', units) : null;
  return [...beer, ...(water === null ? [] : [water]), boil, volume];
}
