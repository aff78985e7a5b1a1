import type { Environment } from 'nunjucks';
import { FACET_KINDS, type Facets } from './facets.ts';
import type { Published } from './site.ts';
import { facetPath, facetView, GATHERED_PATH, gatheredView } from './views/facet-view.ts';
import { SEARCH_PATH, searchView } from './views/search-view.ts';
import { YEARS_PATH, yearPath, yearsView, yearView } from './views/year-view.ts';

/** The pages that lead through the archive, by path below the top folder; each is made when it is asked for. */
export function archivePages(
  site: Published,
  facets: Facets,
  environment: Environment,
): ReadonlyMap<string, () => string> {
  const render = (layout: string, view: object): string => environment.render(`layouts/${layout}.njk`, view);
  return new Map([
    [GATHERED_PATH, () => render('gathered', gatheredView(site, facets))],
    [YEARS_PATH, () => render('years', yearsView(site))],
    [SEARCH_PATH, () => render('search', searchView(site))],
    ...facets.years.map((year) => [yearPath(year), () => render('year', yearView(site, year))] as const),
    ...FACET_KINDS.flatMap((kind) =>
      facets.byKind[kind].map(
        (facet) => [facetPath(facet), () => render('facet', facetView(facet, site))] as const,
      ),
    ),
  ]);
}

/** Those of them that may be listed. */
export const listedPaths = (facets: Facets): readonly string[] => [
  GATHERED_PATH,
  YEARS_PATH,
  ...facets.years.map(yearPath),
  ...FACET_KINDS.flatMap((kind) => facets.byKind[kind].map(facetPath)),
];
