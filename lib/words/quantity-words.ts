/** Words of a text, figures with their units as one word each, to be compared by what they mean. */
import { DIMENSIONS, type Dimension, parseQuantity, parseRange } from '../units/parse/parse.ts';

/** A word as it is written, and what it is compared by. */
export interface Word {
  readonly text: string;
  readonly key: string;
}

const NUMBER = /^[-−]?\d[\d.,]*(?:[-–][-−]?\d[\d.,]*)?/;
/** What may stand behind a figure without being part of it. */
const STOP = /[.,;:!?)]*$/;

/** What a figure with its unit means; null where it is none, or could mean two things. */
function meaning(text: string): string | null {
  for (const dimension of Object.keys(DIMENSIONS) as Dimension[]) {
    const one = parseQuantity(text, dimension, { units: 'metric' });
    if (one.ok && one.value.u === null) return `${dimension} ${settled(one.value.value)}`;
    const range = parseRange(text, dimension, { units: 'metric' });
    if (range.ok) return `${dimension} ${settled(range.value.low)} to ${settled(range.value.high)}`;
  }
  return null;
}

/** Nobody writes a seventh digit: what differs there is the sum of two units. */
const settled = (value: number): string => String(Number(value.toPrecision(6)));

const known = new Map<string, string | null>();
/** As many figures as a pair of batches has, many times over. */
const MOST_KNOWN = 5000;

function meaningOf(text: string): string | null {
  const before = known.get(text);
  if (before !== undefined) return before;
  if (known.size > MOST_KNOWN) known.clear();
  const found = meaning(text);
  known.set(text, found);
  return found;
}

/** One word or two as a quantity, with what stands behind it. */
function quantity(text: string): Word | null {
  const stop = STOP.exec(text)?.[0] ?? '';
  const found = meaningOf(text.slice(0, text.length - stop.length));
  return found === null ? null : { text, key: `\u0000${found}${stop}` };
}

/** Words, figures with their units together, and the ends of lines as words of their own. */
export function wordsOf(text: string): readonly Word[] {
  const all = text
    .replaceAll(/ *\n */g, ' \n ')
    .split(' ')
    .filter((word) => word !== '');
  const out: Word[] = [];
  for (let i = 0; i < all.length; i++) {
    const word = all[i]!;
    const next = all[i + 1];
    if (!NUMBER.test(word)) {
      out.push({ text: word, key: word });
      continue;
    }
    const two =
      next === undefined || next === '\n' || NUMBER.exec(word)?.[0] !== word
        ? null
        : quantity(`${word} ${next}`);
    if (two !== null) i++;
    out.push(two ?? quantity(word) ?? { text: word, key: word });
  }
  return out;
}
