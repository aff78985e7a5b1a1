import { describe, expect, test } from 'vitest';
import { caseFiles } from './all-cases.ts';
import type { Outcome } from './case.ts';

/** How many rows each file holds: a row that is lost, or never run, fails here. */
const ROWS: Readonly<Record<string, number>> = {
  density: 18,
  gravity: 35,
  hydrometer: 16,
  refractometer: 7,
  mixing: 5,
  shrinkage: 8,
  heat: 18,
  boiling: 12,
  bitterness: 57,
  colour: 71,
  fermentation: 34,
  'fermentation curve': 20,
  yeast: 2,
  co2: 72,
};

describe.each(Object.entries(caseFiles))('%s', (file, tables) => {
  const outcomes = tables.flatMap((each) => each.outcomes());

  test(`has its ${ROWS[file]} rows`, () => {
    expect(outcomes.length).toBe(ROWS[file]);
  });

  test.each(outcomes.map((outcome) => [outcome.label, outcome] as const))('%s', (_, outcome) => {
    expect(Math.abs(outcome.found - outcome.expected), message(outcome)).toBeLessThanOrEqual(
      outcome.tolerance,
    );
  });

  test('says of every row where it is from and why its tolerance is enough', () => {
    for (const { source, reason, tolerance, label } of outcomes) {
      expect(source, label).not.toBe('');
      expect(reason, label).not.toBe('');
      expect(tolerance, label).toBeGreaterThan(0);
    }
  });
});

function message({ found, expected, tolerance, source }: Outcome): string {
  return `found ${found}, but ${source} says ${expected} within ${tolerance}`;
}

test('every file of cases has a count', () => {
  expect(Object.keys(ROWS)).toEqual(Object.keys(caseFiles));
});
