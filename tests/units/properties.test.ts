import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Units } from '../../lib/units/dimension.ts';
import * as format from '../../lib/units/format/format.ts';
import {
  DIMENSIONS,
  type Dimension,
  parseGravity,
  parseQuantity,
  UNIT_PROBLEMS,
} from '../../lib/units/parse/parse.ts';
import { type Reader, read } from './reading.cases.ts';

const systems = fc.constantFrom<Units>('metric', 'us');

const OUNCE = 28.349523125;
const GALLON = 3.785411784;
const QUART_PER_POUND = GALLON / 4 / 0.45359237;
const ounces = (v: number) => (v < 4536 ? 0.1 : 1) * OUNCE;

/** The last digit printed, in the internal unit; printing may lose half of it. */
type Printed = readonly [
  Dimension,
  Units,
  low: number,
  high: number,
  step: number | ((value: number) => number),
];
const PRINTED: readonly Printed[] = [
  ['mass', 'metric', 0, 50_000, (v) => (v < 10 ? 0.1 : v < 1000 ? 1 : 10)],
  ['mass', 'us', 0, 50_000, ounces],
  ['volume', 'metric', 0, 60, (v) => (v < 0.05 ? 0.001 : v < 0.5 ? 0.01 : v < 1 ? 0.05 : 0.1)],
  ['volume', 'us', 0, 60, (v) => (v < GALLON / 4 ? GALLON / 128 : GALLON / 16)],
  ['temperature', 'metric', -30, 110, 1],
  ['temperature', 'us', -30, 110, 5 / 9],
  ['temperatureDifference', 'us', 0, 50, 0.5 / 9],
  ['time', 'metric', 0, 2879, 1],
  ['time', 'us', 2880, 500_000, 144],
  ['percent', 'us', 0, 1, 0.001],
  ['colour', 'metric', 0, 1500, 1],
  ['bitterness', 'us', 0, 150, 1],
  ['power', 'us', 0, 10, 0.1],
  ['volumeRate', 'metric', 0, 10, 0.1],
  ['volumeRate', 'us', 0, 10, GALLON / 100],
  ['absorption', 'metric', 0, 10, 0.1],
  ['absorption', 'us', 0, 10, 0.01 * QUART_PER_POUND],
  ['carbonation', 'metric', 0, 6, 0.1],
  ['pressure', 'metric', 0, 700, 10],
  ['pressure', 'us', 0, 700, 6.894757293],
  ['altitude', 'metric', -400, 4000, 1],
  ['altitude', 'us', -400, 4000, 0.3048],
  ['dose', 'metric', 0, 100, 0.01],
  ['dose', 'us', 0, 100, 1000 / 128 / 100],
  ['ratio', 'us', 0, 10, 0.01 * QUART_PER_POUND],
];

test.each(PRINTED)('%s as printed in %s units is read back within half of its last digit', (...row) => {
  const [dimension, units, min, max, of] = row;
  const step = (value: number) => (typeof of === 'number' ? of : of(value));
  fc.assert(
    fc.property(fc.double({ min, max, noNaN: true }), (value) => {
      const text = format.formatQuantity(value, dimension, units);
      const read = parseQuantity(text, dimension, { units });
      if (!read.ok) throw new Error(`${text}: ${read.code}`);
      // A figure just under a limit of the steps may be printed with the coarser one.
      const allowed = Math.max(step(value), step(value * 1.01)) * (0.5 + 1e-9) + 1e-12;
      expect(Math.abs(read.value.value - value), text).toBeLessThanOrEqual(allowed);
    }),
  );
});

test('printed gravities are read back within half a point', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.99, max: 1.15, noNaN: true }), (sg) => {
      const read = parseGravity(format.formatGravity(sg));
      if (!read.ok) throw new Error(read.code);
      expect(Math.abs(read.value.value - sg)).toBeLessThanOrEqual(0.0005 + 1e-12);
    }),
  );
});

test('no amount ends in a zero behind its point or begins with the point', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1000, max: 100_000, noNaN: true }),
      fc.constantFrom(...(Object.keys(DIMENSIONS) as Dimension[])),
      systems,
      (value, dimension, units) => {
        const { number } = format.quantityParts(value, dimension, units);
        expect(number).toMatch(/^\u2212?\d+(?:\.\d*[1-9])?(?: (?:lb|h|gal) \d+(?:\.\d*[1-9])?)?$/);
        expect(number).not.toMatch(/^\u22120$/);
      },
    ),
  );
});

const PIECES = [
  ...'0123456789.,/-–−±@%°½ \u00a0:+eExX_#"\'',
  ...[
    'g',
    'kg',
    ' lb ',
    ' oz',
    'gal',
    'us ',
    'imp ',
    'L/h',
    ' per ',
    'C',
    'F',
    '+/-',
    ' to ',
    ' in ',
    ' for ',
  ],
  ...['IBU', 'billion', 'NaN', 'Infinity', '__proto__', 'constructor', '1 lb 4 oz', '\u{1f37a}', '\ud800'],
];
const garbage = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc.array(fc.constantFrom(...PIECES), { maxLength: 60 }).map((pieces) => pieces.join('')),
);

const READERS: readonly Reader[] = [
  ...(Object.keys(DIMENSIONS) as Dimension[]),
  ...([
    'syrup',
    'range',
    'gravity',
    'volume reading',
    'amount',
    'cells',
    'kit',
    'clock',
    'date',
    'moment',
  ] as const),
];
const readAll = (text: string, units: Units) => READERS.map((by) => read(text, by, units));

test('nonsense is never thrown back, and each fault has a listed code', () => {
  fc.assert(
    fc.property(garbage, systems, (text, units) => {
      for (const result of readAll(text, units)) {
        if (!result.ok) expect(UNIT_PROBLEMS).toHaveProperty([result.code]);
      }
    }),
    { numRuns: 300 },
  );
});

/** Nearly right texts: a number, real or broken, with the unit of some dimension, real or mistyped. */
const nearlyRight = fc
  .tuple(
    fc.constantFrom('', '', '', '-', '±', '~'),
    fc.oneof(
      fc.integer({ min: 0, max: 20_000 }).map((n) => String(n / 100)),
      fc.double({ min: 0, max: 1e9, noNaN: true }).map(String),
      fc.constantFrom('1/2', '2 1/2', '1½', '1,5', '1,500', '0', '1.', '9'.repeat(60)),
    ),
    fc.constantFrom('', ' ± 0.1', ' ± 5 %', '-20', ' '),
    fc.constantFrom(
      ...Object.values(DIMENSIONS).flatMap(({ written }) => [...written.metric.likely, ...written.us.likely]),
      'zork',
      'imp gal',
      '',
    ),
  )
  .map((pieces) => pieces.join(''));

test('what is read is finite and inside the limits of its dimension', () => {
  let reads = 0;
  fc.assert(
    fc.property(fc.oneof(nearlyRight, garbage), systems, (text, units) => {
      for (const dimension of Object.keys(DIMENSIONS) as Dimension[]) {
        const read = parseQuantity(text, dimension, { units });
        if (!read.ok) continue;
        reads++;
        expect(read.value.value).toBeGreaterThanOrEqual(DIMENSIONS[dimension].min);
        expect(read.value.value).toBeLessThanOrEqual(DIMENSIONS[dimension].max);
        if (read.value.u !== null) {
          expect(read.value.u).toBeGreaterThanOrEqual(0);
          expect(Number.isFinite(read.value.u)).toBe(true);
        }
      }
    }),
    { numRuns: 800 },
  );
  // Some 60 are good; so few would mean that the property no longer tests anything.
  expect(reads).toBeGreaterThan(20);
});

/** Texts built to make a backtracking reader slow; every one stays within the length that is read at all. */
const HOSTILE = ['1 ', '1/', '1 lb ', '.1', 'a ', '°', 'g'];

test('hostile texts are read in one go', () => {
  for (const text of HOSTILE) {
    // A reader that goes back would be at it until the limit against hangs.
    const results = readAll(text.repeat(50_000), 'metric');
    expect(results.every((r) => !r.ok)).toBe(true);
  }
});
