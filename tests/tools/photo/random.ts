/** Random numbers from a seed: the same seed, the same photographs. */
export interface Random {
  /** From 0 up to 1. */
  readonly unit: () => number;
  readonly between: (low: number, high: number) => number;
  /** A whole number from 0 up to but not including `end`. */
  readonly below: (end: number) => number;
  readonly chance: (probability: number) => boolean;
  readonly normal: (deviation: number) => number;
  readonly pick: <T>(from: readonly T[]) => T;
}

/** Mulberry32: a generator of 32 bits of state, good enough for pictures. */
export function randomFrom(seed: number): Random {
  let state = Math.imul(seed ^ 0x9e3779b9, 0x85ebca6b) | 0;
  const unit = (): number => {
    state = (state + 0x6d2b79f5) | 0;
    let t = Math.imul(state ^ (state >>> 15), 1 | state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 2 ** 32;
  };
  const below = (end: number): number => Math.floor(unit() * end);
  return {
    unit,
    below,
    between: (low, high) => low + unit() * (high - low),
    chance: (probability) => unit() < probability,
    normal: (deviation) => deviation * Math.sqrt(-2 * Math.log(1 - unit())) * Math.cos(2 * Math.PI * unit()),
    pick: (from) => from[below(from.length)]!,
  };
}
