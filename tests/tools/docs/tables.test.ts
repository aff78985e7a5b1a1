import { expect, it } from 'vitest';
import { TABLES, tableIn } from './tables.ts';

it.each(TABLES.map((table) => [table.document, table] as const))(
  '%s has its table as the code makes it (npm run docs renews it)',
  (_, table) => {
    const made = table.make();
    expect(made.split('\n').length).toBeGreaterThan(10);
    expect(tableIn(table)).toBe(made);
  },
);
