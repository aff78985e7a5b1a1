/** Number and unit apart, so that a template can set them apart; the unit is empty for a gravity. */
export interface Parts {
  readonly number: string;
  readonly unit: string;
}

/** Throws a RangeError for a value that is not finite: a bug, not a brewer's mistake. */
export function mustBeFinite(value: number, what: string): void {
  if (!Number.isFinite(value)) throw new RangeError(`${what} must be a finite number, not ${value}`);
}

/**
 * A number rounded to so many decimals, halves away from zero as its shortest decimal text shows them (1.0475 is
 * 1.048), so that binary fractions surprise nobody on paper.
 */
export function roundTo(value: number, decimals: number): number {
  const size = Math.abs(value);
  // Far from a half, and from where numbers are written with an exponent, arithmetic gives the same.
  const scaled = size * 10 ** decimals;
  const whole = Math.round(scaled);
  if (size > 1e-6 && scaled < 1e9 && Math.abs(scaled - whole) < 0.4999)
    return (value < 0 ? 0 - whole : whole) / 10 ** decimals;
  const text = String(size);
  if (text.includes('e')) return Number(value.toFixed(decimals));
  const rounded = Number(`${Math.round(Number(`${text}e${decimals}`))}e-${decimals}`);
  return value < 0 ? 0 - rounded : rounded;
}

export const MINUS = '\u2212';

/** Rounded to exactly so many decimals, `1.050`; never `.5`, never `-0`; a true minus sign. */
export function fixed(value: number, decimals: number): string {
  const text = roundTo(Math.abs(value), decimals).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}

/** Rounded to at most so many decimals, without trailing zeros: `1.5`, `2`. */
export function trimmed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  return text.includes('.') ? text.replace(/\.?0+$/, '') : text;
}

/** How many decimals a printed step has: two of 0.05. */
export function placesOf(step: number): number {
  const places = [1, 0.1, 0.01, 0.001].findIndex(
    (place) => Math.abs(step / place - Math.round(step / place)) < 1e-6,
  );
  return places < 0 ? 4 : places;
}

/** Rounded to a printed step, without trailing zeros. */
export const stepped = (value: number, step: number): string =>
  trimmed(Math.round(value / step) * step, placesOf(step));

/** Room for rounding noise, as a share of a step, so that 0.30000000000000004 is not rounded outward to 0.4. */
const NOISE = 1e-3;

/** The two ends of a range, moved outward to whole steps; an end already on a step stays there. */
export function outward(low: number, high: number, step: number): { low: number; high: number } {
  return {
    low: Math.floor(low / step + NOISE) * step,
    high: Math.ceil(high / step - NOISE) * step,
  };
}

export function joined(parts: Parts): string {
  return parts.unit === '' ? parts.number : `${parts.number} ${parts.unit}`;
}
