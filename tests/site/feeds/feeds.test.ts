import { Ajv } from 'ajv';
import { describe, expect, it } from 'vitest';
import { atomFeed } from '../../../lib/site/feeds/atom.ts';
import { feedEntries, lastChange } from '../../../lib/site/feeds/entries.ts';
import { jsonFeed } from '../../../lib/site/feeds/json-feed.ts';
import { sitemap } from '../../../lib/site/feeds/sitemap.ts';
import { HIDDEN, published, RECIPE_ONLY, source } from './site.ts';
import { childrenOf, readXml } from './xml.ts';

const ATOM = 'http://www.w3.org/2005/Atom';
/** RFC 3339, 5.6, the form that RFC 4287, 3.3 asks for. */
const DATE_TIME = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}(\.\d+)?(Z|[+-]\d{2}:\d{2})$/;

const site = published();
const feed = readXml(atomFeed(source()));
const entries = childrenOf(feed, 'entry');

describe('the Atom feed (RFC 4287)', () => {
  it('is one feed element of the namespace, with one id, title, updated and a link to itself (4.1.1)', () => {
    expect([feed.name, feed.uri]).toEqual(['feed', ATOM]);
    for (const name of ['id', 'title', 'updated', 'author'])
      expect(childrenOf(feed, name), name).toHaveLength(1);
    const rels = childrenOf(feed, 'link').map(({ attributes }) => attributes.rel);
    expect(rels.sort()).toEqual(['alternate', 'self']);
    expect(childrenOf(feed, 'updated')[0]!.text).toMatch(DATE_TIME);
    expect(childrenOf(childrenOf(feed, 'author')[0]!, 'name')[0]!.text).not.toBe('');
  });

  it('has entries with one id each, all different and absolute, a title and an hour (4.1.2, 4.2.6)', () => {
    expect(entries.length).toBeGreaterThan(10);
    const ids = entries.map((one) => {
      for (const name of ['id', 'title', 'updated', 'published', 'summary', 'content'])
        expect(childrenOf(one, name), name).toHaveLength(1);
      for (const name of ['updated', 'published']) {
        const { text } = childrenOf(one, name)[0]!;
        expect(text).toMatch(DATE_TIME);
        expect(Number.isNaN(Date.parse(text))).toBe(false);
      }
      expect(childrenOf(one, 'content')[0]!.attributes.type).toBe('html');
      const id = childrenOf(one, 'id')[0]!.text;
      expect(new URL(id).href).toBe(id);
      return id;
    });
    expect(new Set(ids).size).toBe(ids.length);
    // Same scheme and term may not come twice (4.2.2 leaves it open; readers show both).
    for (const one of entries) {
      const terms = childrenOf(one, 'category').map(({ attributes }) => attributes.term);
      expect(new Set(terms).size).toBe(terms.length);
    }
  });

  it('is sorted by the latest change, which is also the feed’s own', () => {
    const updated = entries.map((one) => childrenOf(one, 'updated')[0]!.text);
    expect(updated).toEqual([...updated].sort().reverse());
    expect(childrenOf(feed, 'updated')[0]!.text).toBe(updated[0]);
  });

  it('holds titles with markup and characters that XML forbids as plain text', () => {
    const odd = entries.find((one) => childrenOf(one, 'id')[0]!.text.includes('odd-characters'))!;
    expect(childrenOf(odd, 'title')[0]!.text).toBe('Mild & <bitter> "ale"  ');
    expect(childrenOf(odd, 'content')[0]!.text).toContain('&lt;script&gt;');
  });

  it('tells of no plan that has not begun', () => {
    const planned = site.batches.filter((entry) => lastChange(entry) === null);
    const told = new Set(feedEntries(source()).map(({ slug }) => slug));
    expect(planned.length).toBeGreaterThan(0);
    expect(planned.filter(({ batch }) => told.has(batch.slug))).toEqual([]);
  });
});

/** JSON Feed 1.1, written out from the text at jsonfeed.org/version/1.1. */
const TEXT = { type: 'string', minLength: 1 };
const ADDRESS = { type: 'string', pattern: '^https?://' };
const STAMP = { type: 'string', pattern: DATE_TIME.source };
const JSON_FEED_SCHEMA = {
  type: 'object',
  required: ['version', 'title', 'items'],
  additionalProperties: false,
  properties: {
    version: { const: 'https://jsonfeed.org/version/1.1' },
    title: TEXT,
    home_page_url: ADDRESS,
    feed_url: ADDRESS,
    description: TEXT,
    user_comment: TEXT,
    next_url: ADDRESS,
    icon: ADDRESS,
    favicon: ADDRESS,
    authors: {
      type: 'array',
      minItems: 1,
      items: {
        type: 'object',
        minProperties: 1,
        additionalProperties: false,
        properties: { name: TEXT, url: ADDRESS, avatar: ADDRESS },
      },
    },
    language: { type: 'string', pattern: '^[A-Za-z]{2,8}(-[A-Za-z0-9]{1,8})*$' },
    expired: { type: 'boolean' },
    items: {
      type: 'array',
      items: {
        type: 'object',
        required: ['id'],
        anyOf: [{ required: ['content_html'] }, { required: ['content_text'] }],
        additionalProperties: false,
        properties: {
          id: TEXT,
          url: ADDRESS,
          external_url: ADDRESS,
          title: TEXT,
          content_html: { type: 'string' },
          content_text: { type: 'string' },
          summary: TEXT,
          image: ADDRESS,
          banner_image: ADDRESS,
          date_published: STAMP,
          date_modified: STAMP,
          tags: { type: 'array', items: TEXT },
          language: TEXT,
        },
      },
    },
  },
};

describe('the JSON Feed (1.1)', () => {
  const feedText = jsonFeed(source());
  const parsed = JSON.parse(feedText) as { items: { id: string; content_html: string; image?: string }[] };

  it('follows the specification', () => {
    const check = new Ajv({ allErrors: true, strict: false }).compile(JSON_FEED_SCHEMA);
    check(parsed);
    expect(check.errors).toBeNull();
    // The schema itself can say no.
    expect(check({ ...parsed, version: '1' })).toBe(false);
    expect(check({ ...parsed, items: [{ id: 'x' }] })).toBe(false);
  });

  it('writes links of the notes out in full, since it has no base', () => {
    const odd = parsed.items.find(({ id }) => id.includes('odd-characters'))!;
    expect(odd.content_html).toContain('<a href="https://pennywort-lock.example/batches/">up</a>');
    expect(odd.content_html).toContain('<a href="https://example.org/?a=1&amp;b=2">away</a>');
    expect(odd.image).toBe('https://pennywort-lock.example/batches/odd-characters/picture.png');
  });
});

describe('the sitemap (protocol 0.9)', () => {
  const map = readXml(sitemap(site, 'https://pennywort-lock.example/', ['kit/index.html']));
  const addresses = map.children.map((one) => childrenOf(one, 'loc')[0]!.text);

  it('is a urlset of absolute addresses below the site, each once', () => {
    expect([map.name, map.uri]).toEqual(['urlset', 'http://www.sitemaps.org/schemas/sitemap/0.9']);
    expect(new Set(addresses).size).toBe(addresses.length);
    for (const address of addresses) expect(address).toMatch(/^https:\/\/pennywort-lock\.example\//);
    expect(addresses).toContain('https://pennywort-lock.example/');
    expect(addresses).toContain('https://pennywort-lock.example/kit/');
    expect(addresses).toContain('https://pennywort-lock.example/recipes/sluice-recipe/');
    expect(addresses).not.toContain('https://pennywort-lock.example/batches/sluice-recipe/');
  });
});

describe('what is not published', () => {
  const outputs = {
    atom: atomFeed(source()),
    json: jsonFeed(source()),
    sitemap: sitemap(site, 'https://x.example/'),
  };
  it.each(Object.entries(outputs))('is in no %s', (_, text) => {
    for (const word of [...HIDDEN, ...RECIPE_ONLY]) expect(text).not.toContain(word);
  });
});
