/** Feeds, addresses and data blocks as they stand on the pages of a whole site. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { afterAll, describe, expect, it } from 'vitest';
import { createPages, pagePaths } from '../../../lib/site/pages.ts';
import { openBrowser } from '../../shared.ts';
import { contentWith, HIDDEN, RECIPE_ONLY } from './site.ts';
import { childrenOf, readXml } from './xml.ts';

const pages = createPages(contentWith('https://pennywort-lock.example/'));
const without = createPages(contentWith(null));

const tag = (html: string, pattern: RegExp): string[] =>
  [...html.matchAll(pattern)].map((match) => match[1] ?? '');
const dataOf = (html: string): string[] =>
  tag(html, /<script type="application\/ld\+json">([^<]*)<\/script>/g);

describe('a page', () => {
  it('has its own address as canonical and in Open Graph', () => {
    for (const [html, address] of [
      [pages.file('index.html'), 'https://pennywort-lock.example/'],
      [pages.file('kit/index.html'), 'https://pennywort-lock.example/kit/'],
      [pages.file('data/index.html'), 'https://pennywort-lock.example/data/'],
      [
        pages.file('batches/moorhen-brown-2/index.html'),
        'https://pennywort-lock.example/batches/moorhen-brown-2/',
      ],
      [
        pages.file('recipes/moorhen-brown-2/index.html'),
        'https://pennywort-lock.example/recipes/moorhen-brown-2/',
      ],
    ] as const) {
      expect(tag(html, /<link rel="canonical" href="([^"]*)"/g)).toEqual([address]);
      expect(tag(html, /<meta property="og:url" content="([^"]*)"/g)).toEqual([address]);
      expect(tag(html, /type="application\/(?:atom|feed)\+(?:xml|json)"[^>]* href="([^"]*)"/g)).toEqual([
        'https://pennywort-lock.example/feed.xml',
        'https://pennywort-lock.example/feed.json',
      ]);
    }
  });

  it('has none of them where the site has no address', () => {
    for (const html of [
      without.file('index.html'),
      without.file('batches/moorhen-brown-2/index.html'),
      without.file('recipes/moorhen-brown-2/index.html'),
    ]) {
      expect(html).not.toMatch(/rel="canonical"|property="og:|atom\+xml/);
    }
    expect(without.others.filter((path) => /^(?:feed|sitemap)/.test(path))).toEqual([]);
    expect(pages.others).toEqual(expect.arrayContaining(['feed.xml', 'feed.json', 'sitemap.xml']));
  });

  it('of a recipe has one data block that reads as JSON, and a batch has none', () => {
    const [data, ...more] = dataOf(pages.file('recipes/odd-characters/index.html'));
    expect(more).toEqual([]);
    expect(JSON.parse(data!)).toMatchObject({ '@type': 'Recipe' });
    expect(dataOf(pages.file('batches/odd-characters/index.html'))).toEqual([]);
  });
});

it('every address of the sitemap is a page that is built', () => {
  const map = readXml(pages.file('sitemap.xml'));
  const built = new Set(pagePaths(pages));
  const paths = map.children.map((one) =>
    childrenOf(one, 'loc')[0]!.text.replace('https://pennywort-lock.example/', ''),
  );
  expect(paths.length).toBeGreaterThan(20);
  expect(paths.filter((path) => !built.has(`${path}index.html`))).toEqual([]);
});

it('nothing that is not published stands in any file or on the kit’s page', () => {
  const all = [
    pages.file('kit/index.html'),
    pages.file('data/index.html'),
    ...pages.others.map((path) => pages.file(path)),
  ];
  for (const text of all) for (const word of [...HIDDEN, ...RECIPE_ONLY]) expect(text).not.toContain(word);
});

describe('in a browser', () => {
  let folder: string | undefined;
  afterAll(async () => {
    if (folder !== undefined) await rm(folder, { recursive: true, force: true });
  });

  it('the data block is data: nothing is run, and the policy has nothing against it', async () => {
    folder = await mkdtemp(join(tmpdir(), 'data-block-'));
    const path = join(folder, 'index.html');
    await writeFile(path, pages.file('recipes/odd-characters/index.html'));
    const browser = await openBrowser();
    try {
      const page = await browser.newPage();
      const said: string[] = [];
      page.on('console', (message) => said.push(message.text()));
      page.on('dialog', (dialog) => {
        said.push(`dialog: ${dialog.message()}`);
        void dialog.dismiss();
      });
      await page.goto(pathToFileURL(path).href);
      const block = await page.locator('script[type="application/ld+json"]').textContent();
      expect(JSON.parse(block!)).toMatchObject({
        '@type': 'Recipe',
        name: expect.stringContaining('Mild &'),
      });
      expect(said.filter((text) => /dialog|ld\+json|inline script/i.test(text))).toEqual([]);
    } finally {
      await browser.close();
    }
  });
});
