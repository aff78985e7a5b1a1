/** Numbers that look random and are the same on every machine: mulberry32 (T. Ettinger, public domain; from memory). */
export function randomFrom(seed: number): { uniform(): number; normal(mean: number, u: number): number } {
  let state = seed >>> 0;
  const uniform = (): number => {
    state = (state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(state ^ (state >>> 15), state | 1);
    t = (t + Math.imul(t ^ (t >>> 7), t | 61)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  // Box & Muller 1958.
  const normal = (mean: number, u: number): number =>
    mean + u * Math.sqrt(-2 * Math.log(1 - uniform())) * Math.cos(2 * Math.PI * uniform());
  return { uniform, normal };
}
