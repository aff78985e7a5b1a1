import { JSON_FEED_PATH } from '../paths.ts';
import { type FeedSource, feedEntries } from './entries.ts';

/** The archive as a JSON Feed 1.1 (jsonfeed.org/version/1.1): the same entries as the Atom feed's. */
export function jsonFeed(source: FeedSource): string {
  const { site, url } = source;
  const { brewery } = site;
  const feed = {
    version: 'https://jsonfeed.org/version/1.1',
    title: brewery.name,
    home_page_url: url,
    feed_url: new URL(JSON_FEED_PATH, url).href,
    description: 'Beer brewed at home on a kitchen stove, planned against brewed.',
    language: brewery.language,
    authors: [{ name: brewery.author ?? brewery.name }],
    items: feedEntries(source).map((entry) => ({
      id: entry.url,
      url: entry.url,
      title: entry.title,
      summary: entry.summary,
      content_html: absolute(entry.html, entry.url),
      date_published: entry.published,
      date_modified: entry.updated,
      ...(entry.image === null ? {} : { image: entry.image }),
      ...(entry.tags.length === 0 ? {} : { tags: [...new Set(entry.tags)] }),
    })),
  };
  return `${JSON.stringify(feed, null, 1)}\n`;
}

/** JSON Feed has no base address, so that links in the notes are written out in full. */
function absolute(html: string, base: string): string {
  return html.replace(/(<a href=")([^"]*)(")/g, (whole, before: string, href: string, after: string) => {
    const plain = href.replaceAll('&amp;', '&');
    if (!URL.canParse(plain, base)) return whole;
    return `${before}${new URL(plain, base).href.replaceAll('&', '&amp;')}${after}`;
  });
}
