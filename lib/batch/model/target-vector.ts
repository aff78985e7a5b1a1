import { TARGET_KEYS, type TargetKey } from '../types/targets.ts';

/**
 * One run of the model: every target by its index in `TARGET_KEYS`, NaN where one does not apply. Plain, as a typed array costs more to
 * make than to fill.
 */
export type Outcome = number[];

export const TARGET_INDEX = Object.fromEntries(TARGET_KEYS.map((key, index) => [key, index])) as Readonly<
  Record<TargetKey, number>
>;

const EMPTY: Outcome = TARGET_KEYS.map(() => Number.NaN);

export function emptyOutcome(): Outcome {
  return EMPTY.slice();
}
