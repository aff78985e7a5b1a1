/** Where the feeds and the sitemap lie, below the top folder. */
export const ATOM_PATH = 'feed.xml';
export const JSON_FEED_PATH = 'feed.json';
export const SITEMAP_PATH = 'sitemap.xml';
