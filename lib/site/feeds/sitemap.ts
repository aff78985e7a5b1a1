import { ABOUT_PATH, LIST_PATH } from '../paths.ts';
import type { Published } from '../site.ts';
import { lastChange } from './entries.ts';
import { element } from './xml.ts';

/** Most addresses that one sitemap may hold (sitemaps.org protocol). */
const MOST = 50_000;

/**
 * The sitemap (sitemaps.org, protocol 0.9): every page that may be listed, with the day of a batch's last reading. A recipe
 * published alone has no day.
 *
 * @param others further pages, by path below the top folder, `kit/index.html`
 */
export function sitemap(site: Published, url: string, others: readonly string[] = []): string {
  const page = (path: string, changed: string | null = null): string => {
    const address = new URL(path.replace(/(^|\/)index\.html$/, '$1'), url).href;
    return `<url>${element('loc', address)}${element('lastmod', changed?.slice(0, 10) ?? null)}</url>`;
  };
  const folder = (kind: string, slug: string) => `${kind}/${encodeURIComponent(slug)}/index.html`;
  const pages = [
    page(LIST_PATH),
    page(ABOUT_PATH),
    ...others.map((path) => page(path)),
    ...site.batches.map((entry) => page(folder('batches', entry.batch.slug), lastChange(entry))),
    ...site.recipes.map(({ batch }) => page(folder('recipes', batch.slug))),
  ].slice(0, MOST);
  return `<?xml version="1.0" encoding="utf-8"?>\n<urlset xmlns="http://www.sitemaps.org/schemas/sitemap/0.9">\n${pages.join('\n')}\n</urlset>\n`;
}
