import { expect, test } from 'vitest';
import { accuracyHeadlines, accuracyMarkdown, accuracyRows, errorText } from './accuracy.ts';
import { caseFiles } from './all-cases.ts';

test('every check is counted once', () => {
  const outcomes = Object.values(caseFiles).flatMap((tables) => tables.flatMap((table) => table.outcomes()));
  expect(accuracyRows().reduce((sum, { checks }) => sum + checks, 0)).toBe(outcomes.length);
});

test('the largest error is that of the worst figure, not of the last', () => {
  // Water against IAPWS-95: the set's water is 0.004 to 0.005 lower (figures rounded to 0.001).
  const water = accuracyRows().find(({ name }) => name === 'Density of water');
  expect(water?.largestError).toBeGreaterThan(0.003);
  expect(water?.largestError).toBeLessThan(0.006);
  expect(water?.checks).toBe(7);
});

test('one formula against two sources is two rows', () => {
  const gravity = accuracyRows().filter(({ name }) => name === 'Specific gravity from °P');
  expect(gravity.map(({ checks }) => checks)).toEqual([8, 4]);
});

test.each([
  [0, '0'],
  [1e-12, '0'],
  [0.00512, '0.0052'],
  [0.005, '0.0050'],
  [0.0999, '0.10'],
  [1, '1.0'],
  [1.25, '1.3'],
  [123.4, '130'],
  [4.7e-6, '0.0000047'],
])('an error of %d is written %s', (error, text) => {
  expect(errorText(error)).toBe(text);
});

test('the table has a row for each, and no cell breaks it', () => {
  const rows = accuracyRows();
  const lines = accuracyMarkdown(rows).trimEnd().split('\n');
  expect(lines.length).toBe(rows.length + 2);
  for (const line of lines) expect(line.replaceAll('\\|', '').split('|').length, line).toBe(8);
});

test('a bar in a name is escaped', () => {
  const [row] = accuracyRows();
  expect(accuracyMarkdown([{ ...row!, name: 'a | b' }])).toContain('| a \\| b |');
});

test('the short list says of each formula what to expect in practice', () => {
  const headlines = accuracyHeadlines();
  expect(headlines.length).toBeGreaterThan(20);
  for (const { practice, name } of headlines) expect(practice, name).toMatch(/\S/);
});
