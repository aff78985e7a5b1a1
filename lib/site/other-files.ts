import { dataFiles } from './data/files.ts';
import { atomFeed } from './feeds/atom.ts';
import type { FeedSource } from './feeds/entries.ts';
import { jsonFeed } from './feeds/json-feed.ts';
import { sitemap } from './feeds/sitemap.ts';
import type { Text } from './output.ts';
import { ATOM_PATH, JSON_FEED_PATH, SITEMAP_PATH } from './paths.ts';
import type { Published, SiteEntry } from './site.ts';

/**
 * Everything that is no page, by its path below the top folder: the data, and where the site has an address the feeds and the
 * sitemap. Each is made when it is asked for.
 */
export function otherFiles(
  site: Published,
  notes: (entry: SiteEntry) => string,
  pages: readonly string[],
  picture: FeedSource['picture'],
): ReadonlyMap<string, () => Text> {
  const data = dataFiles(site);
  const { url } = site.brewery;
  if (url === null) return data;
  const source: FeedSource = { site, url, notes, picture };
  return new Map<string, () => Text>([
    ...data,
    [ATOM_PATH, () => atomFeed(source)],
    [JSON_FEED_PATH, () => jsonFeed(source)],
    [SITEMAP_PATH, () => sitemap(site, url, pages)],
  ]);
}
