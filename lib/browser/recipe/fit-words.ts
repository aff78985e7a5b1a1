import type { Compared, Refit } from '../../batch/scaling/scale-recipe.ts';
import { TARGETS } from '../../batch/types/targets.ts';
import type { Units } from '../../units/dimension.ts';
import { figureLine } from '../../words/figures.ts';
import { volumeText } from '../../words/measures.ts';
import { capital, listed, sentence } from '../../words/words.ts';
import type { Travelled } from './fit-to-kitchen.ts';

const GRAVITY_STEP = 0.0005;
const HALF = 0.5;

const label = ({ what }: Compared): string =>
  what === 'boil_volume' ? 'volume of the boil' : TARGETS[what].label.toLowerCase();

function figure(what: Compared['what'], value: number, units: Units): string {
  if (what === 'boil_volume') return volumeText(value, units);
  return figureLine(
    what,
    { value, low: value, high: value, printed: { low: value, high: value }, contributors: [] },
    units,
  );
}

const signed = (value: number, decimals: number): string =>
  `${value < 0 ? '−' : '+'}${Math.abs(value).toFixed(decimals)}`;

function roundingWords(rounding: NonNullable<Refit['rounding']>): string | null {
  const parts = [
    Math.abs(rounding.original_gravity) < GRAVITY_STEP
      ? null
      : `gravity by ${signed(rounding.original_gravity, 3)}`,
    Math.abs(rounding.bitterness_ibu) < HALF
      ? null
      : `bitterness by ${signed(rounding.bitterness_ibu, 1)} IBU`,
    Math.abs(rounding.colour_ebc) < HALF ? null : `colour by ${signed(rounding.colour_ebc, 1)} EBC`,
  ].filter((part) => part !== null);
  return parts.length === 0 ? null : `Rounding the weights to a kitchen scale moves ${listed(parts)}.`;
}

/** What the fit has done, one sentence each: what stayed, what did not and why, what rounding costs. */
export function fitWords({ fit, brewery, plan }: Travelled): readonly string[] {
  if (fit === null) return ['The recipe as it was written.'];
  const { units } = brewery;
  const stayed = fit.kept.map(label);
  return [
    ...(stayed.length === 0
      ? []
      : [`Fitted: ${listed(stayed)} ${stayed.length === 1 ? 'stays' : 'stay'} as they were.`]),
    ...fit.notKept.map(
      (one) =>
        `${capital(label(one))} becomes ${figure(one.what, one.is, units)} and was ${figure(one.what, one.was, units)}: ${one.why}.`,
    ),
    ...(fit.rounding === null ? [] : [roundingWords(fit.rounding)].filter((words) => words !== null)),
    ...plan.warnings.map(({ message }) => sentence(capital(message))),
  ];
}
