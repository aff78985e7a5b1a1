/** Which units everything computed is shown in; what the brewer wrote stays as written. */
export type Units = 'metric' | 'us';

/** How a brewer is spoken to: in which units, and in which English (BCP 47). */
export interface Voice {
  readonly units: Units;
  readonly language: string;
}

/** Room for rounding noise, as a share of a step, so that 0.30000000000000004 is not rounded outward to 0.4. */
const NOISE = 1e-3;

const PLACES = [1, 0.1, 0.01, 0.001, 0.0001];

function placesOf(step: number): number {
  const places = PLACES.findIndex((place) => Math.abs(step / place - Math.round(step / place)) < 1e-6);
  return places < 0 ? 4 : places;
}

/** An amount to its printed step, in plain digits: 0.5 and never .5, no trailing zeros, a true minus sign. */
export function amountNumber(value: number, step: number): string {
  const rounded = Math.round(value / step) * step;
  const text = rounded
    .toFixed(placesOf(step))
    .replace(/(\.\d*?)0+$/, '$1')
    .replace(/\.$/, '');
  return text === '-0' ? '0' : text.replace('-', '−');
}

/** A reading to a fixed number of decimals, as an instrument shows it: 1.040 keeps its last zero. */
export function fixedNumber(value: number, decimals: number): string {
  const text = value.toFixed(decimals);
  return Number(text) === 0 ? text.replace('-', '') : text.replace('-', '−');
}

/** The two ends of a range, moved outward to whole steps; an end already on a step stays there. */
export function outward(low: number, high: number, step: number): { low: number; high: number } {
  return {
    low: Math.floor(low / step + NOISE) * step,
    high: Math.ceil(high / step - NOISE) * step,
  };
}
