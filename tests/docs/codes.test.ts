import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { codesTable, DOCUMENT, tableIn } from './codes-table.ts';

const table = tableIn(readFileSync(DOCUMENT, 'utf8'));

it.skipIf(table === '')('every code of a problem stands in DEVELOPERS.md with its meaning', () => {
  // Renewed by: npx jiti tests/docs/codes-table.ts
  expect(table).toBe(codesTable());
});
