import type { Brewery } from '../../batch/types/brewery.ts';
import type { WrittenTable } from './columns.ts';

/**
 * The archive as one JSON document: for each table its columns with type, unit and meaning, and its rows as objects. What the
 * CSV files hold, neither more nor less.
 */
export function archiveJson(brewery: Brewery, tables: readonly WrittenTable[]): string {
  const head = JSON.stringify({
    version: 1,
    brewery: brewery.name,
    language: brewery.language,
    note: 'Volumes at 20 °C and gravities as SG 20/20 unless a column says otherwise; null where nothing is known.',
  });
  // Row by row: thousands of batches as one object, with their text beside it, would take several times the room.
  const parts = [`${head.slice(0, -1)},"tables":{`];
  for (const [at, { name, title, row, columns, cells }] of tables.entries()) {
    const about = {
      title,
      row,
      columns: columns.map((column) => ({ ...column, unit: column.unit || null })),
    };
    parts.push(
      at === 0 ? '' : ',',
      JSON.stringify(name),
      ':',
      JSON.stringify(about).slice(0, -1),
      ',"rows":[',
    );
    for (const [n, line] of cells.entries()) {
      const entries = columns.map((column, i) => [column.name, line[i] ?? null] as const);
      parts.push(n === 0 ? '' : ',', JSON.stringify(Object.fromEntries(entries)));
    }
    parts.push(']}');
  }
  parts.push('}}\n');
  return parts.join('');
}
