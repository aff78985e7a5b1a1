import type { Published } from '../site.ts';
import { archiveJson } from './archive-json.ts';
import { csvText } from './csv.ts';
import { archiveTable, archiveTables, TABLE_NAMES } from './tables.ts';

/** Folder of the data, below the top folder. */
export const DATA_FOLDER = 'data';
export const ARCHIVE_JSON = `${DATA_FOLDER}/archive.json`;
export const csvPath = (table: string): string => `${DATA_FOLDER}/${table}.csv`;
/** The same for spreadsheets that take a file for UTF-8 only where it says so in its first bytes. */
export const markedCsvPath = (table: string): string => `${DATA_FOLDER}/spreadsheet/${table}.csv`;
const BYTE_ORDER_MARK = '\uFEFF';

/** Every data file of the site by its path below the top folder; each is made when it is asked for, and then let go. */
export function dataFiles(site: Published): ReadonlyMap<string, () => string> {
  return new Map<string, () => string>([
    ...TABLE_NAMES.flatMap((name) => {
      const text = () => csvText(archiveTable(site, name));
      return [[csvPath(name), text] as const, [markedCsvPath(name), () => BYTE_ORDER_MARK + text()] as const];
    }),
    [ARCHIVE_JSON, () => archiveJson(site.brewery, archiveTables(site))],
  ]);
}
