import { expect, it } from 'vitest';
import { excerpt, find, searchable } from '../../lib/browser/archive/find-words.ts';
import type { SearchRow } from '../../lib/browser/archive/page-data.ts';

const LONG = 'Nothing to say of the boil. '.repeat(20);
const ROWS: readonly SearchRow[] = [
  [
    'batches/newest',
    'Towpath Pale',
    '',
    '',
    'pale ale, Fuggle',
    `${LONG}Drop the windlass and roast it at 1.038. ${LONG}`,
  ],
  ['batches/older', 'Windlass Bitter', '', '', 'bitter, Fuggle', 'Crème of a beer, the lock-keeper’s best.'],
  ['recipes/alone', 'Regatta (recipe)', '', '', 'bitter, First Gold', ''],
];
const asked = (typed: string) => {
  const { rows, not } = find(ROWS.map(searchable), typed);
  return [rows.map(([folder]) => folder.replace(/.*\//, '')), not];
};

it.each([
  // A title is worth more than a note; of equals the first comes first.
  ['windlass', ['older', 'newest'], []],
  ['fuggle', ['newest', 'older'], []],
  ['windl', ['older', 'newest'], []],
  ['WINDLASS fuggle pale', ['newest'], []],
  ['creme', ['older'], []],
  ['keeper', ['older'], []],
  ['1.038', ['newest'], []],
  ['ndlass', [], ['ndlass']],
  ['Windlasss', ['older', 'newest'], ['Windlasss']],
  ['roasted', ['newest'], ['roasted']],
  ['fuggle zymurgy', [], ['zymurgy']],
])('%s finds %j', (typed, slugs, not) => {
  expect(asked(typed)).toEqual([slugs, not]);
});

it('shows a stretch around what was found, and marks that', () => {
  const pieces = excerpt(ROWS[0]!, ['windlass']);
  const text = pieces.map(([piece]) => piece).join('');
  expect(text.length).toBeLessThanOrEqual(220);
  expect(LONG.includes(text)).toBe(false);
  expect(pieces.filter(([, found]) => found)).toEqual([['windlass', true]]);
  const named = excerpt(ROWS[2]!, ['gold']).map(([piece, found]) => (found ? `*${piece}*` : piece));
  expect(named.join('')).toBe('bitter, First *Gold*');
});
