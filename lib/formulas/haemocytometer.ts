/** Yeast counted under a microscope. */
import { requireWithin } from './range.ts';

/** Depth of the liquid over the grid of a Neubauer chamber, mm. */
const CHAMBER_DEPTH_mm = 0.1;

/**
 * Living cells in a slurry from the cells counted on a haemocytometer's grid.
 *
 * Formula: count / (squares × area × depth) × dilution, depth 0.1 mm; a thousand cells in a mm³ are a million in a mL.
 * Source: common practice, no source; a square of 1 mm² holds 1e-4 mL.
 * Range: 0 to 1e5 cells, 1 to 1000 squares of 0.001 to 10 mm², diluted 1 to 1e6 times; result in millions per mL; RangeError
 *   outside. Counting alone leaves a standard uncertainty of the root of the count (Poisson).
 * Cases: tests/formulas/yeast.cases.ts.
 */
export function cellsHaemocytometer_million_per_mL(of: {
  count: number;
  squares: number;
  square_mm2: number;
  dilution: number;
}): number {
  requireWithin('cells counted', of.count, 0, 1e5);
  requireWithin('squares counted', of.squares, 1, 1000);
  requireWithin('area of a square in mm²', of.square_mm2, 0.001, 10);
  requireWithin('dilution', of.dilution, 1, 1e6);
  const counted_mm3 = of.squares * of.square_mm2 * CHAMBER_DEPTH_mm;
  return ((of.count / counted_mm3) * of.dilution) / 1000;
}
