import type { Batch } from '../../batch/types/batch.ts';
import { type Moment, taken } from '../../batch/types/readings.ts';
import type { TargetKey } from '../../batch/types/targets.ts';
import { colourKey } from '../../words/board.ts';
import { figureLine, labelOf } from '../../words/figures.ts';
import type { Voice } from '../../words/measures.ts';
import { capital } from '../../words/words.ts';
import { escapeText } from '../charts/svg.ts';
import { STATUS_WORDS, scoreOf, statusOf } from '../pages/status.ts';
import { ofEntry, type Published, type SiteEntry, shownFigure } from '../site.ts';

/** A batch as it is in feeds. */
export interface FeedEntry {
  readonly slug: string;
  readonly title: string;
  /** Address of its page: also its identity, which never changes while the site stays where it is. */
  readonly url: string;
  readonly published: string;
  readonly updated: string;
  readonly summary: string;
  readonly html: string;
  readonly tags: readonly string[];
  /** Address of its picture, where one is drawn. */
  readonly image: string | null;
}

export interface FeedSource {
  readonly site: Published;
  /** The site's address with a slash at its end. */
  readonly url: string;
  /** HTML of a batch's notes. */
  readonly notes: (entry: SiteEntry) => string;
  /** Path of a batch's picture below the top folder; null where none is drawn. */
  readonly picture: (entry: SiteEntry) => string | null;
}

/** Feeds are for what is new. */
const LATEST = 50;

/** Every day and hour in the readings. */
function moments({ readings, brewed }: Batch): Moment[] {
  return [
    ...(brewed === null ? [] : [{ date: brewed, clock: null }]),
    ...(taken(readings.pitched) ? [taken(readings.pitched)!.on] : []),
    ...(taken(readings.fermentation) ?? []).map(({ on }) => on),
    ...(taken(readings.packaged) ?? []).map(({ on }) => on),
    ...(taken(readings.tasted) ?? []).map(({ on }) => on),
    ...(readings.abandoned ? [readings.abandoned.on] : []),
  ];
}

/**
 * RFC 3339 of a kitchen clock, which knows no zone: it is written as if it were UTC, so that the same archive gives the
 * same bytes everywhere.
 */
export const timestamp = ({ date, clock }: Moment): string =>
  `${date}T${(clock ?? '00:00').padStart(5, '0')}:00Z`;

/** When a batch last changed: the latest moment among its readings; null where it has not begun. */
export const lastChange = (entry: SiteEntry): string | null =>
  ofEntry(entry, 'changed', ({ batch }) => {
    const stamps = moments(batch).map(timestamp).sort();
    return statusOf(batch) === 'planned' ? null : (stamps.at(-1) ?? null);
  });

/** What a beer is known by, but for its colour. */
export const FACTS = ['original_gravity', 'alcohol_volume_percent', 'bitterness_ibu'] as const;

/** The figures of a batch in words, as brewed where that was read. */
const facts = (entry: SiteEntry, { units, language }: Voice): [string, string][] =>
  ofEntry(entry, 'facts', () =>
    [...FACTS, colourKey(units)].flatMap((key: TargetKey): [string, string][] => {
      const figure = shownFigure(entry, key);
      return figure ? [[labelOf(key, language), figureLine(key, figure, units)]] : [];
    }),
  );

/** One line about a batch: style, how far it has come, its figures. */
export function summaryOf(entry: SiteEntry, voice: Voice): string {
  const { batch } = entry;
  const score = scoreOf(batch);
  const state = capital(STATUS_WORDS[statusOf(batch)]) + (score === null ? '' : `, ${score}`);
  const figures = facts(entry, voice).map(([label, text]) => `${label.toLowerCase()} ${text}`);
  return [batch.style ?? 'Beer', state, figures.join(', ')].filter((part) => part !== '').join('. ');
}

/** Batches that have begun, newest first: a plan is no news, and its day may lie ahead. */
export function feedEntries({ site, url, notes, picture }: FeedSource): FeedEntry[] {
  const { brewery } = site;
  const begun = site.batches.flatMap((entry) => {
    const updated = lastChange(entry);
    return updated === null ? [] : [{ entry, updated }];
  });
  return begun
    .sort(
      (a, b) =>
        b.updated.localeCompare(a.updated, 'en') ||
        a.entry.batch.slug.localeCompare(b.entry.batch.slug, 'en'),
    )
    .slice(0, LATEST)
    .map(({ entry, updated }): FeedEntry => {
      const { batch } = entry;
      const first = moments(batch).map(timestamp).sort()[0] ?? updated;
      const rows = facts(entry, brewery)
        .map(([label, text]) => `<dt>${escapeText(label)}</dt><dd>${escapeText(text)}</dd>`)
        .join('');
      const path = picture(entry);
      const summary = summaryOf(entry, brewery);
      return {
        slug: batch.slug,
        title: batch.title,
        url: new URL(`batches/${encodeURIComponent(batch.slug)}/`, url).href,
        published: first,
        updated,
        summary,
        html: `<p>${escapeText(summary)}</p><dl>${rows}</dl>${notes(entry)}`,
        tags: batch.tags,
        image: path === null ? null : new URL(path, url).href,
      };
    });
}

/** The latest change of all; a feed without entries is as old as time. */
export const feedUpdated = (entries: readonly FeedEntry[]): string =>
  entries[0]?.updated ?? '1970-01-01T00:00:00Z';
