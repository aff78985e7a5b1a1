import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Units } from '../../lib/units/dimension.ts';
import * as format from '../../lib/units/format/format.ts';
import {
  DIMENSIONS,
  type Dimension,
  parseAmount,
  parseCells,
  parseClock,
  parseDate,
  parseGravity,
  parseKitBitterness,
  parseMoment,
  parseQuantity,
  parseRange,
  parseVolumeReading,
  UNIT_CODES,
} from '../../lib/units/parse/parse.ts';

const systems = fc.constantFrom<Units>('metric', 'us');

/** Half of the last digit printed is what printing may lose; the internal size of that digit, by dimension and system. */
interface Printed {
  readonly dimension: Dimension;
  readonly units: Units;
  readonly low: number;
  readonly high: number;
  readonly step: (value: number) => number;
}

const OUNCE = 28.349523125;
const GALLON = 3.785411784;
const PRINTED: readonly Printed[] = [
  {
    dimension: 'mass',
    units: 'metric',
    low: 0,
    high: 50_000,
    step: (v) => (v < 10 ? 0.1 : v < 1000 ? 1 : 10),
  },
  { dimension: 'mass', units: 'us', low: 0, high: 50_000, step: (v) => (v < 4536 ? 0.1 : 1) * OUNCE },
  {
    dimension: 'volume',
    units: 'metric',
    low: 0,
    high: 60,
    step: (v) => (v < 0.05 ? 0.001 : v < 0.5 ? 0.01 : v < 1 ? 0.05 : 0.1),
  },
  {
    dimension: 'volume',
    units: 'us',
    low: 0,
    high: 60,
    step: (v) => (v < GALLON / 4 ? GALLON / 128 : GALLON / 16),
  },
  { dimension: 'temperature', units: 'metric', low: -30, high: 110, step: () => 1 },
  { dimension: 'temperature', units: 'us', low: -30, high: 110, step: () => 5 / 9 },
  { dimension: 'temperatureDifference', units: 'us', low: 0, high: 50, step: () => 0.5 / 9 },
  { dimension: 'time', units: 'metric', low: 0, high: 2879, step: () => 1 },
  { dimension: 'time', units: 'us', low: 2880, high: 500_000, step: () => 144 },
  { dimension: 'percent', units: 'us', low: 0, high: 1, step: () => 0.001 },
  { dimension: 'colour', units: 'metric', low: 0, high: 1500, step: () => 1 },
  { dimension: 'bitterness', units: 'us', low: 0, high: 150, step: () => 1 },
  { dimension: 'power', units: 'us', low: 0, high: 10, step: () => 0.1 },
  { dimension: 'volumeRate', units: 'metric', low: 0, high: 10, step: () => 0.1 },
  { dimension: 'volumeRate', units: 'us', low: 0, high: 10, step: () => GALLON / 100 },
  { dimension: 'absorption', units: 'metric', low: 0, high: 10, step: () => 0.1 },
  { dimension: 'absorption', units: 'us', low: 0, high: 10, step: () => (0.01 * GALLON) / 4 / 0.45359237 },
  { dimension: 'carbonation', units: 'metric', low: 0, high: 6, step: () => 0.1 },
  { dimension: 'pressure', units: 'metric', low: 0, high: 700, step: () => 10 },
  { dimension: 'pressure', units: 'us', low: 0, high: 700, step: () => 6.894757293 },
  { dimension: 'altitude', units: 'metric', low: -400, high: 4000, step: () => 1 },
  { dimension: 'altitude', units: 'us', low: -400, high: 4000, step: () => 0.3048 },
  { dimension: 'dose', units: 'metric', low: 0, high: 100, step: () => 0.01 },
  { dimension: 'dose', units: 'us', low: 0, high: 100, step: () => 1000 / 128 / 100 },
  { dimension: 'ratio', units: 'us', low: 0, high: 10, step: () => (0.01 * GALLON) / 4 / 0.45359237 },
];

test('what is printed is read back within half of its last digit', () => {
  let rows = 0;
  for (const { dimension, units, low, high, step } of PRINTED) {
    fc.assert(
      fc.property(fc.double({ min: low, max: high, noNaN: true }), (value) => {
        const text = format.formatQuantity(value, dimension, units);
        const read = parseQuantity(text, dimension, { units });
        if (!read.ok) throw new Error(`${text}: ${read.code}`);
        // A figure just under a limit of the steps may be printed with the coarser one.
        const allowed = Math.max(step(value), step(value * 1.01)) * (0.5 + 1e-9) + 1e-12;
        expect(Math.abs(read.value.value - value), text).toBeLessThanOrEqual(allowed);
      }),
    );
    rows++;
  }
  expect(rows).toBe(25);
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
  'IBU',
  'billion',
  'NaN',
  'Infinity',
  '__proto__',
  'constructor',
  '1 lb 4 oz',
  '\u{1f37a}',
  '\ud800',
];
const garbage = fc.oneof(
  fc.string({ unit: 'binary', maxLength: 300 }),
  fc.array(fc.constantFrom(...PIECES), { maxLength: 60 }).map((pieces) => pieces.join('')),
);

function readers(text: string, units: Units): readonly { readonly ok: boolean; readonly code?: string }[] {
  const ctx = { units };
  return [
    ...(Object.keys(DIMENSIONS) as Dimension[]).flatMap((dimension) => [
      parseQuantity(text, dimension, ctx),
      parseRange(text, dimension, ctx),
    ]),
    parseQuantity(text, 'colour', ctx, { colourOf: 'sugar' }),
    parseGravity(text),
    parseVolumeReading(text, ctx),
    parseAmount(text, ctx),
    parseCells(text),
    parseKitBitterness(text, ctx),
    parseClock(text),
    parseDate(text),
    parseMoment(text),
  ];
}

test('nonsense is never thrown back, and each fault has a listed code', () => {
  fc.assert(
    fc.property(garbage, systems, (text, units) => {
      for (const result of readers(text, units)) {
        if (!result.ok) expect(UNIT_CODES).toHaveProperty([result.code ?? '']);
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
const HOSTILE = [...['1 ', '1/', '1 lb ', '.1', 'a ', '°', 'g']];

test('hostile texts are read in one go', () => {
  for (const text of HOSTILE) {
    // A reader that goes back would be at it until the limit against hangs.
    const results = readers(text.repeat(50_000), 'metric');
    expect(results.every((r) => !r.ok)).toBe(true);
  }
});
