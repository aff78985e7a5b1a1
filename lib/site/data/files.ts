import type { Published } from '../site.ts';
import { archiveJson } from './archive-json.ts';
import { csvText } from './csv.ts';
import { archiveTable, archiveTables, TABLE_NAMES } from './tables.ts';

/** Folder of the data, below the top folder. */
export const DATA_FOLDER = 'data';
export const ARCHIVE_JSON = `${DATA_FOLDER}/archive.json`;
export const csvPath = (table: string): string => `${DATA_FOLDER}/${table}.csv`;

/** Every data file of the site by its path below the top folder; each is made when it is asked for, and then let go. */
export function dataFiles(site: Published): ReadonlyMap<string, () => string> {
  return new Map<string, () => string>([
    ...TABLE_NAMES.map((name) => [csvPath(name), () => csvText(archiveTable(site, name))] as const),
    [ARCHIVE_JSON, () => archiveJson(site.brewery, archiveTables(site))],
  ]);
}
