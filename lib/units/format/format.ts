/** Everything that turns a figure in an internal unit into the brewer's words. */
import type { Dimension, Units } from '../dimension.ts';
import { GRAMS_PER_OUNCE, GRAMS_PER_POUND, LITRES_PER_US_GALLON, LITRES_PER_US_QUART } from '../table.ts';
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

/** Weights and volumes of a US kitchen, the largest first. */
const US_SIZES = {
  mass: [
    ['lb', GRAMS_PER_POUND],
    ['oz', GRAMS_PER_OUNCE],
  ],
  volume: [
    ['gal', LITRES_PER_US_GALLON],
    ['qt', LITRES_PER_US_QUART],
    ['fl oz', LITRES_PER_US_GALLON / 128],
  ],
} as const;

/** An example of ours, not a figure of the brewer's: in US units it has two digits of one unit, `4 gal` for 15 L. */
export function formatSample(value: number, dimension: Dimension, units: Units): string {
  const exact = quantityParts(value, dimension, units);
  const same = exact.unit === quantityParts(value, dimension, 'metric').unit;
  if (same || dimension === 'temperature') return joined(exact);
  const sizes = dimension === 'mass' || dimension === 'volume' ? US_SIZES[dimension] : [];
  const [unit, size] = sizes.find(([, one]) => value >= one) ?? [exact.unit, null];
  const count = size === null ? Number(exact.number) : value / size;
  return joined({ number: String(Number(count.toPrecision(2))), unit });
}
