/** The archive as tables, one row a batch, an ingredient, a reading, a tasting: only what is published. */
import type { Published, SiteEntry } from '../site.ts';
import { batches } from './batch-table.ts';
import { type WrittenTable, written } from './columns.ts';
import { ingredients } from './ingredient-table.ts';
import { fermentation, readings, tastings } from './reading-tables.ts';

const TABLES = {
  batches: (entries) => written(batches(entries)),
  ingredients: (entries) => written(ingredients(entries)),
  readings: (entries) => written(readings(entries)),
  fermentation: (entries) => written(fermentation(entries)),
  tastings: (entries) => written(tastings(entries)),
} satisfies Record<string, (entries: readonly SiteEntry[]) => WrittenTable>;

export type TableName = keyof typeof TABLES;
/** In the order of the dictionary. */
export const TABLE_NAMES = Object.keys(TABLES) as readonly TableName[];

/** One table of the archive; only what is published is in it. */
export const archiveTable = (site: Published, name: TableName): WrittenTable =>
  TABLES[name]([...site.batches, ...site.recipesAlone]);

/** Every table of the archive. */
export const archiveTables = (site: Published): readonly WrittenTable[] =>
  TABLE_NAMES.map((name) => archiveTable(site, name));
