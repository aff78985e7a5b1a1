/** A figure outside the range of its formula: the one fault that planning expects. */
export class OutOfRange extends RangeError {}

/** What is computed; null where a figure leaves the range of its formula. Any other fault is a bug, and is thrown. */
export function inRange<R>(compute: () => R): R | null {
  try {
    return compute();
  } catch (error) {
    if (error instanceof OutOfRange) return null;
    throw error;
  }
}

/**
 * Throws unless a quantity is a finite number between two bounds, both allowed.
 *
 * The name carries the unit (`extract in °P`), so that the message can be read without the code. Throws
 * `OutOfRange`, also for NaN and the infinities.
 */
export function requireWithin(name: string, value: number, low: number, high: number): void {
  if (!(value >= low && value <= high)) {
    throw new OutOfRange(`${name} must be from ${short(low)} to ${short(high)}, not ${short(value)}`);
  }
}

/** Bounds that were computed have sixteen digits; a reader needs six. */
function short(bound: number): string {
  return String(Number(bound.toPrecision(6)));
}
