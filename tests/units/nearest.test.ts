import { expect, test } from 'vitest';
import { didYouMean, nearest, slips } from '../../lib/units/parse/nearest.ts';

/** Distances counted by hand, one slip at a time; kitten and sitting is Levenshtein's textbook pair. */
const SLIPS: readonly (readonly [string, string, number])[] = [
  ['', '', 0],
  ['', 'abc', 3],
  ['gram', 'gram', 0],
  ['gram', 'grams', 1],
  ['garm', 'gram', 1],
  ['gran', 'gram', 1],
  ['kitten', 'sitting', 3],
  ['ca', 'abc', 3],
];

test('slips of the pen are counted', () => {
  let rows = 0;
  for (const [a, b, want] of SLIPS) {
    expect(slips(a, b), `${a} ${b}`).toBe(want);
    expect(slips(b, a), `${b} ${a}`).toBe(want);
    rows++;
  }
  expect(rows).toBe(8);
});

const KEYS = ['boil', 'boil_volume', 'into_fermenter', 'grain', 'extract', 'hops', 'yeast', 'ferment'];

test('the nearest words come first, and none where none is near', () => {
  expect(nearest('grian', KEYS)).toEqual(['grain']);
  expect(nearest('boil-volume', KEYS)[0]).toBe('boil_volume');
  expect(nearest('BOIL VOLUM', KEYS)[0]).toBe('boil_volume');
  expect(nearest('fermenter', KEYS)).toContain('into_fermenter');
  expect(nearest('zzzzzz', KEYS)).toEqual([]);
  expect(nearest('', KEYS)).toEqual([]);
  expect(nearest('x'.repeat(5000), KEYS)).toEqual([]);
  expect(nearest('boi', ['boil', 'boit', 'boij', 'boik'], 2)).toHaveLength(2);
});

test('the question names what was perhaps meant', () => {
  expect(didYouMean('grian', KEYS)).toBe('did you mean "grain"?');
  expect(didYouMean('zzzzzz', KEYS)).toBe('');
});
