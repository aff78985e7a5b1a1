/** Judgments in words: one sentence with the cause, one with what to do. Nothing else speaks of a reading. */
import type { Act, ActFacts, Cause, CauseFacts, Judgment, Level } from '../batch/types/judgment.ts';
import { kindAt, placeOf } from '../batch/types/places.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { Units } from '../units/dimension.ts';
import { fixed, massParts, stepped } from '../units/format/format.ts';
import { dateText, massShort, measureText, temperatureText, type Voice, volumeText } from './measures.ts';
import { counted } from './words.ts';

/** What is said of a reading. */
export interface JudgmentWords {
  readonly key: string;
  readonly level: Level;
  readonly cause: string | null;
  readonly do: string | null;
}

const sg = (gravity_SG: number): string => fixed(gravity_SG, 3);
const vol = (volumes: number): string => stepped(volumes, 0.1);
const days = (n: number): string => counted(n, 'day', 'days');
const degree = (t_C: number, units: Units): string => temperatureText(Math.round(t_C), units);

function amount(value: number, unit: CauseFacts['decimal point']['unit'], units: Units): string {
  if (unit === 'L') return volumeText(value, units);
  return unit === 'g' ? measureText(massParts(value, units)) : String(value);
}

/** Alcohol that is worth a word, volume per cent. */
const WORTH_A_WORD = 0.1;

const CAUSES: {
  readonly [C in keyof CauseFacts]: (facts: CauseFacts[C], voice: Voice, level: Level) => string;
} = {
  fault: ({ why }) => `This reading cannot be used: ${why}.`,
  'decimal point': ({ read, planned, unit }, { units }) =>
    `${amount(read, unit, units)}, where ${amount(planned, unit, units)} was planned: is the decimal point in its place?`,
  volume: ({ read_L, planned_L, gives_SG, confirmed, alcohol_percent }, { units }) => {
    const there = `${volumeText(read_L, units)} instead of ${volumeText(planned_L, units)}`;
    if (!confirmed) return `${there}.`;
    const by = Math.abs(alcohol_percent ?? 0);
    const strength = read_L > planned_L ? 'thinner' : 'stronger';
    const beer =
      by < WORTH_A_WORD ? '' : `; the beer comes out ${strength}, by ${stepped(by, 0.1)}\u00a0% of alcohol`;
    return `${there}: the weights give ${sg(gives_SG)} in that much${beer}.`;
  },
  weights: ({ read_SG, expected_SG }) =>
    `${sg(read_SG)} read, but the weights say ${sg(expected_SG)}: the wort may not be mixed, or the sample was warm.`,
  mash: ({ read_SG, expected_SG }) => `The mash gave ${sg(read_SG)}; ${sg(expected_SG)} was expected.`,
  'less extract': ({ read_SG, expected_SG }) =>
    `Several gravities agree on ${sg(read_SG)}, where the weights give ${sg(expected_SG)}: was something ${
      read_SG < expected_SG ? 'left out' : 'weighed twice'
    }?`,
  common: ({ what }) =>
    `Several readings agree with each other but not with the plan, as if the ${
      { extract: 'amount of extract', water: 'amount of water', evaporation: 'boil-off' }[what]
    } had been different.`,
  contradiction: ({ read_L, planned_L, read_SG, expected_SG }, { units }) =>
    `${volumeText(read_L, units)} instead of ${volumeText(planned_L, units)}, and ${sg(read_SG)} where that much gives ${sg(expected_SG)}: these two cannot both be right.`,
  odd: ({ read, expected, unit }, { units }) => {
    const text = (value: number) => (unit === 'SG' ? sg(value) : volumeText(value, units));
    return `${text(read)} at 20\u00a0°C; the plan and the other readings say about ${text(expected)}.`;
  },
  mix: ({ mix_C, low_C, high_C, read }, { units }) =>
    `${read ? 'The yeast went in at' : 'Wort and top-up water together come to about'} ${degree(mix_C, units)}; ${degree(low_C, units)} to ${degree(high_C, units)} suits the yeast.`,
  'boil length': ({ minutes, planned_min }) =>
    `It boiled for about ${Math.round(minutes)}\u00a0min instead of ${Math.round(planned_min)}.`,
  late: ({ what, minutes }) =>
    `${what}: about ${Math.round(Math.abs(minutes))}\u00a0min ${minutes > 0 ? 'late' : 'early'}.`,
  'left out': ({ what }) => `Left out, and not counted: ${what}.`,
  'bottle count': ({ counted: n, held }) =>
    `${counted(n, 'bottle', 'bottles')}; the beer that was read fills about ${held}.`,
  falling: ({ gravity_SG, fall_points, since_days }) =>
    `Still falling: ${sg(gravity_SG)}, ${counted(Math.round(fall_points), 'point', 'points')} less in ${days(since_days)}.`,
  'not yet flat': ({ gravity_SG, needed_days }) =>
    `${sg(gravity_SG)}, but it has not stayed the same for ${days(needed_days)} yet.`,
  'too few readings': ({ gravity_SG }) =>
    gravity_SG === null
      ? 'No gravity has been read yet.'
      : `${sg(gravity_SG)}, but there are too few readings to see whether it still falls.`,
  finished: ({ gravity_SG, expected_SG, days: n, below }) =>
    `Finished: ${sg(gravity_SG)}, the same for ${days(n)}${below ? `, and below the ${sg(expected_SG)} expected` : ''}.`,
  nearly: ({ gravity_SG, expected_SG, days: n }) =>
    `${sg(gravity_SG)}, the same for ${days(n)}, is a little above the ${sg(expected_SG)} expected.`,
  'stopped high': ({ gravity_SG, expected_SG, days: n }) =>
    `Stopped high: ${sg(gravity_SG)}, the same for ${days(n)}, where ${sg(expected_SG)} is expected.`,
  'falling below': ({ gravity_SG, expected_SG }) =>
    `${sg(gravity_SG)} is below the ${sg(expected_SG)} expected, and it still falls: a wild yeast, or a wrong starting gravity.`,
  gas: ({ likely_vol, at_most_vol, limit_vol, too_much, gravity_SG, expected_SG }, _, level) => {
    const gas = `about ${vol(likely_vol)}\u00a0vol, at most ${vol(at_most_vol)}`;
    const bottles = `the bottles are made for ${vol(limit_vol)}`;
    if (too_much === 'sugar') return `The sugar makes too much gas: ${gas}, and ${bottles}.`;
    if (level === 'calm')
      return `With it the bottles hold about ${vol(likely_vol)}\u00a0vol of gas, at most ${vol(at_most_vol)}.`;
    const open =
      gravity_SG === null || expected_SG === null || gravity_SG - expected_SG < 0.0005
        ? 'The readings do not show that it has finished'
        : `${sg(gravity_SG)} may still fall to ${sg(expected_SG)}`;
    return too_much === 'margin' && level === 'look again' && gravity_SG === null
      ? `Gas in the bottles: ${gas}; ${bottles}.`
      : `${open}: ${gas}${too_much === null ? '' : `, and ${bottles}`}.`;
  },
  carbonation: ({ makes_vol, planned_vol }) =>
    `The sugar makes about ${vol(makes_vol)}\u00a0vol; ${vol(planned_vol)} was planned.`,
  burst: ({ bottles }) => `${counted(bottles, 'bottle', 'bottles')} burst.`,
};

/** In the order in which it is safe. Common practice, no source. */
const DANGER = [
  'Keep everyone away.',
  'Cover the crate where it is and cool the room.',
  'Put on a face shield, thick gloves and a jacket before the closed crate is moved to the cold.',
  'Leave it there for 24\u00a0h at 2 to 4\u00a0°C; only then let the gas off, each bottle wrapped in a towel.',
].join(' ');

const corrected = (what: string, wish: boolean): string =>
  wish
    ? `Nothing to do; ${what}, boiled and cooled, would bring it to plan.`
    : `Read once more; if it says the same, stir in ${what}, boiled and cooled.`;

const ACTS: { readonly [A in keyof ActFacts]: (facts: ActFacts[A], voice: Voice, level: Level) => string } = {
  'check the figure': () => 'Check the figure.',
  'check the weights': () => 'Check the notes and the packets; the figures go by what was read.',
  'read again': () => 'Read it again.',
  'stir and read again': (_, { units }) =>
    `Stir well, cool the sample to ${temperatureText(20, units)} and read again; change nothing before.`,
  'stir and read both': () => 'Stir hard and read both again.',
  'leave it': () => 'Leave it.',
  counted: () => 'Nothing to do; the figures allow for it.',
  'add water': ({ volume_L, wish }, { units }) => corrected(`${volumeText(volume_L, units)} of water`, wish),
  'add extract': ({ mass_g, name, wish }, { units }) =>
    corrected(`${massShort(mass_g, units)} of ${name} in a little water`, wish),
  'fill up': ({ volume_L }, { units }) =>
    `Read again; if it says the same, add ${volumeText(volume_L, units)} of hot water before the countdown.`,
  'boil down': ({ minutes }) =>
    `Read again; if it says the same, boil ${minutes}\u00a0min before the countdown.`,
  'wait with the yeast': ({ to_C, warmer }, { units }, level) =>
    level === 'act'
      ? `Wait with the yeast: ${warmer ? 'warm' : 'cool'} it to ${degree(to_C, units)}, stir, and read again.`
      : `Stir and read its temperature before the yeast goes in; ${degree(to_C, units)} is planned.`,
  'bring it back': ({ to_C, warmer }, { units }) =>
    `${warmer ? 'Warm' : 'Cool'} it slowly to ${degree(to_C, units)}.`,
  'next reading': ({ on }, { language }) =>
    `Read again on ${dateText(on, language)}; do not package it before.`,
  'read once more': ({ on, below }, { language }) =>
    below
      ? `Keep it closed and read once more on ${dateText(on, language)}.`
      : `Keep it warm, rouse the yeast and read once more on ${dateText(on, language)}; if it lasts, check the hydrometer in water of 20\u00a0°C, or ferment a warm sample out.`,
  'warm and rouse': ({ on }, { language }) =>
    `Do not package it: warm it a few degrees inside the yeast’s band, rouse the yeast without letting air in, and read again on ${dateText(on, language)}.`,
  package: () => 'It can be packaged.',
  'use less sugar': ({ mass_g, name }, { units }) =>
    `Use at most ${measureText(massParts(Math.floor(mass_g), units))} of ${name}, or stronger bottles.`,
  'stronger bottles': () => 'Use stronger bottles.',
  'open one': ({ opened }) =>
    opened
      ? 'If any are left, keep them cool and covered, and open each chilled, wrapped in a towel, eyes protected.'
      : 'Keep them cool and covered, and open one after a week: chilled, wrapped in a towel, eyes protected.',
  danger: () => DANGER,
};

type By<Facts> = (facts: Facts, voice: Voice, level: Level) => string;

const causeWords = (cause: Cause, voice: Voice, level: Level): string =>
  (CAUSES[cause.code] as By<Cause>)(cause, voice, level);
const actWords = (act: Act, voice: Voice, level: Level): string =>
  (ACTS[act.code] as By<Act>)(act, voice, level);

/** A judgment in the brewer's units and language. */
export function judgmentWords({ key, level, cause, do: act }: Judgment, voice: Voice): JudgmentWords {
  return {
    key,
    level,
    cause: cause === null ? null : causeWords(cause, voice, level),
    do: act === null ? null : actWords(act, voice, level),
  };
}

/** Both sentences; empty where nothing is said. */
export const judgmentLine = (judgment: Judgment, voice: Voice): string => {
  const words = judgmentWords(judgment, voice);
  return [words.cause, words.do].filter((one) => one !== null).join(' ');
};

/** What is said of one reading, by its key in the plan; empty where nothing is. */
export function lineFor({ judgments }: Pick<Plan, 'judgments'>, key: string, voice: Voice): string {
  const found = judgments.find((one) => one.key === key);
  return found === undefined ? '' : judgmentLine(found, voice);
}

const isOfTheEnd = (key: string): boolean =>
  key === 'final_gravity' || (placeOf(key)?.of === 'fermentation' && kindAt(key) === 'gravity');

/** What is said of the fermentation: of its last gravity that anything is said of; null where nothing is. */
export const endJudgment = ({ judgments }: Pick<Plan, 'judgments'>): Judgment | null =>
  judgments.findLast(({ key, cause }) => isOfTheEnd(key) && cause !== null) ?? null;

/** Whether a judgment is about bottles that may be in danger. */
export const isOfBottles = ({ level, cause }: Judgment): boolean =>
  level !== 'calm' && (cause?.code === 'gas' || cause?.code === 'burst');
