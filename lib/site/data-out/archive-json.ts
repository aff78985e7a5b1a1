import type { Brewery } from '../../batch/brewery.ts';
import type { WrittenTable } from './columns.ts';

/**
 * The archive as one JSON document: for each table its columns with type, unit and meaning, and its rows as objects. What the
 * CSV files hold, neither more nor less.
 */
export function archiveJson(brewery: Brewery, tables: readonly WrittenTable[]): string {
  const document = {
    version: 1,
    brewery: brewery.name,
    language: brewery.language,
    note: 'Volumes at 20 °C and gravities as SG 20/20 unless a column says otherwise; null where nothing is known.',
    tables: Object.fromEntries(
      tables.map(({ name, title, row, columns, cells }) => [
        name,
        {
          title,
          row,
          columns: columns.map((column) => ({ ...column, unit: column.unit || null })),
          rows: cells.map((line) =>
            Object.fromEntries(columns.map((column, i) => [column.name, line[i] ?? null])),
          ),
        },
      ]),
    ),
  };
  return `${JSON.stringify(document)}\n`;
}
