import { expect, test } from 'vitest';
import * as format from '../../lib/units/format/format.ts';
import { massParts, minutesParts, quantityParts } from '../../lib/units/format/format.ts';
import { DIMENSIONS, type Dimension } from '../../lib/units/parse/parse.ts';
import { FORMAT_CASES } from './format.cases.ts';

test('figures read on paper as they should', () => {
  let rows = 0;
  for (const row of FORMAT_CASES) {
    expect(row.got(), row.what).toBe(row.want);
    rows++;
  }
  expect(rows).toBe(98);
});

test('number and unit can be had apart', () => {
  expect(massParts(566.9904625, 'us')).toEqual({ number: '1 lb 4', unit: 'oz' });
  expect(minutesParts(90)).toEqual({ number: '1 h 30', unit: 'min' });
});

test('a figure that is none is a bug and says so', () => {
  for (const dimension of Object.keys(DIMENSIONS) as Dimension[]) {
    for (const value of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      for (const units of ['metric', 'us'] as const) {
        expect(() => quantityParts(value, dimension, units), dimension).toThrow(RangeError);
      }
    }
  }
  expect(() => format.formatGravity(Number.NaN)).toThrow(RangeError);
});

test('a US kitchen sees no metric volume, weight or temperature', () => {
  const metric = /\d (?:g|kg|ml|L|L\/h|L\/kg|ml\/L|°C|bar|kPa|m)$/;
  for (const dimension of Object.keys(DIMENSIONS) as Dimension[]) {
    for (const value of [0.001, 0.1, 1, 12, 700, 5000]) {
      const { number, unit } = quantityParts(value, dimension, 'us');
      expect(`${number} ${unit}`, dimension).not.toMatch(metric);
    }
  }
});
