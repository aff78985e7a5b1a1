import { ATOM_PATH } from '../paths.ts';
import { type FeedEntry, type FeedSource, feedEntries, feedUpdated } from './entries.ts';
import { element, emptyElement, xmlText } from './xml.ts';

/** The archive's Atom feed (RFC 4287): batches that have begun, latest change first, notes and all. */
export function atomFeed(source: FeedSource): string {
  const { site, url } = source;
  const { brewery } = site;
  const entries = feedEntries(source);
  const lines = [
    '<?xml version="1.0" encoding="utf-8"?>',
    `<feed xmlns="http://www.w3.org/2005/Atom" xml:lang="${xmlText(brewery.language)}">`,
    element('id', url),
    element('title', brewery.name),
    element('subtitle', 'Beer brewed at home on a kitchen stove, planned against brewed.'),
    element('updated', feedUpdated(entries)),
    `<author>${element('name', brewery.author ?? brewery.name)}</author>`,
    emptyElement('link', { rel: 'self', type: 'application/atom+xml', href: new URL(ATOM_PATH, url).href }),
    emptyElement('link', { rel: 'alternate', type: 'text/html', href: url }),
    element('generator', 'Kettleside'),
    ...entries.map(atomEntry),
    '</feed>',
  ];
  return `${lines.join('\n')}\n`;
}

function atomEntry(entry: FeedEntry): string {
  const lines = [
    // Addresses in the notes are relative to the batch's page (RFC 4287, 2).
    `<entry xml:base="${xmlText(entry.url)}">`,
    element('id', entry.url),
    element('title', entry.title),
    emptyElement('link', { rel: 'alternate', type: 'text/html', href: entry.url }),
    element('published', entry.published),
    element('updated', entry.updated),
    ...[...new Set(entry.tags)].map((term) => emptyElement('category', { term })),
    element('summary', entry.summary),
    element('content', entry.html, { type: 'html' }),
    '</entry>',
  ];
  return lines.join('\n');
}
