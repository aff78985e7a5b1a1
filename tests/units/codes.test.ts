import { expect, test } from 'vitest';
import {
  parseAmount,
  parseCells,
  parseClock,
  parseDate,
  parseGravity,
  parseKitBitterness,
  parseQuantity,
  parseRange,
  UNIT_CODES,
} from '../../lib/units/parse/parse.ts';
import { FAULT_CASES, RANGE_FAULT_CASES } from './fault.cases.ts';
import { AMOUNT_FAULT_CASES, CLOCK_FAULT_CASES, DATE_CASES, GRAVITY_FAULT_CASES } from './reading.cases.ts';

test('every listed code can be met, and no other', () => {
  const metric = { units: 'metric' } as const;
  const results = [
    ...FAULT_CASES.map(([text, dimension, units]) => parseQuantity(text, dimension, { units })),
    ...RANGE_FAULT_CASES.map(([text]) => parseRange(text, 'temperature', metric)),
    ...GRAVITY_FAULT_CASES.map((row) => parseGravity(row.text)),
    ...AMOUNT_FAULT_CASES.map((row) => parseAmount(row.text, metric)),
    ...CLOCK_FAULT_CASES.map((row) => parseClock(row.text)),
    ...DATE_CASES.map((row) => parseDate(row.text)),
    parseCells('10 billion'),
    parseKitBitterness('25 IBU', metric),
  ];
  const met = new Set(results.flatMap((r) => (r.ok ? [] : [r.code])));
  expect([...met].sort()).toEqual(Object.keys(UNIT_CODES).sort());
});
