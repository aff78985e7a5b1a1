/**
 * The number of single-letter slips between two words: one missing, one too many, one wrong, or two neighbours
 * swapped. Optimal string alignment (Damerau 1964, Commun. ACM 7:171; Levenshtein 1966), whole numbers from 0.
 */
export function slips(a: string, b: string): number {
  const from = Array.from(a);
  const to = Array.from(b);
  let beforeLast: number[] = [];
  let last = Array.from({ length: to.length + 1 }, (_, j) => j);
  for (let i = 1; i <= from.length; i++) {
    const row = [i];
    for (let j = 1; j <= to.length; j++) {
      const same = from[i - 1] === to[j - 1] ? 0 : 1;
      let least = Math.min((last[j] ?? 0) + 1, (row[j - 1] ?? 0) + 1, (last[j - 1] ?? 0) + same);
      if (i > 1 && j > 1 && from[i - 1] === to[j - 2] && from[i - 2] === to[j - 1]) {
        least = Math.min(least, (beforeLast[j - 2] ?? 0) + 1);
      }
      row.push(least);
    }
    beforeLast = last;
    last = row;
  }
  return last[to.length] ?? 0;
}

function plain(word: string): string {
  return word
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .trim();
}

/** Long texts are no slips of the pen, and comparing them would take long. */
const LONGEST_WORD = 80;

/**
 * The candidates that a mistyped word is most likely meant for, nearest first, at most `max` (3). Case, spaces,
 * hyphens and underscores do not count; a third of the letters may be wrong, and a word that begins or ends a candidate
 * is near too. Empty where none is near.
 */
export function nearest(word: string, candidates: Iterable<string>, max = 3): readonly string[] {
  const wanted = plain(word);
  if (wanted === '' || wanted.length > LONGEST_WORD) return [];
  const allowed = Math.max(1, Math.floor(wanted.length / 3));
  const found: { readonly candidate: string; readonly distance: number }[] = [];
  for (const candidate of new Set(candidates)) {
    const other = plain(candidate);
    if (Math.abs(other.length - wanted.length) <= allowed) {
      const distance = slips(wanted, other);
      if (distance <= allowed && distance < wanted.length) {
        found.push({ candidate, distance });
        continue;
      }
    }
    const contained = other.startsWith(wanted) || other.endsWith(wanted);
    if (contained && wanted.length >= 4) found.push({ candidate, distance: allowed + 1 });
  }
  found.sort((a, b) => a.distance - b.distance || a.candidate.length - b.candidate.length);
  return found.slice(0, max).map((f) => f.candidate);
}

/** `did you mean "kg" or "g"?`, or an empty text where no candidate is near. */
export function didYouMean(word: string, candidates: Iterable<string>, max = 2): string {
  const near = nearest(word, candidates, max).map((c) => `"${c}"`);
  return near.length === 0 ? '' : `did you mean ${near.join(' or ')}?`;
}
