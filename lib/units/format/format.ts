/** Everything that turns a figure in an internal unit into the brewer's words. */
import type { Dimension, Units } from '../dimension.ts';
import { massParts, minutesParts, volumeParts } from './amounts.ts';
import { joined, type Parts } from './round.ts';
import { scaledParts } from './scales.ts';

export * from './amounts.ts';
export { breaking, echoed, echoedSum, nonBreaking } from './echo.ts';
export { fixed, joined, outward, type Parts, stepped } from './round.ts';
export * from './scales.ts';

/** Number and unit of a figure whose dimension is known only at run time, rounded as that dimension's own. */
export function quantityParts(value: number, dimension: Dimension, units: Units): Parts {
  switch (dimension) {
    case 'mass':
      return massParts(value, units);
    case 'volume':
      return volumeParts(value, units);
    case 'time':
      return minutesParts(value);
    default:
      return scaledParts(dimension === 'ratio' ? 'absorption' : dimension, value, units);
  }
}

/** A figure whose dimension is known only at run time. */
export const formatQuantity = (value: number, dimension: Dimension, units: Units): string =>
  joined(quantityParts(value, dimension, units));
