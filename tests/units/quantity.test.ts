import { unit } from 'mathjs';
import { expect, test } from 'vitest';
import { type ParseContext, parseQuantity, parseRange } from '../../lib/units/parse/parse.ts';
import { FACTOR_CASES } from './factors.cases.ts';
import { FAULT_CASES, RANGE_FAULT_CASES } from './fault.cases.ts';
import { QUANTITY_CASES, RANGE_CASES } from './quantity.cases.ts';

const METRIC: ParseContext = { units: 'metric' };
/** Only the order of floating-point operations may differ. */
const ROUNDING = 1e-12;
/** mathjs carries some of its own units with seven digits only. */
const THEIR_DIGITS = 1e-6;

test('every unit agrees with mathjs', () => {
  let rows = 0;
  for (const row of FACTOR_CASES) {
    const read = parseQuantity(row.text, row.dimension, METRIC);
    const want = unit(row.theirs).toNumber(row.to);
    if (!read.ok) expect.fail(`${row.text}: ${read.code}`);
    expect(Math.abs(read.value.value / want - 1), row.text).toBeLessThan(THEIR_DIGITS);
    rows++;
  }
  expect(rows).toBe(28);
});

test('quantities are read in the internal unit, with their uncertainty and their words', () => {
  let rows = 0;
  for (const row of QUANTITY_CASES) {
    const read = parseQuantity(
      row.text,
      row.dimension,
      { units: row.units },
      row.colourOf ? { colourOf: row.colourOf } : {},
    );
    if (!read.ok) expect.fail(`${row.text}: ${read.code}, ${read.mend}`);
    expect(Math.abs(read.value.value - row.value), row.text).toBeLessThanOrEqual(
      ROUNDING * Math.max(100, Math.abs(row.value)),
    );
    if (row.u === undefined) expect(read.value.u, row.text).toBeNull();
    else expect(Math.abs((read.value.u ?? Number.NaN) - row.u), row.text).toBeLessThan(ROUNDING * 100);
    expect(read.value.written).toBe(row.text);
    rows++;
  }

  expect(rows).toBe(81);
});

test('a range has two ends in one unit', () => {
  let rows = 0;
  for (const row of RANGE_CASES) {
    const read = parseRange(row.text, 'temperature', METRIC);
    if (!read.ok) expect.fail(`${row.text}: ${read.code}, ${read.mend}`);
    expect(read.value.low, row.text).toBeCloseTo(row.low, 10);
    expect(read.value.high, row.text).toBeCloseTo(row.high, 10);
    expect(read.value.written).toBe(row.text);
    rows++;
  }
  expect(rows).toBe(11);
});

test('what cannot be read is named, with a mend', () => {
  let rows = 0;
  for (const row of FAULT_CASES) {
    const read = parseQuantity(row.text, row.dimension, { units: row.units });
    if (read.ok) expect.fail(`${row.text} was read as ${read.value.value}`);
    expect(read.code, row.text).toBe(row.code);
    expect(read.mend, row.text).toContain(row.mend);
    rows++;
  }
  expect(rows).toBe(60);
});

test('a range that cannot be read is named, with a mend', () => {
  let rows = 0;
  for (const row of RANGE_FAULT_CASES) {
    const read = parseRange(row.text, 'temperature', { units: row.units });
    if (read.ok) expect.fail(`${row.text} was read as ${read.value.low} to ${read.value.high}`);
    expect(read.code, row.text).toBe(row.code);
    expect(read.mend, row.text).toContain(row.mend);
    rows++;
  }
  expect(rows).toBe(9);
});

test('a fault speaks in whole words: found, expected, mend', () => {
  expect(parseQuantity('30 min', 'mass', METRIC)).toEqual({
    ok: false,
    code: 'quantity-wrong-unit',
    found: '"30 min"',
    expected: 'a weight with its unit, such as 30 g, not a length of time',
    mend: 'write "30 g" or "30 kg"',
    offers: ['30 g', '30 kg'],
  });
  expect(parseQuantity('200 °C', 'temperature', { units: 'us' })).toEqual({
    ok: false,
    code: 'quantity-out-of-range',
    found: '"200 °C"',
    expected: 'a temperature from \u221240 °F to 302 °F',
    mend: 'check the number and its unit',
    offers: [],
  });
});

test('found is one short line, whatever was written', () => {
  const read = parseQuantity(`a\n\u0007${'b'.repeat(100)}`, 'mass', METRIC);
  if (read.ok) expect.fail('nonsense was read');
  expect(read.found).toBe(`"a  ${'b'.repeat(57)}…"`);
});
