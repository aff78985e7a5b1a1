import { readFileSync } from 'node:fs';
import { FAILSAFE_SCHEMA, load } from 'js-yaml';

/** A row of a table as the file has it: text, or lists of text. */
export type Row = Readonly<Record<string, string | readonly string[]>>;

export const TABLES = [
  'grains',
  'extracts',
  'sugars',
  'hops',
  'yeasts',
  'finings',
  'spices',
  'fruit',
] as const;
export type TableName = (typeof TABLES)[number];

function isRow(candidate: unknown): candidate is Row {
  return (
    typeof candidate === 'object' &&
    candidate !== null &&
    Object.values(candidate).every(
      (value) =>
        typeof value === 'string' ||
        (Array.isArray(value) && value.every((entry: unknown) => typeof entry === 'string')),
    )
  );
}

/** The rows of one table, without any reading of what they mean; throws where the file is no list of rows. */
export function rowsOf(table: TableName): readonly Row[] {
  const text = readFileSync(new URL(`../../shared/${table}.yaml`, import.meta.url), 'utf8');
  const rows: unknown = load(text, { schema: FAILSAFE_SCHEMA });
  if (!Array.isArray(rows)) throw new Error(`shared/${table}.yaml is not a list`);
  return rows.map((row: unknown, index) => {
    if (!isRow(row)) throw new Error(`shared/${table}.yaml: row ${index + 1} is not a row of text`);
    return row;
  });
}

/** All rows with the table that they stand in. */
export function allRows(): readonly { readonly table: TableName; readonly row: Row }[] {
  return TABLES.flatMap((table) => rowsOf(table).map((row) => ({ table, row })));
}

/** The text under a key; empty where the row has none. */
export function textOf(row: Row, key: string): string {
  const value = row[key];
  return typeof value === 'string' ? value : '';
}

/** The list under a key; empty where the row has none. */
export function listOf(row: Row, key: string): readonly string[] {
  const value = row[key];
  return Array.isArray(value) ? value : [];
}

/** `4-6 %` as [4, 6] and `8 EBC` as [8, 8]; throws where the unit is another or there is no number. */
export function figures(text: string, unit: string): readonly [number, number] {
  const match = /^(\d+(?:\.\d+)?)(?:-(\d+(?:\.\d+)?))? (.+)$/.exec(text);
  if (match === null || match[3] !== unit) throw new Error(`"${text}" is not a figure in ${unit}`);
  const low = Number(match[1]);
  return [low, match[2] === undefined ? low : Number(match[2])];
}

/** A name as it is matched: case, spaces and hyphens do not count. */
export function matched(name: string): string {
  return name.toLowerCase().replace(/[\s-]/g, '');
}

/** Whether the row's source leads with a publication, and so with its year or that it bears none. */
export function isOpened(row: Row): boolean {
  const [first = ''] = textOf(row, 'source').split(';');
  return !/^(common practice|priming)\b/.test(first) && /\b(?:(?:1[89]|20)\d\d|undated)\b/.test(first);
}
