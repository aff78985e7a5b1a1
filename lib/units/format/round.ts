/** Number and unit apart, so that a template can set them apart; the unit is empty for a gravity. */
export interface Parts {
  readonly number: string;
  readonly unit: string;
}

export function mustBeFinite(value: number, what: string): void {
  if (!Number.isFinite(value)) throw new RangeError(`${what} must be a finite number, not ${value}`);
}

/**
 * A number rounded to so many decimals, halves away from zero as its shortest decimal text shows them (1.0475 is
 * 1.048), so that binary fractions surprise nobody on paper.
 */
export function roundTo(value: number, decimals: number): number {
  const size = Math.abs(value);
  const text = String(size);
  if (text.includes('e')) return Number(value.toFixed(decimals));
  const rounded = Number(`${Math.round(Number(`${text}e${decimals}`))}e-${decimals}`);
  return value < 0 ? 0 - rounded : rounded;
}

const MINUS = '\u2212';

/** Rounded to exactly so many decimals, `1.050`; never `.5`, never `-0`; a true minus sign. */
export function fixed(value: number, decimals: number): string {
  const text = roundTo(Math.abs(value), decimals).toFixed(decimals);
  return value < 0 && Number(text) !== 0 ? `${MINUS}${text}` : text;
}

/** Rounded to at most so many decimals, without trailing zeros: `1.5`, `2`. */
export function trimmed(value: number, decimals: number): string {
  const text = fixed(value, decimals);
  if (!text.includes('.')) return text;
  let end = text.length;
  while (text[end - 1] === '0') end--;
  if (text[end - 1] === '.') end--;
  return text.slice(0, end);
}

export function joined(parts: Parts): string {
  return parts.unit === '' ? parts.number : `${parts.number} ${parts.unit}`;
}
