import type { Published } from '../site.ts';
import { type HeadView, headView } from './head.ts';

export const SEARCH_PATH = 'search/index.html';

/** The page on which the archive is searched by word; it has nothing to be found by itself. */
export const searchView = (site: Published): { readonly head: HeadView } => ({
  head: headView(
    site.brewery,
    SEARCH_PATH,
    'Search',
    `Search the batches and recipes of ${site.brewery.name} by word.`,
    false,
  ),
});
