/** What the simulated brewers counted, and what it is to be. */

/** Counts of what happened, by name. */
export class Tally {
  readonly #hits = new Map<string, number>();
  readonly #of = new Map<string, number>();
  readonly #z = new Map<
    string,
    { readonly number: number; readonly sum: number; readonly squares: number }
  >();
  readonly causes = new Map<string, number>();

  count(row: string, hit: boolean, recipe: string): void {
    for (const key of [row, `${row}\n${recipe}`]) {
      this.#of.set(key, (this.#of.get(key) ?? 0) + 1);
      if (hit) this.#hits.set(key, (this.#hits.get(key) ?? 0) + 1);
    }
  }

  cause(what: string): void {
    this.causes.set(what, (this.causes.get(what) ?? 0) + 1);
  }

  /** NaN where nothing was counted. */
  share(row: string, recipe: string | null = null): number {
    const key = recipe === null ? row : `${row}\n${recipe}`;
    return (this.#hits.get(key) ?? 0) / (this.#of.get(key) ?? Number.NaN);
  }

  number(row: string): number {
    return this.#of.get(row) ?? 0;
  }

  /** How far a figure was from what was told, in standard uncertainties. */
  distance(row: string, z: number): void {
    const sums = this.#z.get(row) ?? { number: 0, sum: 0, squares: 0 };
    this.#z.set(row, { number: sums.number + 1, sum: sums.sum + z, squares: sums.squares + z * z });
  }

  /** Mean and standard deviation of those distances. */
  distances(row: string): { readonly mean: number; readonly deviation: number } {
    const { number, sum, squares } = this.#z.get(row)!;
    const mean = sum / number;
    return { mean, deviation: Math.sqrt(squares / number - mean * mean) };
  }

  rows(start: string): readonly string[] {
    return [...this.#of.keys()].filter((key) => key.startsWith(start) && !key.includes('\n'));
  }
}

/** One figure that was measured, and what it is to be. */
export interface Row {
  readonly what: string;
  readonly share: number;
  readonly number: number;
  readonly least: number;
  readonly most: number;
  /** Of a range: distances in standard uncertainties. */
  readonly z?: { readonly mean: number; readonly deviation: number };
}

const WISHES: readonly (readonly [
  group: 'careful' | 'bad',
  what: string,
  row: string,
  least: number,
  most: number,
])[] = [
  ['careful', 'any act', 'act', 0, 0.01],
  ['careful', 'any look again of the day or the log', 'look again', 0, 0.05],
  ['careful', 'the first reading of the log marked', 'first reading marked', 0, 0.05],
  ['careful', 'bottles other than calm, packaged at the first finished or nearly', 'bottles', 0, 0.18],
  ['careful', 'bottles other than calm, read once more', 'bottles, read once more', 0, 0.1],
  ['bad', 'packaged with 6 points to go: act', 'early: act', 0.95, 1],
  ['bad', 'stalled 3 points high: bottles calm', 'stalled-3: calm', 0, 0.3],
  ['bad', 'stalled 3 points high: called finished', 'stalled-3: finished', 0, 0.3],
  ['bad', 'stalled 6 points high: bottles calm', 'stalled-6: calm', 0, 0.02],
  ['bad', 'stalled 6 points high: called finished', 'stalled-6: finished', 0, 0.02],
  ['bad', 'stalled 6 points high: bottles act', 'stalled-6: act', 0.7, 1],
  ['bad', 'sugar double: act', 'double: act', 0.99, 1],
  ['bad', 'sluggish, 3 to 5 points to go: called flat', 'sluggish: flat', 0, 0.2],
];
const HOLDS = { least: 0.93, most: 0.997 } as const;

/** What was asked for and could be measured. */
export function rowsOf(tally: Tally): Readonly<Record<'careful' | 'ranges' | 'bad', readonly Row[]>> {
  const of = (group: 'careful' | 'bad') =>
    WISHES.filter(([own, , row]) => own === group && tally.number(row) > 0).map(
      ([, what, row, least, most]): Row => ({
        what,
        share: tally.share(row),
        number: tally.number(row),
        least,
        most,
      }),
    );
  const ranges = ['planned ', 'as brewed '].flatMap((start) => tally.rows(start));
  return {
    careful: of('careful'),
    ranges: ranges.map((row) => ({
      what: row,
      share: tally.share(row),
      number: tally.number(row),
      ...HOLDS,
      z: tally.distances(row),
    })),
    bad: of('bad'),
  };
}

export const isMet = ({ share, least, most }: Row): boolean => share >= least && share <= most;
