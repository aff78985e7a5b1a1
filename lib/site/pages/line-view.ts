import type { TargetKey } from '../../batch/types/targets.ts';
import type { Units } from '../../units/dimension.ts';
import { figureRow, recipeWords } from '../../words/comparable-words.ts';
import {
  type FigureChange,
  type FigureRow,
  figureChange,
  recipeChanges,
  type TextChange,
} from '../../words/compare-batches.ts';
import { dateText } from '../../words/measures.ts';
import { comparedWith, lineOf } from '../ancestry.ts';
import { type Published, type SiteEntry, shownFigure } from '../site.ts';
import { comparedPath } from './compare-view.ts';
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
    readonly changes: readonly TextChange[];
    /** Steps of the method that are worded otherwise. */
    readonly method: string;
    readonly figures: readonly FigureChange[];
    /** Where every figure and the notes stand side by side. */
    readonly more: string;
  } | null;
}

const KEYS: readonly TargetKey[] = [
  'original_gravity',
  'final_gravity',
  'apparent_attenuation_percent',
  'alcohol_volume_percent',
  'bitterness_ibu',
];

/** The beer in few figures: as brewed where that was read, else as planned; and how it was liked. */
function beerRows(entry: SiteEntry, units: Units): readonly FigureRow[] {
  const keys = [...KEYS, units === 'metric' ? 'colour_ebc' : 'colour_srm'] as const;
  const score = scoreOf(entry.batch)?.split('\u00a0')[0];
  return [
    ...keys.flatMap((key): FigureRow[] => {
      const figure = shownFigure(entry, key);
      return figure === null ? [] : [figureRow(key, figure, units)];
    }),
    ...(score === undefined ? [] : [['Score', score, 'of 5'] as const]),
  ];
}

/** What the changes did: the figures that both batches have. */
export function beerChanges(was: SiteEntry, is: SiteEntry, units: Units): readonly FigureChange[] {
  const before = new Map(beerRows(was, units).map((row) => [row[0], row]));
  return beerRows(is, units).flatMap((row) => {
    const other = before.get(row[0]);
    return other === undefined ? [] : [figureChange(other, row)];
  });
}

/** What was changed in kit and ingredients, and which steps of the method. */
function changed(
  was: SiteEntry,
  is: SiteEntry,
  units: Units,
): Pick<NonNullable<LineView['compared']>, 'changes' | 'method'> {
  const after = recipeWords(is.batch, units);
  const steps = new Set([...after.method, ...recipeWords(was.batch, units).method].map(({ what }) => what));
  const all = recipeChanges(recipeWords(was.batch, units), after);
  return {
    changes: all.filter(({ what }) => !steps.has(what)),
    method: all.flatMap(({ what }) => (steps.has(what) ? [what.toLowerCase()] : [])).join(', '),
  };
}

/** The line that a batch stands in, and what changed since the one before; null where it stands alone. */
export function lineView(entry: SiteEntry, site: Published): LineView | null {
  const line = lineOf(entry, site);
  if (line.length === 0) return null;
  const before = comparedWith(entry, site);
  return {
    members: line.map(({ batch }) => ({
      href: `../${batch.slug}/index.html`,
      title: batch.title,
      day: batch.brewed === null ? '' : dateText(batch.brewed),
      score: scoreOf(batch) ?? '',
      here: batch.slug === entry.batch.slug,
    })),
    compared:
      before === null
        ? null
        : {
            title: before.batch.title,
            ...changed(before, entry, site.brewery.units),
            figures: beerChanges(before, entry, site.brewery.units).filter(({ clear }) => clear),
            more: comparedPath(before.batch.slug, entry.batch.slug),
          },
  };
}
