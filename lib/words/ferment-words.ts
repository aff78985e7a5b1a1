/** What to expect by the curve of a fermentation, in words: never that it is finished. */
import type { Batch } from '../batch/types/batch.ts';
import type { FermentationCurve, Plan } from '../batch/types/plan.ts';
import { dateOfDay, dayNumber } from '../batch/types/time.ts';
import { fixed } from '../units/format/format.ts';
import { dateText, dayText } from './measures.ts';

const gravityText = (sg: number): string => fixed(sg, 3);

/** Two days as one stretch; the year once where it is the same. */
function between(from: string, to: string, language: string): string {
  const sameYear = from.slice(0, 4) === to.slice(0, 4);
  return `between ${(sameYear ? dayText : dateText)(from, language)} and ${dateText(to, language)}`;
}

/** `24 Nov 2026 (between 21 Nov and 28 Nov 2026)`. */
function dayWords(
  { expected, earliest, latest }: NonNullable<FermentationCurve['end_day']>,
  language: string,
): string {
  const day = dateText(expected, language);
  return earliest === latest ? day : `${day} (${between(earliest, latest, language)})`;
}

function endWords({ end_gravity: { value, printed } }: FermentationCurve): string {
  return `${gravityText(value)} (${gravityText(printed.low)} to ${gravityText(printed.high)})`;
}

/** What is to be expected in one sentence, and what belongs to it. */
export interface Expectation {
  readonly lead: string;
  /** Empty where there is nothing more to say. */
  readonly more: string;
}

/**
 * Where and when the gravity is expected to end, or came to its end, by the curve fitted to the log; null without a curve.
 */
export function expectedWords({ recipe, readings }: Batch, plan: Plan, language: string): Expectation | null {
  const { fermentation_curve: curve, fermentation } = plan;
  if (curve === undefined) return null;
  const state = fermentation?.state;
  const { packaged } = readings;
  const over =
    (packaged !== undefined && packaged !== 'not taken') || state === 'finished' || state === 'stopped high';
  const more = [
    ...(over ? [] : [ONLY_A_DAY]),
    ...(recipe.sugar.some(({ add }) => add.at === 'fermenter') ? [SUGAR_LATER] : []),
  ];
  return {
    lead: over ? ended(curve, state === 'stopped high', language) : expected(curve, language),
    more: [
      ...more,
      ...curve.readings.flatMap((reading) => outlierWords(plan, curve, reading, language)),
    ].join(' '),
  };
}

const ONLY_A_DAY = 'The curve says when to look, not when to package: it has finished when readings agree.';

const SUGAR_LATER = 'Sugar that is added later raises the gravity again; the curve does not show that.';

function ended(curve: FermentationCurve, high: boolean, language: string): string {
  if (high) return `By the curve it levels out at about ${endWords(curve)}.`;
  const day = curve.end_day === null ? '' : ` by ${dayWords(curve.end_day, language)}`;
  return `By the curve it reached about ${endWords(curve)}${day}.`;
}

function expected(curve: FermentationCurve, language: string): string {
  const { end_day, readings } = curve;
  if (end_day === null)
    return `About ${endWords(curve)} in the end; the readings do not show yet on which day.`;
  const last = dateAfterPitching(curve, Math.max(...readings.map(({ day }) => day)));
  if (end_day.expected > last) return `About ${endWords(curve)} by ${dayWords(end_day, language)}.`;
  const latest = end_day.latest > last ? `, by ${dateText(end_day.latest, language)} at the latest` : '';
  return `By the curve it is nearly at its end: about ${endWords(curve)}${latest}.`;
}

function outlierWords(
  plan: Plan,
  curve: FermentationCurve,
  { key, day, outlier }: FermentationCurve['readings'][number],
  language: string,
): string[] {
  const value = plan.readings[key]?.value ?? null;
  if (!outlier || value === null) return [];
  const which =
    key === 'original_gravity'
      ? 'starting gravity'
      : `reading of ${dateText(dateAfterPitching(curve, day), language)}`;
  return [
    `The ${which}, ${gravityText(value)}, is far from the curve and hardly counts in it: check the figure.`,
  ];
}

/** When the yeast went in, days from 1970; noon where no hour was written. */
export function pitchedDay({ pitched }: FermentationCurve): number {
  const [date = '', clock = '12:00'] = pitched.split(' ');
  return dayNumber(date, clock);
}

/** The date some days after pitching. */
const dateAfterPitching = (curve: FermentationCurve, day: number): string =>
  dateOfDay(pitchedDay(curve) + day);
