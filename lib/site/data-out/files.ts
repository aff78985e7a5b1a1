import type { Published } from '../site.ts';
import { archiveJson } from './archive-json.ts';
import { csvText } from './csv.ts';
import { archiveTables } from './tables.ts';

/** Folder of the data, below the top folder. */
export const DATA_FOLDER = 'data';
export const ARCHIVE_JSON = `${DATA_FOLDER}/archive.json`;
export const csvPath = (table: string): string => `${DATA_FOLDER}/${table}.csv`;

/** Every data file of the site by its path below the top folder. */
export function dataFiles(site: Published): ReadonlyMap<string, string> {
  const tables = archiveTables(site);
  return new Map([
    ...tables.map((table) => [csvPath(table.name), csvText(table)] as const),
    [ARCHIVE_JSON, archiveJson(site.brewery, tables)],
  ]);
}
