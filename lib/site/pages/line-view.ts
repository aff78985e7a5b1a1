import type { TargetKey } from '../../batch/types/targets.ts';
import type { Units } from '../../units/dimension.ts';
import { colourKey } from '../../words/board.ts';
import { figureRow, recipeWords } from '../../words/comparable-words.ts';
import { type FigureChange, figureChange, recipeChanges } from '../../words/compare-batches.ts';
import type { Voice } from '../../words/measures.ts';
import { dateText } from '../../words/measures.ts';
import { comparedWith, lineOf } from '../ancestry.ts';
import { type Published, type SiteEntry, shownFigure } from '../site.ts';
import { comparedPath } from './compare-view.ts';
import { scoreOf } from './status.ts';

const KEYS: readonly TargetKey[] = [
  'original_gravity',
  'final_gravity',
  'apparent_attenuation_percent',
  'alcohol_volume_percent',
  'bitterness_ibu',
];

/** The figures of two beers that differ by more than they are uncertain: as brewed where that was read, else as planned. */
function clearChanges(was: SiteEntry, is: SiteEntry, voice: Voice): readonly FigureChange[] {
  return [...KEYS, colourKey(voice.units)]
    .flatMap((key) => {
      const [before, now] = [shownFigure(was, key), shownFigure(is, key)];
      if (before === null || now === null) return [];
      return [figureChange(figureRow(key, before, voice), figureRow(key, now, voice))];
    })
    .filter(({ clear }) => clear);
}

/** What was changed in pot and ingredients, and which steps of the method. */
function changed(was: SiteEntry, is: SiteEntry, units: Units) {
  const after = recipeWords(is.batch, units);
  const steps = new Set([...after.method, ...recipeWords(was.batch, units).method].map(({ what }) => what));
  const all = recipeChanges(recipeWords(was.batch, units), after);
  return {
    changes: all.filter(({ what }) => !steps.has(what)),
    method: all.flatMap(({ what }) => (steps.has(what) ? [what.toLowerCase()] : [])).join(', '),
  };
}

/** What was changed in one step of the line, and what it did, in few words. */
function step(entry: SiteEntry, site: Published) {
  const before = comparedWith(entry, site);
  if (before === null) return { changed: '', did: [] };
  const { units } = site.brewery;
  const { changes, method } = changed(before, entry, units);
  const kinds = [
    ...new Set(changes.map(({ what }) => what.toLowerCase())),
    ...(method === '' ? [] : [method]),
  ];
  return {
    changed: kinds.length === 0 ? 'nothing' : kinds.join(', '),
    did: clearChanges(before, entry, site.brewery),
  };
}

/** The line of a batch, and what changed since the one before; null where it has no relatives. */
export function lineView(entry: SiteEntry, site: Published) {
  const line = lineOf(entry, site);
  if (line.length === 0) return null;
  const before = comparedWith(entry, site);
  return {
    members: line.map((member) => ({
      href: `../${member.batch.slug}/index.html`,
      title: member.batch.title,
      day: member.batch.brewed === null ? '' : dateText(member.batch.brewed, site.brewery.language),
      ...step(member, site),
      score: scoreOf(member.batch) ?? '',
      here: member === entry,
    })),
    compared:
      before === null
        ? null
        : {
            title: before.batch.title,
            ...changed(before, entry, site.brewery.units),
            /** Where every figure and the notes stand side by side. */
            more: comparedPath(before.batch.slug, entry.batch.slug),
          },
  };
}
