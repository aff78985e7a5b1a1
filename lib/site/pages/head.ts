import type { Brewery } from '../../batch/types/brewery.ts';
import { type MetaTag, openGraph } from '../feeds/open-graph.ts';
import { ATOM_PATH, JSON_FEED_PATH } from '../paths.ts';

/** What every page needs for its frame. */
export interface HeadView {
  readonly title: string;
  readonly description: string;
  readonly language: string;
  readonly siteName: string;
  /** Its own, below the top folder. */
  readonly path: string;
  /** The way back to the top folder, with explicit file names behind it so that pages work as plain files. */
  readonly root: string;
  readonly canonical: string | null;
  readonly author: string | null;
  /** False on pages that no search engine should list. */
  readonly listed: boolean;
  /** Open Graph; empty where the page has no address of its own. */
  readonly og: readonly MetaTag[];
  /** Full addresses of the feeds; null where the site has none. */
  readonly feeds: { readonly atom: string; readonly json: string } | null;
  /** JSON-LD, made safe for its element; null where the page has none. */
  readonly data: string | null;
}

/** Makes the frame's data; `path` is the page's own, below the top folder. */
export function headView(
  brewery: Brewery,
  path: string,
  title: string,
  description: string,
  listed = true,
): HeadView {
  const depth = path.split('/').length - 1;
  const address = path.replace(/(^|\/)index\.html$/, '$1');
  const { url, language, name: siteName } = brewery;
  const canonical = url === null || !listed ? null : new URL(address, url).href;
  const type = /^(?:batches|recipes)\//.test(path) ? 'article' : 'website';
  return {
    title,
    description,
    language,
    siteName,
    path,
    root: depth === 0 ? './' : '../'.repeat(depth),
    canonical,
    author: brewery.author,
    listed,
    og: openGraph({ title, description, siteName, canonical, language }, type, null),
    feeds:
      url === null ? null : { atom: new URL(ATOM_PATH, url).href, json: new URL(JSON_FEED_PATH, url).href },
    data: null,
  };
}
