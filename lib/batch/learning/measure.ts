/** A result worked back from readings, with everything that it is uncertain by. */
import { inRange } from '../../formulas/range.ts';
import { combine } from '../../formulas/uncertainty.ts';
import type { Case } from '../model/model-input.ts';
import type { Doubt } from '../types/learning.ts';
import type { Input } from '../uncertainty/inputs.ts';

/** A reading that goes into a result: its value, its own standard uncertainty, its name. */
export interface ReadingInput {
  readonly name: string;
  readonly value: number;
  readonly u: number;
  /** True where every batch is out by the same. */
  readonly shared?: boolean;
}

export interface Measured {
  readonly value: number;
  readonly u: number;
  readonly doubts: readonly Doubt[];
}

/**
 * A result and its uncertainty from readings and from the case's own uncertain inputs.
 *
 * Formula: each input is moved by one standard uncertainty up and down; half the difference of the results is its
 *   effect; u² = Σ effect².
 * Source: JCGM 100:2008 (GUM), 5.1.2 and the numerical form of 5.1.3, note 2.
 * Range: as the function's own; what the function finds out of range, or a result that is no number, gives null.
 * Cases: tests/batch/learning/worked-back.test.ts.
 *
 * @param inputs of the case; they are shared by all batches
 */
export function measure(
  readings: readonly ReadingInput[],
  c: Case,
  inputs: readonly Input[],
  result: (values: readonly number[], c: Case) => number,
): Measured | null {
  const values = readings.map(({ value }) => value);
  return inRange(() => {
    const value = result(values, c);
    const doubts: Doubt[] = [];
    readings.forEach(({ name, u, shared }, i) => {
      const moved = (change: number) => {
        const other = [...values];
        other[i] = values[i]! + change;
        return result(other, c);
      };
      if (u > 0) doubts.push({ input: name, effect: (moved(u) - moved(-u)) / 2, shared: shared ?? false });
    });
    const own = { ...c };
    for (const input of inputs) {
      const moved = (change: number) => input.moved(own, change, (now) => result(values, now));
      const effect = (moved(input.u) - moved(-input.u)) / 2;
      if (effect !== 0) doubts.push({ input: input.label, effect, shared: true });
    }
    // An effect that is no number is refused here.
    const u = combine(doubts.map(({ effect }) => effect));
    return u > 0 && Number.isFinite(value) ? { value, u, doubts } : null;
  });
}
