/** Everything that reads what a brewer wrote. Nothing here throws; nothing here guesses. */

export { UNIT_PROBLEMS, type UnitCode } from '../codes.ts';
export { DIMENSIONS, type Dimension } from '../dimension.ts';
export { parseAmount, parseCells, parseKitBitterness } from './amount.ts';
export { parseClock, parseDate, parseMoment } from './clock.ts';
export { parseGravity, parseVolumeReading } from './gravity.ts';
export { parseQuantity, parseRange } from './quantity.ts';
