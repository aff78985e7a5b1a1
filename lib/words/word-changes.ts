import { type Word, wordsOf } from './quantity-words.ts';

/** A stretch of words that two texts share, or that only one of them has. */
export interface WordRun {
  readonly mark: 'same' | 'gone' | 'new';
  readonly text: string;
}

/** What differs is compared up to so many pairs of words, some twenty milliseconds; what is more is taken as changed whole. */
const MOST_PAIRS = 2_000_000;

/** Length of the longest common run of words from each pair of places on, by dynamic programming. */
function commonLengths(was: readonly Word[], is: readonly Word[]): readonly Uint16Array[] {
  const table = Array.from({ length: was.length + 1 }, () => new Uint16Array(is.length + 1));
  for (let i = was.length - 1; i >= 0; i--)
    for (let j = is.length - 1; j >= 0; j--)
      table[i]![j] =
        was[i]!.key === is[j]!.key
          ? table[i + 1]![j + 1]! + 1
          : Math.max(table[i + 1]![j]!, table[i]![j + 1]!);
  return table;
}

type Put = (mark: WordRun['mark'], words: readonly Word[]) => void;

/** Marks two lists that begin and end with different words. */
function putMiddle(was: readonly Word[], is: readonly Word[], put: Put): void {
  if (was.length * is.length > MOST_PAIRS) {
    put('gone', was);
    put('new', is);
    return;
  }
  const table = commonLengths(was, is);
  let i = 0;
  let j = 0;
  while (i < was.length || j < is.length) {
    if (i < was.length && j < is.length && was[i]!.key === is[j]!.key) {
      put('same', [is[j]!]);
      i++;
      j++;
    } else if (j >= is.length || (i < was.length && table[i + 1]![j]! >= table[i]![j + 1]!))
      put('gone', [was[i++]!]);
    else put('new', [is[j++]!]);
  }
}

/**
 * What changed from one text to another, word by word: the longest common subsequence stays, as the second text writes it, and the
 * rest is marked. Figures are compared by what they mean: `15g` is `15 g`.
 */
export function wordChanges(before: string, after: string): readonly WordRun[] {
  const was = wordsOf(before);
  const is = wordsOf(after);
  const runs: { mark: WordRun['mark']; words: string[] }[] = [];
  const put: Put = (mark, words) => {
    const last = runs.at(-1);
    if (words.length === 0) return;
    if (last?.mark === mark) for (const { text } of words) last.words.push(text);
    else runs.push({ mark, words: words.map(({ text }) => text) });
  };
  const least = Math.min(was.length, is.length);
  let first = 0;
  while (first < least && was[first]!.key === is[first]!.key) first++;
  let last = 0;
  while (last < least - first && was.at(-1 - last)?.key === is.at(-1 - last)?.key) last++;
  put('same', is.slice(0, first));
  putMiddle(was.slice(first, was.length - last), is.slice(first, is.length - last), put);
  put('same', is.slice(is.length - last));
  return runs.map(({ mark, words }) => ({ mark, text: words.join(' ') }));
}
