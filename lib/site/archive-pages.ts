import type { Environment } from 'nunjucks';
import { comparableName, ROWS } from '../browser/archive/page-data.ts';
import { dataScript } from './data-script.ts';
import { FACET_KINDS, type Facets } from './facets.ts';
import { SEARCH_PATH, searchView } from './pages/about-view.ts';
import { comparableView } from './pages/comparable-view.ts';
import { COMPARE_PATH, compareView } from './pages/compare-view.ts';
import { facetPath, facetView, GATHERED_PATH, gatheredView } from './pages/facet-view.ts';
import { olderPath, olderView } from './pages/list-view.ts';
import { ROWS_PATH, rowsView } from './pages/rows-view.ts';
import { byYear, YEARS_PATH, yearPages, yearPath, yearsView, yearView } from './pages/year-view.ts';
import { laterPages, rowsOfPage } from './paging.ts';
import { safeSlug } from './paths.ts';
import { searchFiles } from './search-index.ts';
import type { Published, SiteEntry } from './site.ts';

/**
 * What pages show: batches that are on them, in full, and what else. A build makes pages again only where something of this has
 * changed, so all that a view takes from the site besides the brewery is in here.
 */
export interface Around {
  readonly batches: readonly string[];
  readonly shown: unknown;
}

const pagesOf = (rows: number): readonly number[] => [1, ...laterPages(rows)];

/** What a batch is compared with others by. */
export const comparablePath = (slug: string): string => `${comparableName(safeSlug(slug))}.js`;

/** The pages that lead through the archive, by path below the top folder; each is made when it is asked for. */
export function archivePages(
  site: Published,
  facets: Facets,
  environment: Environment,
  notesOf: (entry: SiteEntry) => string,
): ReadonlyMap<string, () => string> {
  const render = (layout: string, view: object): string => environment.render(`layouts/${layout}.njk`, view);
  return new Map([
    [GATHERED_PATH, () => render('gathered', gatheredView(site, facets))],
    [YEARS_PATH, () => render('years', yearsView(site))],
    [SEARCH_PATH, () => render('search', searchView(site))],
    [COMPARE_PATH, () => render('compare', compareView(site))],
    [ROWS_PATH, () => dataScript(ROWS, rowsView(site, facets))],
    ...facets.years.flatMap((year) =>
      yearPages(site, year).map(
        (page) => [yearPath(year, page), () => render('year', yearView(site, year, page))] as const,
      ),
    ),
    ...FACET_KINDS.flatMap((kind) =>
      facets.byKind[kind].flatMap((facet) =>
        pagesOf(facet.entries.length).map(
          (page) => [facetPath(facet, page), () => render('facet', facetView(facet, site, page))] as const,
        ),
      ),
    ),
    ...laterPages(site.batches.length).map(
      (page) => [olderPath(page), () => render('older', olderView(site, page))] as const,
    ),
    ...searchFiles(site, notesOf),
    ...site.batches.map((entry) => {
      const { slug } = entry.batch;
      const text = () =>
        dataScript(comparableName(slug), comparableView(entry, site.brewery, notesOf(entry)));
      return [comparablePath(slug), text] as const;
    }),
  ]);
}

/** What those of them show that list some of the batches. */
export function listsOf(site: Published, facets: Facets): ReadonlyMap<string, Around> {
  const of = (entries: readonly SiteEntry[], page: number, shown: unknown): Around => ({
    batches: rowsOfPage(entries, page).map(({ batch }) => batch.slug),
    shown,
  });
  return new Map([
    ...FACET_KINDS.flatMap((kind) => facets.byKind[kind]).flatMap((facet) => {
      const { name, entries } = facet;
      return pagesOf(entries.length).map(
        (page) => [facetPath(facet, page), of(entries, page, [name, entries.length])] as const,
      );
    }),
    ...[...byYear(site)].flatMap(([year, entries]) => {
      const batches = entries.map(({ batch }) => batch.slug);
      return yearPages(site, year).map((page) => [yearPath(year, page), { batches, shown: null }] as const);
    }),
    ...laterPages(site.batches.length).map(
      (page) => [olderPath(page), of(site.batches, page, site.batches.length)] as const,
    ),
  ]);
}

/** Those of them that may be listed. */
export const listedPaths = (facets: Facets): readonly string[] => [
  GATHERED_PATH,
  YEARS_PATH,
  COMPARE_PATH,
  ...facets.years.map((year) => yearPath(year)),
  ...FACET_KINDS.flatMap((kind) => facets.byKind[kind].map((facet) => facetPath(facet))),
];
