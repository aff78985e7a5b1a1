import { FACET_KINDS, FACETS, type Facet, type Facets } from '../facets.ts';
import { pageLinks, rowsOfPage } from '../paging.ts';
import type { Published } from '../site.ts';
import { headView } from './head.ts';
import { listRow } from './list-view.ts';
import { counted } from './year-view.ts';

export const GATHERED_PATH = 'by/index.html';
/** A page of a facet's table, from 1. */
export const facetPath = ({ kind, slug }: Pick<Facet, 'kind' | 'slug'>, page = 1): string =>
  `by/${kind}/${slug}/${page === 1 ? '' : `${page}/`}index.html`;

/** The batches of one style, tag, yeast, hop or setup, a page of them. */
export function facetView(facet: Facet, site: Published, page = 1) {
  const { one } = FACETS[facet.kind];
  const count = counted(facet.entries.length);
  const where = page === 1 ? '' : `, page ${page}`;
  const head = headView(
    site.brewery,
    facetPath(facet, page),
    `${facet.name}: ${one.toLowerCase()}${where}`,
    `${one} ${facet.name}: ${count} of ${site.brewery.name}, with their figures${where}.`,
  );
  return {
    head,
    kind: one,
    name: facet.name,
    count,
    pages: pageLinks(facet.entries.length, page, (other) => `${head.root}${facetPath(facet, other)}`),
    rows: rowsOfPage(facet.entries, page).map((entry) => listRow(entry, site.brewery, head.root, [])),
    /** The archive's table with only these in it. */
    sieved: `${head.root}index.html#${facet.kind}=${encodeURIComponent(facet.slug)}`,
  };
}

/** The way to all pages that gather batches. */
export function gatheredView(site: Published, facets: Facets) {
  return {
    head: headView(
      site.brewery,
      GATHERED_PATH,
      'Browse',
      `The batches of ${site.brewery.name} by style, tag, ingredient and pot.`,
    ),
    groups: FACET_KINDS.map((kind) => ({
      id: kind,
      title: FACETS[kind].title,
      items: facets.byKind[kind].map((facet) => ({
        href: facetPath(facet).slice('by/'.length),
        name: facet.name,
        count: facet.entries.length,
      })),
    })).filter(({ items }) => items.length > 0),
  };
}
