/** Finds beers by the words that a brewer wrote of them; nothing is asked of anybody. */
import type { SearchRow } from './page-data.ts';

/** A word or a figure, `1.038` whole. */
const WORD = /([\p{L}\p{N}\p{M}]+(?:[.,'’][\p{L}\p{N}\p{M}]+)*)/gu;

/** Letters as they are compared: without case and accents. */
const plain = (text: string): string => text.normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();
const wordsOf = (text: string): readonly string[] => text.match(WORD) ?? [];
const spaced = (text: string): string => ` ${wordsOf(plain(text)).join(' ')} `;

/** Row and words, those of the title first. */
export interface Searchable {
  readonly row: SearchRow;
  readonly texts: readonly string[];
}

export const searchable = (row: SearchRow): Searchable => {
  const [, title, , , names, said] = row;
  return { row, texts: [title, names, said].map(spaced) };
};

/** What a word is worth in the title, the names and what was said; whole words count twice. */
const WORTH = [9, 3, 1];
const worth = ({ texts }: Searchable, word: string): number =>
  texts.reduce((sum, text, i) => {
    const found = text.includes(` ${word} `) ? 2 : Number(text.includes(` ${word}`));
    return sum + found * (WORTH[i] ?? 1);
  }, 0);

/** An ending that may be left off where nothing has the word: *roasted* finds *roast*. */
const LONGEST_ENDING = 3;
const LEAST_LEFT = 4;

export interface Found {
  /** The best first; of equals in the order in which they came. */
  readonly rows: readonly SearchRow[];
  /** What was looked for, beginnings of words. */
  readonly wanted: readonly string[];
  /** Words that nothing has, as they were typed. */
  readonly not: readonly string[];
}

/** Beers with all of the words; the beginning of a word counts, since people search while they type. */
export function find(beers: readonly Searchable[], typed: string): Found {
  const has = (word: string): boolean => beers.some((beer) => worth(beer, word) > 0);
  const not: string[] = [];
  const wanted = wordsOf(typed).map((as) => {
    const word = plain(as);
    if (has(word)) return word;
    not.push(as);
    const shorter = Array.from({ length: LONGEST_ENDING }, (_, i) => word.slice(0, -1 - i));
    return shorter.find((one) => one.length >= LEAST_LEFT && has(one)) ?? word;
  });
  const found = beers.flatMap((beer) => {
    const each = wanted.map((word) => worth(beer, word));
    return each.includes(0) ? [] : [{ row: beer.row, sum: each.reduce((a, b) => a + b, 0) }];
  });
  return { rows: found.sort((a, b) => b.sum - a.sum).map(({ row }) => row), wanted, not };
}

const LONGEST = 220;
const BEFORE = 60;

/** A stretch of text around what was found, in pieces; true for those to be marked. */
export function excerpt(
  [, , , , names, said]: SearchRow,
  wanted: readonly string[],
): readonly (readonly [text: string, found: boolean])[] {
  const isWanted = (piece: string): boolean => wanted.some((word) => plain(piece).startsWith(word));
  const first = (text: string): number =>
    [...text.matchAll(WORD)].find(([word]) => isWanted(word))?.index ?? -1;
  const text = said !== '' && (first(said) >= 0 || first(names) < 0) ? said : names;
  const from = text.lastIndexOf(' ', Math.max(0, first(text) - BEFORE)) + 1;
  const end = text.length - from > LONGEST ? text.lastIndexOf(' ', from + LONGEST) : text.length;
  const part = text.slice(from, end > from ? end : from + LONGEST);
  return part.split(WORD).map((piece) => [piece, isWanted(piece)] as const);
}
