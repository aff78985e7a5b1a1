import {
  type FigureChange,
  figureChanges,
  type RecipeChange,
  recipeChanges,
} from '../../view/compare-batches.ts';
import { dateText } from '../../view/measures.ts';
import { lineOf, predecessor } from '../lines.ts';
import type { Published, SiteEntry } from '../site.ts';
import { scoreOf } from './status.ts';

/** A batch among those that were changed from one another. */
export interface LineView {
  readonly members: readonly {
    readonly href: string;
    readonly title: string;
    readonly day: string;
    readonly score: string;
    readonly here: boolean;
  }[];
  /** Against the batch that this one changes; null for the first of a line. */
  readonly compared: {
    readonly title: string;
    readonly changes: readonly RecipeChange[];
    readonly figures: readonly FigureChange[];
  } | null;
}

/** The line that a batch stands in, and what changed since the one before; null where it stands alone. */
export function lineView(entry: SiteEntry, site: Published): LineView | null {
  const line = lineOf(entry, site);
  if (line.length === 0) return null;
  const before = predecessor(entry, site);
  // Of a recipe that is published alone, nothing of its batch may be told.
  const comparable = before !== null && before.batch.publish === 'all' ? before : null;
  return {
    members: line.map(({ batch }) => ({
      href: `../${batch.slug}/index.html`,
      title: batch.title,
      day: batch.brewed === null ? '' : dateText(batch.brewed),
      score: scoreOf(batch) ?? '',
      here: batch.slug === entry.batch.slug,
    })),
    compared:
      comparable === null
        ? null
        : {
            title: comparable.batch.title,
            changes: recipeChanges(comparable.batch, entry.batch),
            figures: figureChanges(comparable, entry, site.brewery.units),
          },
  };
}
