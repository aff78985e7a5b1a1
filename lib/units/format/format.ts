/** Everything that turns a figure in an internal unit into the brewer's words. */
import type { Dimension, UnitSystem } from '../dimension.ts';
import * as amounts from './amounts.ts';
import { joined, type Parts } from './round.ts';
import * as scales from './scales.ts';

export * from './amounts.ts';
export { echoed, echoedSum, nonBreaking } from './echo.ts';
export type { Parts } from './round.ts';
export * from './scales.ts';

/** Number and unit of a figure whose dimension is known only at run time, rounded as that dimension's own. */
export function quantityParts(
  value: number,
  dimension: Dimension,
  units: UnitSystem,
  options?: amounts.FormatOptions,
): Parts {
  switch (dimension) {
    case 'mass':
      return amounts.massParts(value, units, options);
    case 'volume':
      return amounts.volumeParts(value, units, options);
    case 'time':
      return amounts.minutesParts(value, options);
    case 'temperature':
      return scales.temperatureParts(value, units, options);
    case 'temperatureDifference':
      return scales.temperatureDifferenceParts(value, units, options);
    case 'percent':
      return scales.percentParts(value, options);
    case 'colour':
      return scales.colourParts(value, units, options);
    case 'bitterness':
      return scales.ibuParts(value, options);
    case 'power':
      return scales.powerParts(value, options);
    case 'volumeRate':
      return scales.volumeRateParts(value, units, options);
    case 'absorption':
    case 'ratio':
      return scales.absorptionParts(value, units, options);
    case 'carbonation':
      return scales.volumesParts(value, options);
    case 'pressure':
      return scales.pressureParts(value, units, options);
    case 'altitude':
      return scales.altitudeParts(value, units, options);
    case 'dose':
      return scales.doseParts(value, units, options);
  }
}

/** A figure whose dimension is known only at run time. */
export function formatQuantity(
  value: number,
  dimension: Dimension,
  units: UnitSystem,
  options?: amounts.FormatOptions,
): string {
  return joined(quantityParts(value, dimension, units, options));
}

export interface RangeParts {
  readonly low: string;
  readonly high: string;
  readonly unit: string;
}

/**
 * The pieces of `1.052 to 1.058`. The formatter gets the value and the value like which it is to be printed, so
 * that both ends come in one unit: `formatRange(0.9, 1.2, (x, like) => volumeParts(x, 'metric', { like }))` is 0.9 to 1.2 L.
 * A formatter that does not heed it keeps each end's own unit: the low end then carries its unit with it.
 */
export function formatRange(
  low: number,
  high: number,
  formatter: (value: number, like: number) => Parts,
): RangeParts {
  const like = Math.max(Math.abs(low), Math.abs(high));
  const from = formatter(low, like);
  const to = formatter(high, like);
  return { low: from.unit === to.unit ? from.number : joined(from), high: to.number, unit: to.unit };
}

/** `1.052 to 1.058`, `17 to 21 °C`; one figure where both ends print alike. */
export function rangeText(range: RangeParts): string {
  const figures = range.low === range.high ? range.low : `${range.low} to ${range.high}`;
  return range.unit === '' ? figures : `${figures} ${range.unit}`;
}
