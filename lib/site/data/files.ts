import type { Published } from '../site.ts';
import { csvLines } from './csv.ts';
import { entriesOf, TABLES } from './tables.ts';

/** Folder of the data, below the top folder. */
export const DATA_FOLDER = 'data';
export const ARCHIVE_JSON = `${DATA_FOLDER}/archive.json`;
export const csvPath = (table: string): string => `${DATA_FOLDER}/${table}.csv`;
/** The same for spreadsheets that take a file for UTF-8 only where it says so in its first bytes. */
export const markedCsvPath = (table: string): string => `${DATA_FOLDER}/spreadsheet/${table}.csv`;
const BYTE_ORDER_MARK = '\uFEFF';

/** Every data file of the site by its path below the top folder; each is made when it is asked for, and then let go. */
export const dataFiles = (site: Published): ReadonlyMap<string, () => readonly string[]> =>
  new Map<string, () => readonly string[]>([
    ...TABLES.flatMap(({ name, columns, rows }) => {
      const head = csvLines([columns.map((column) => column.name)]);
      const lines = () => [head, ...entriesOf(site).map((entry) => rows(entry).csv)];
      return [
        [csvPath(name), lines] as const,
        [markedCsvPath(name), () => [BYTE_ORDER_MARK, ...lines()]] as const,
      ];
    }),
    [ARCHIVE_JSON, () => archiveJson(site)],
  ]);

/**
 * The archive as one JSON document: for each table its columns with type, unit and meaning, and its rows as objects. What the
 * CSV files hold, neither more nor less.
 */
function archiveJson(site: Published): readonly string[] {
  const { name, language } = site.brewery;
  const note =
    'Volumes at 20 °C and gravities as SG 20/20 unless a column says otherwise; null where nothing is known.';
  const tables = TABLES.flatMap(({ name, title, row, columns, rows }, at) => {
    const about = {
      title,
      row,
      columns: columns.map((column) => ({ ...column, unit: column.unit || null })),
    };
    const parts = entriesOf(site)
      .map((entry) => rows(entry).json)
      .filter(({ length }) => length > 0)
      .flatMap((part, i) => (i === 0 ? [part] : [',', part]));
    const head = `${at === 0 ? '' : ','}${JSON.stringify(name)}:${open(about)},"rows":[`;
    return [head, ...parts, ']}'];
  });
  const head = `${open({ version: 1, brewery: name, language, note })},"tables":{`;
  return [head, ...tables, '}}\n'];
}

/** An object as JSON, to which more is to be added. */
const open = (object: object): string => JSON.stringify(object).slice(0, -1);
