/** A stretch of words that two texts share, or that only one of them has. */
export interface WordRun {
  readonly mark: 'same' | 'gone' | 'new';
  readonly text: string;
}

/** Lines of a recipe are short; what is longer is taken as changed whole. */
const MOST_WORDS = 400;

/** Length of the longest common run of words from each pair of places on, by dynamic programming. */
function commonLengths(was: readonly string[], is: readonly string[]): readonly Uint16Array[] {
  const table = Array.from({ length: was.length + 1 }, () => new Uint16Array(is.length + 1));
  for (let i = was.length - 1; i >= 0; i--)
    for (let j = is.length - 1; j >= 0; j--)
      table[i]![j] =
        was[i] === is[j] ? table[i + 1]![j + 1]! + 1 : Math.max(table[i + 1]![j]!, table[i]![j + 1]!);
  return table;
}

/** What changed from one text to another, word by word: the longest common subsequence stays, the rest is marked. */
export function wordChanges(before: string, after: string): readonly WordRun[] {
  const was = before.split(' ').filter((word) => word !== '');
  const is = after.split(' ').filter((word) => word !== '');
  if (Math.max(was.length, is.length) > MOST_WORDS)
    return [
      { mark: 'gone', text: before },
      { mark: 'new', text: after },
    ];
  const table = commonLengths(was, is);
  const runs: { mark: WordRun['mark']; words: string[] }[] = [];
  const put = (mark: WordRun['mark'], word: string): void => {
    const last = runs.at(-1);
    if (last?.mark === mark) last.words.push(word);
    else runs.push({ mark, words: [word] });
  };
  let i = 0;
  let j = 0;
  while (i < was.length || j < is.length) {
    if (i < was.length && j < is.length && was[i] === is[j]) {
      put('same', was[i]!);
      i++;
      j++;
    } else if (j >= is.length || (i < was.length && table[i + 1]![j]! >= table[i]![j + 1]!))
      put('gone', was[i++]!);
    else put('new', is[j++]!);
  }
  return runs.map(({ mark, words }) => ({ mark, text: words.join(' ') }));
}
