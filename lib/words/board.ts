import type { Plan } from '../batch/types/plan.ts';
import type { Recipe } from '../batch/types/recipe.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import { type Parts, stepped, volumeParts } from '../units/format/format.ts';
import { figureText, labelOf } from './figures.ts';
import type { Voice } from './measures.ts';

/** One figure as the board shows it: large, with its range below. */
export interface BoardCell {
  readonly label: string;
  readonly number: string;
  readonly unit: string;
  /** Small under the figure: `fine 1.042 to 1.046`, `brewed; planned 1.044`; null where the brewer set the figure. */
  readonly note: string | null;
  /** True where the figure is words rather than a number: it is set smaller. */
  readonly long: boolean;
}

const LONGEST_NUMBER = 6;

const SHORT: Partial<Record<TargetKey, string>> = {
  alcohol_volume_percent: 'Alcohol',
};

/** A figure for the board, as brewed where that is asked for and known; null where it does not apply. */
export function boardCell(
  plan: Plan,
  key: TargetKey,
  { units, language }: Voice,
  brewed = false,
): BoardCell | null {
  const planned = plan.targets[key];
  const found = brewed ? (plan.as_brewed?.[key] ?? null) : null;
  const figure = found ?? planned;
  if (figure === null) return null;
  const { number, unit, low, high } = figureText(key, figure, units);
  const plannedNumber = planned === null ? null : figureText(key, planned, units).number;
  const note =
    found !== null
      ? plannedNumber === null || plannedNumber === number
        ? 'brewed as planned'
        : `brewed; planned ${plannedNumber}`
      : brewed
        ? 'planned'
        : low === high
          ? null
          : `fine ${low} to ${high}`;
  return {
    label: SHORT[key] ?? labelOf(key, language),
    number,
    unit,
    note,
    long: number.length > LONGEST_NUMBER,
  };
}

const givenCell = (label: string, { number, unit }: Parts): BoardCell => ({
  label,
  number,
  unit,
  note: null,
  long: number.length > LONGEST_NUMBER,
});

/** The colour target that the brewer's units go with. */
export const colourKey = (units: 'metric' | 'us'): TargetKey =>
  units === 'metric' ? 'colour_ebc' : 'colour_srm';

/** The figures that a batch and its recipe are known by; `day` adds the water to heat, `brewed` goes by what was read. */
export function board(plan: Plan, recipe: Recipe, voice: Voice, day: boolean, brewed = false): BoardCell[] {
  const { units } = voice;
  const keys: TargetKey[] = [
    'original_gravity',
    'final_gravity',
    'alcohol_volume_percent',
    'bitterness_ibu',
    colourKey(units),
  ];
  const beer = keys.map((key) => boardCell(plan, key, voice, brewed)).filter((cell) => cell !== null);
  const into = givenCell('Into the fermenter', volumeParts(recipe.intoFermenter_L.value, units));
  const boil = givenCell('Boil', { number: stepped(recipe.boil_min.value, 1), unit: 'min' });
  const water = day ? boardCell(plan, 'water_to_heat_l', voice) : null;
  return [...beer, ...(water === null ? [] : [water]), boil, into];
}
