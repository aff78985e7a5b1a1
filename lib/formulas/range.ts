/**
 * Throws unless a quantity is a finite number between two bounds, both allowed.
 *
 * The name carries the unit (`extract in °P`), so that the message can be read without the code. Throws
 * RangeError, also for NaN and the infinities.
 */
export function requireWithin(name: string, value: number, low: number, high: number): void {
  if (!(value >= low && value <= high)) {
    throw new RangeError(`${name} must be from ${short(low)} to ${short(high)}, not ${short(value)}`);
  }
}

/** Bounds that were computed have sixteen digits; a reader needs six. */
function short(bound: number): string {
  return String(Number(bound.toPrecision(6)));
}
