/** The archive as tables, one row a batch, an ingredient, a reading, a tasting: only what is published. */
import type { Published } from '../site.ts';
import { batches } from './batch-table.ts';
import { type WrittenTable, written } from './columns.ts';
import { ingredients } from './ingredient-table.ts';
import { fermentation, readings, tastings } from './reading-tables.ts';

/** Every table of the archive, in the order of the dictionary; only what is published is in them. */
export function archiveTables(site: Published): readonly WrittenTable[] {
  const entries = [...site.batches, ...site.recipesAlone];
  return [
    written(batches(entries)),
    written(ingredients(entries)),
    written(readings(entries)),
    written(fermentation(entries)),
    written(tastings(entries)),
  ];
}
