/** Chance that is the same for the same seed. */
export interface Random {
  /** From 0 to 1, without 1. */
  next(): number;
  /** A whole number from 0 to `count`, without `count`. */
  below(count: number): number;
  pick<T>(list: readonly T[]): T;
  chance(share: number): boolean;
}

/** A sequence of its own for each seed (mulberry32, Tommy Ettinger 2017, public domain). */
export function seeded(seed: number): Random {
  let state = seed >>> 0;
  const next = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4_294_967_296;
  };
  const below = (count: number): number => Math.floor(next() * count);
  return {
    next,
    below,
    pick: (list) => {
      const one = list[below(list.length)];
      if (one === undefined) throw new RangeError('nothing to pick from');
      return one;
    },
    chance: (share) => next() < share,
  };
}
