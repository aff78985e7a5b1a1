import { readdir, readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LoadedSite } from '../../lib/site/archive.ts';
import { loadDemo } from '../browser/demo.ts';
import { demoSite, openBrowser } from '../shared.ts';
import { htmlBelow } from './files.ts';
import { type Served, serveFolder } from './serve-folder.ts';

let browser: Browser;
let dir: string;
let demo: LoadedSite;
let served: Served;

beforeAll(async () => {
  [browser, dir, { loaded: demo }] = await Promise.all([openBrowser(), demoSite(), loadDemo()]);
  served = await serveFolder(dir, '/some/where/');
});
afterAll(async () => {
  await browser.close();
  await served.close();
});

const file = (path: string): string => {
  const [name = '', fragment] = path.split('#');
  return `${pathToFileURL(join(dir, name)).href}${fragment === undefined ? '' : `#${fragment}`}`;
};

async function open(url: string, javaScriptEnabled = true): Promise<Page> {
  const context = await browser.newContext({ javaScriptEnabled });
  const page = await context.newPage();
  await page.goto(url);
  return page;
}

const titles = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll<HTMLTableRowElement>('#batch-table tbody tr')]
      .filter((row) => !row.hidden)
      .map((row) => row.querySelector('a')?.textContent ?? ''),
  );

/** What the archive itself says: batches that use a hop, newest first. */
const withHop = (name: string): string[] =>
  demo.content.entries
    .filter(({ batch }) => batch.publish === 'all' && batch.recipe.hops.some((hop) => hop.name === name))
    .sort((a, b) => (b.batch.brewed ?? '').localeCompare(a.batch.brewed ?? ''))
    .map(({ batch }) => batch.title);

describe('the archive’s table', () => {
  it('is whole without JavaScript, with nothing to press', async () => {
    const page = await open(file('index.html'), false);
    const shown = demo.content.entries.filter(({ batch }) => batch.publish === 'all').length;
    expect(await page.locator('#batch-table tbody tr').count()).toBe(shown);
    expect(await page.locator('.sieve').isVisible()).toBe(false);
    await page.context().close();
  });

  it('shows what an address asks for, and puts what is chosen into the address', async () => {
    const page = await open(file('index.html#hop=fuggle'));
    expect(await titles(page)).toEqual(withHop('Fuggle'));
    expect(withHop('Fuggle').length).toBeGreaterThan(2);
    await page.locator('.filters summary').click();
    await page.selectOption('select[name="style"]', 'brown-ale');
    expect(await page.locator('.sieve-say').textContent()).toMatch(/^(\d) of \1, \d+ in all$/);
    expect(await page.locator('.sieve-count').textContent()).toBe(' (2)');
    expect(new URL(page.url()).hash).toBe('#style=brown-ale&hop=fuggle');
    await page.goto(file('index.html#hop=no-such-hop&sort=nonsense'));
    expect((await titles(page)).length).toBeGreaterThan(15);
    await page.context().close();
  });

  it('sorts by each column, both ways, what has no figure last', async () => {
    const page = await open(file('index.html'));
    const before = await titles(page);
    const column = (index: number): Promise<string[]> =>
      page.evaluate(
        (at) =>
          [...document.querySelectorAll<HTMLTableRowElement>('#batch-table tbody tr')].map(
            (row) => row.cells[at]?.textContent ?? '',
          ),
        index,
      );
    const button = page.locator('th[data-sort="bitterness"] button');
    await button.click();
    const strong = (await column(5)).map(Number);
    expect(strong).toEqual([...strong].sort((a, b) => b - a));
    expect(new URL(page.url()).hash).toBe('#sort=-bitterness');
    await button.click();
    expect((await column(5)).map(Number)).toEqual([...strong].reverse().sort((a, b) => a - b));
    expect(await page.locator('th[data-sort="bitterness"]').getAttribute('aria-sort')).toBe('ascending');
    await button.click();
    expect(await titles(page)).toEqual(before);
    await page.locator('th[data-sort="beer"] button').click();
    expect(await titles(page)).toEqual([...before].sort(new Intl.Collator('en').compare));
    await page.context().close();
  });

  it('lets two rows be chosen and held against each other', async () => {
    const page = await open(file('index.html'));
    await page.getByRole('button', { name: 'Compare two' }).click();
    const boxes = page.locator('#batch-table input[type="checkbox"]');
    const shown = await titles(page);
    expect(await boxes.count()).toBe(shown.length);
    for (const index of [2, 0, 1]) await boxes.nth(index).check();
    // The third takes the place of the first.
    expect(await boxes.nth(2).isChecked()).toBe(false);
    await page.getByRole('link', { name: `Compare ${shown[0]} with ${shown[1]}` }).click();
    await page.locator('.compare-out h2').first().waitFor();
    expect(await page.locator('.compare-say').textContent()).toBe(`${shown[0]} and ${shown[1]}:`);
    await page.context().close();
  });
});

describe('two batches held against each other', () => {
  const asked = 'compare/index.html#a=moorhen-brown-2&b=moorhen-brown-3';
  const entryOf = (slug: string) => demo.content.entries.find(({ batch }) => batch.slug === slug)!;

  it('stand side by side, from a plain file too: recipe, figures and notes', async () => {
    const page = await open(file(asked));
    await page.locator('.compare-out h2').first().waitFor();
    const row = page.locator('.compare-out tr', { hasText: 'Original gravity' }).last();
    const [was, is] = ['moorhen-brown-2', 'moorhen-brown-3'].map((slug) => {
      const reading = entryOf(slug).batch.readings.original_gravity;
      return reading === undefined || reading === 'not taken' ? '' : reading.written;
    });
    expect(await row.textContent()).toContain(was!.split(' ')[0]);
    expect(await row.textContent()).toContain(is!.split(' ')[0]);
    const notes = page.locator('.runs', { has: page.locator('ins') }).last();
    const words = async (mark: string): Promise<string> =>
      (await notes.locator(mark).allTextContents()).join(' ');
    // What is marked as new stands in the notes of the second, what is struck out in those of the first.
    for (const [mark, slug] of [
      ['ins', 'moorhen-brown-3'],
      ['del', 'moorhen-brown-2'],
    ] as const)
      for (const word of (await words(mark))
        .replaceAll(/left out:|now:|;/g, '')
        .split(/\s+/)
        .filter(Boolean))
        expect(entryOf(slug).batch.notes).toContain(word.replace(/;$/, ''));
    await page.getByRole('button', { name: 'The other way round' }).click();
    await page.waitForFunction(() => window.location.hash === '#a=moorhen-brown-3&b=moorhen-brown-2');
    await page.context().close();
  });

  it('are asked for in the query as well; what is no batch is not chosen', async () => {
    const page = await open(`${served.url}compare/?a=moorhen-brown-2&b=regatta-bitter`);
    await page.locator('.compare-out h2').first().waitFor();
    await page.goto(`${served.url}compare/#a=moorhen-brown-2&b=../../secret`);
    await page.waitForFunction(
      () => document.querySelector('.compare-say')?.textContent === 'Choose two batches.',
    );
    expect(await page.locator('select[name="b"]').inputValue()).toBe('');
    expect(served.missing).toEqual([]);
    await page.context().close();
  });

  it('are explained without JavaScript, with what was changed from one to the next', async () => {
    const page = await open(file('compare/index.html'), false);
    expect(await page.locator('main').textContent()).toContain('needs JavaScript');
    expect(await page.locator('.compare-box').isVisible()).toBe(false);
    await page.locator('.steps summary').click();
    await page.locator('.steps a', { hasText: 'Moorhen Brown, third' }).click();
    expect(await page.locator('#line').isVisible()).toBe(true);
    await page.context().close();
  });

  it('are never one that is not shown whole', async () => {
    const files = (await readdir(dir, { recursive: true })).filter((path) => path.endsWith('compare.js'));
    const shown = demo.content.entries.filter(({ batch }) => batch.publish === 'all');
    expect(files.filter((path) => path.includes('batches')).length).toBe(shown.length);
    const rows = await readFile(join(dir, 'archive-rows.js'), 'utf8');
    for (const { batch } of demo.content.entries)
      expect(rows.includes(JSON.stringify(batch.slug)), batch.slug).toBe(batch.publish === 'all');
  });
});

describe('search', () => {
  it('finds a batch by a word of its notes, in the site’s own index', async () => {
    const page = await open(`${served.url}search/index.html#q=windlass`);
    await page.locator('.found li').first().waitFor();
    const found = await page
      .locator('.found a')
      .evaluateAll((links) => links.map((link) => (link as HTMLAnchorElement).href));
    expect(found.join(' ')).toContain(`${served.url}batches/lost-windlass/`);
    await page.locator('.found a').first().click();
    await page.waitForURL(/windlass/);
    expect(await page.locator('h1').count()).toBe(1);
    expect(served.missing).toEqual([]);
    await page.context().close();
  });

  it('finds a beer once, and shows the words of tables apart', async () => {
    const page = await open(`${served.url}search/index.html#q=${encodeURIComponent('regatta bitter')}`);
    await page.locator('.found li').first().waitFor();
    const titles = await page.locator('.found a').allTextContents();
    expect(titles).toContain('Regatta Bitter');
    expect(titles.filter((title) => title.startsWith('Regatta Bitter'))).toHaveLength(1);
    await page.locator('.search-box input').fill('fuggle');
    await expect.poll(() => page.locator('.found li').count()).toBeGreaterThan(2);
    const texts = (await page.locator('.found p').allTextContents()).join('\n');
    expect(texts).not.toMatch(/AmountWhat|\d(?:g|kg|min)\b|\p{Ll}\d+ g/u);
    await page.context().close();
  });

  it('says that nothing has exactly a word that is misspelt', async () => {
    const page = await open(`${served.url}search/index.html#q=windlasss`);
    const say = page.locator('.search-say');
    await expect.poll(() => say.textContent()).toMatch(/^No page has (?:exactly )?“windlasss”\./);
    const box = page.locator('.search-box input');
    await box.fill('windlass');
    await expect.poll(() => say.textContent()).toMatch(/^(?:One page|\d+ pages)$/);
    await box.fill('windl');
    await expect.poll(() => say.textContent()).toMatch(/^(?:One page|\d+ pages)$/);
    await page.context().close();
  });

  it('finds beers by title, style and ingredient from a plain file too', async () => {
    const page = await open(file('search/index.html'));
    await page.locator('.search-box input').fill('brown fuggle');
    await expect.poll(() => page.locator('.found a').allTextContents()).toContain('Moorhen Brown, third');
    await page.context().close();
  });

  it('holds no word of what is not published', async () => {
    const hidden = demo.content.entries.filter(({ batch }) => batch.publish === 'nothing');
    expect(hidden.length).toBeGreaterThan(0);
    const words = await readFile(join(dir, 'search/words-1.js'), 'utf8');
    for (const { batch } of demo.content.entries) {
      const { publish, slug } = batch;
      expect(words.includes(`"batches/${slug}"`), slug).toBe(publish === 'all');
      expect(words.includes(`"recipes/${slug}"`), slug).toBe(publish === 'recipe');
    }
  });
});

describe('budgets, served below a prefix', () => {
  const PAGES = [
    'index.html',
    'batches/moorhen-brown-3/index.html',
    'recipes/regatta-bitter/index.html',
    'by/index.html',
    'years/2025/index.html',
    'search/index.html',
    'about/index.html',
    'compare/index.html#a=moorhen-brown-2&b=moorhen-brown-3',
  ];

  it.each(PAGES)('%s stays put, is light and has few elements', async (path) => {
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const page = await context.newPage();
    await page.addInitScript(() => {
      const seen = { shift: 0 };
      (window as unknown as { seen: typeof seen }).seen = seen;
      new PerformanceObserver((list) => {
        for (const entry of list.getEntries() as (PerformanceEntry & {
          value: number;
          hadRecentInput: boolean;
        })[])
          if (!entry.hadRecentInput) seen.shift += entry.value;
      }).observe({ type: 'layout-shift', buffered: true });
    });
    // Whether a typeface comes before the first frame or after it is a matter of time.
    await page.route('**/*.woff2', (route) => route.abort());
    const bodies: Promise<number>[] = [];
    page.on('response', (response) => {
      bodies.push(response.body().then((body) => gzipSync(body).length));
    });
    await page.goto(`${served.url}${path}`, { waitUntil: 'networkidle' });
    const { shift, elements } = await page.evaluate(() => ({
      shift: (window as unknown as { seen: { shift: number } }).seen.shift,
      elements: document.querySelectorAll('*').length,
    }));
    expect(shift).toBeLessThan(0.05);
    // What a browser lays out without being felt to stop.
    expect(elements).toBeLessThan(5000);
    // With styles and scripts, compressed as hosts send them; the index of words is fetched only to search.
    const bytes = (await Promise.all(bodies)).reduce((sum, one) => sum + one, 0);
    if (path !== 'search/index.html') expect(bytes).toBeLessThan(100_000);
    expect(bytes).toBeGreaterThan(1000);
    await context.close();
  });

  it('no page of the demo is heavier than 100 kB, uncompressed', async () => {
    const pages = await htmlBelow(dir);
    expect(pages.length).toBeGreaterThan(100);
    expect(pages.filter(({ html }) => Buffer.byteLength(html) > 100_000).map(({ path }) => path)).toEqual([]);
  });
});
