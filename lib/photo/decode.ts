import { EMPTY, OTHER } from './net.ts';
import type { PhotoField, PhotoGroup } from './strip.ts';

/** Digits that are possible at all. Never the planned range: it would hide the deviation the sheet is there to show. */
const POSSIBLE = {
  clock: /^([ 01]\d|2[0-3])[0-5]\d$/,
  /** A hydrometer reads from 0.900 to 1.199. */
  gravity: /^(09|10|11)\d\d$/,
  day: /^([ 0][1-9]|[12]\d|3[01])$/,
  /** Tenths, of five. */
  score: /^([ 0-4]\d|50)$/,
  /** A leading box may stay empty, a hole inside a number is a doubt. */
  other: /^ *\d+$/,
} as const;
/** Classes of each box that are tried together. */
const TRIED = 4;
/** What is no digit so surely is not read as one, however the next best digit looks. */
const NO_DIGIT = 0.75;

function possible(kind: PhotoField['kind'], part: PhotoGroup['part'], length: number): RegExp {
  if (part === 'clock' || (kind === 'clock' && length === 4)) return POSSIBLE.clock;
  if (part === 'day') return POSSIBLE.day;
  if (kind === 'gravity' && part === 'value' && length === 4) return POSSIBLE.gravity;
  if (kind === 'score' && length === 2) return POSSIBLE.score;
  return POSSIBLE.other;
}

export interface Guess {
  /** One sign a digit box, a space for an empty one; null where the ink is no possible number. */
  readonly digits: string | null;
  /** Probability of these digits by the network, 0 to 1. Not yet earned on real pages: nobody may call it sure. */
  readonly probability: number;
}

/** The most likely possible number in the boxes of one group, from each box's probabilities by `classify`. */
export function decode(
  kind: PhotoField['kind'],
  part: PhotoGroup['part'],
  boxes: readonly (readonly number[])[],
): Guess {
  const rule = possible(kind, part, boxes.length);
  const none = { digits: null, probability: 0 };
  if (boxes.some((classes) => classes[OTHER]! > NO_DIGIT)) return none;
  let guesses = [{ digits: '', probability: 1 }];
  for (const classes of boxes) {
    const tried = classes
      .slice(0, EMPTY + 1)
      .map((probability, sign) => ({ probability, sign: sign === EMPTY ? ' ' : String(sign) }))
      .sort((a, b) => b.probability - a.probability)
      .slice(0, TRIED);
    guesses = guesses.flatMap(({ digits, probability }) =>
      tried.map((one) => ({ digits: digits + one.sign, probability: probability * one.probability })),
    );
  }
  return guesses
    .filter(({ digits }) => rule.test(digits) || digits.trim() === '')
    .reduce<Guess>((best, one) => (one.probability > best.probability ? one : best), none);
}

/** A guess with the printed signs in their places, as it is keyed in: `1.048`, `9:05`; empty for empty boxes. */
export function textOf({ cells }: PhotoGroup, digits: string): string {
  if (digits.trim() === '') return '';
  let at = 0;
  const text = cells
    .filter(({ kind }) => kind === 'digit' || kind === 'sign')
    .map(({ kind, text: sign }) => (kind === 'digit' ? (digits[at++] ?? '') : sign));
  return text.join('').trim();
}
