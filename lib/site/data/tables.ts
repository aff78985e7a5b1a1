/** The archive as tables, one row a batch, an ingredient, a reading, a tasting: only what is published. */
import type { Published, SiteEntry } from '../site.ts';
import { batches } from './batch-table.ts';
import { type WrittenTable, written } from './columns.ts';
import { ingredients } from './ingredient-table.ts';
import { fermentation, readings, tastings } from './reading-tables.ts';

/** In the order of the dictionary. */
export const TABLES: readonly WrittenTable[] = [
  written(batches),
  written(ingredients),
  written(readings),
  written(fermentation),
  written(tastings),
];

/** What the rows come from, in their order. */
export const entriesOf = ({ batches, recipesAlone }: Published): readonly SiteEntry[] => [
  ...batches,
  ...recipesAlone,
];
