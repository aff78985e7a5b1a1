import { TARGET_KEYS, type TargetKey } from '../types/targets.ts';

/** One run of the model: every target by its index in `TARGET_KEYS`; in this array of numbers, NaN where one does not apply. */
export type Outcome = Float64Array;

export const TARGET_INDEX = Object.fromEntries(TARGET_KEYS.map((key, index) => [key, index])) as Readonly<
  Record<TargetKey, number>
>;

const EMPTY: Outcome = new Float64Array(TARGET_KEYS.length).fill(Number.NaN);

export function emptyOutcome(): Outcome {
  return EMPTY.slice();
}
