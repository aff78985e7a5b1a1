import type { TargetKey } from '../../batch/types/targets.ts';

import { drinkableOn } from '../../words/calendar.ts';
import { figureText } from '../../words/figures.ts';
import { dateText, type Voice } from '../../words/measures.ts';
import { capital, spelled } from '../../words/words.ts';
import { lockSvg } from '../charts/lock.ts';
import { BAND_KINDS, bandsOf, FACET_KINDS, FACETS, type Facets } from '../facets.ts';
import { pageCount, pageLinks, rowsOfPage } from '../paging.ts';
import { colourOf, ofEntry, type Published, type SiteEntry, shownFigure } from '../site.ts';
import { headView } from './head.ts';
import { STATUS_WORDS, type Status, scoreOf, statusOf } from './status.ts';

/** One list of the sieve above the table. */
export interface SieveList {
  readonly name: string;
  readonly label: string;
  readonly any: string;
  /** Words and, where it is told, of how many batches. */
  readonly options: readonly { readonly value: string; readonly words: string; readonly count?: number }[];
}

/** Lists with something to choose between; what all batches share parts nothing from anything. */
function sieveOf(facets: Facets, site: Published): SieveList[] {
  const list = (
    name: string,
    [label, any]: readonly [string, string],
    options: SieveList['options'],
  ): SieveList => ({ name, label, any, options });
  const used = new Set([...facets.tokens.values()].flat());
  return [
    ...FACET_KINDS.map((kind) =>
      list(
        kind,
        [FACETS[kind].one, FACETS[kind].any],
        facets.byKind[kind].map(({ slug, name, entries }) => ({
          value: slug,
          words: name,
          count: entries.length,
        })),
      ),
    ),
    list(
      'year',
      ['Year', 'any year'],
      facets.years.map((year) => ({ value: year, words: year })),
    ),
    ...BAND_KINDS.map((kind) => {
      const word = spelled(kind, site.brewery.language);
      const bands = bandsOf(kind, site.brewery.units).filter(({ slug }) => used.has(`${kind}-${slug}`));
      return list(
        kind,
        [capital(word), `any ${word}`],
        bands.map(({ slug, name }) => ({ value: slug, words: name })),
      );
    }),
  ].filter(({ options }) => options.length > 1);
}

/** What every table of batches shows of one. */
const listed = (entry: SiteEntry, { units, language }: Voice) =>
  ofEntry(entry, 'listed', ({ batch }) => {
    const number = (key: TargetKey): string => {
      const figure = shownFigure(entry, key);
      return figure === null ? '–' : figureText(key, figure, units).number;
    };
    const status = statusOf(batch);
    return {
      number: batch.number === null ? '' : String(batch.number),
      title: batch.title,
      style: batch.style ?? '',
      day: batch.brewed === null ? null : { iso: batch.brewed, text: dateText(batch.brewed, language) },
      gravity: number('original_gravity'),
      alcohol: number('alcohol_volume_percent'),
      bitterness: number('bitterness_ibu'),
      status,
      statusWords: STATUS_WORDS[status],
      score: scoreOf(batch),
    };
  });

/** A batch as a row of a table; `root` leads from the page to the top folder. */
export const listRow = (entry: SiteEntry, voice: Voice, root: string, tokens: readonly string[]) => ({
  ...listed(entry, voice),
  href: `${root}batches/${entry.batch.slug}/index.html`,
  lock: lockSvg(colourOf(entry)),
  /** What the row is found by, parted by spaces. */
  tokens: tokens.join(' '),
});

/** A page of the archive's table, from 1. */
export const olderPath = (page: number): string => (page === 1 ? 'index.html' : `archive/${page}/index.html`);

/** A later page of the archive's table: batches that are older than those of the pages before. */
export function olderView(site: Published, page: number) {
  const { brewery } = site;
  const entries = rowsOfPage(site.batches, page);
  const head = headView(
    brewery,
    olderPath(page),
    `Older batches, page ${page}`,
    `Batches of ${brewery.name}, page ${page}: what was brewed earlier, with its figures.`,
  );
  const days = [entries.at(-1), entries[0]].map((entry) => entry?.batch.brewed ?? null);
  const [from, to] = days.map((day) => (day === null ? null : dateText(day, brewery.language)));
  return {
    head,
    between: from && to ? `${from} to ${to}` : `Page ${page}`,
    rows: entries.map((entry) => listRow(entry, brewery, head.root, [])),
    pages: pageLinks(site.batches.length, page, (other) => `${head.root}${olderPath(other)}`),
  };
}

/** More under way at once would push the latest beers off the first screen. */
const MOST_NOW = 4;
const UNDER_WAY: readonly Status[] = ['brewing', 'fermenting', 'conditioning', 'planned'];

/** What ferments, what conditions, and what is planned next. */
function nowOn(site: Published) {
  return site.batches
    .filter(({ batch }) => UNDER_WAY.includes(statusOf(batch)))
    .sort((a, b) => UNDER_WAY.indexOf(statusOf(a.batch)) - UNDER_WAY.indexOf(statusOf(b.batch)))
    .slice(0, MOST_NOW)
    .map((entry) => ({
      ...listRow(entry, site.brewery, '', []),
      next: ofEntry(entry, 'next', () => nextWords(entry, site.brewery)),
    }));
}

/** What is to be done next, in few words; empty where only time does it. */
function nextWords({ batch, plan }: SiteEntry, { language }: Voice): string {
  switch (statusOf(batch)) {
    case 'planned':
      return batch.brewed === null ? '' : `to brew on ${dateText(batch.brewed, language)}`;
    case 'fermenting': {
      const next = plan.fermentation?.next ?? null;
      return next === null ? '' : `read the gravity on ${dateText(next, language)}`;
    }
    case 'conditioning': {
      const ready = drinkableOn(batch, plan);
      return ready === null ? '' : `ready from ${dateText(ready, language)}`;
    }
    default:
      return '';
  }
}

/** The archive: the newest batches in a table with ways to the older ones, and the recipes that are published alone. */
export function listView(site: Published, facets: Facets) {
  const { brewery } = site;
  const all = site.batches.length;
  return {
    head: headView(
      brewery,
      'index.html',
      brewery.name,
      `${brewery.name}: beer brewed at home, each batch planned against brewed.`,
    ),
    sieve: sieveOf(facets, site),
    now: nowOn(site),
    // Where there are more pages, what rows are found by comes with the list of all of them.
    rows: rowsOfPage(site.batches, 1).map((entry) =>
      listRow(entry, brewery, '', pageCount(all) > 1 ? [] : (facets.tokens.get(entry.batch.slug) ?? [])),
    ),
    all,
    pages: pageLinks(all, 1, olderPath),
    recipes: site.recipesAlone.map(({ batch, plan }) => ({
      href: `recipes/${batch.slug}/index.html`,
      title: batch.title,
      style: batch.style ?? '',
      lock: lockSvg(plan.swatch?.srgb ?? null),
    })),
  };
}
