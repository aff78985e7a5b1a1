import { cp, mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { dirname, join, posix } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LoadedSite } from '../../lib/site/archive.ts';
import { createPages } from '../../lib/site/pages.ts';
import type { SiteEntry } from '../../lib/site/site.ts';
import { loadDemo } from '../browser/demo.ts';
import { demoSite, openBrowser } from '../shared.ts';

let browser: Browser;
let dir: string;
let demo: LoadedSite;

beforeAll(async () => {
  [browser, dir, { loaded: demo }] = await Promise.all([openBrowser(), demoSite(), loadDemo()]);
});
afterAll(() => browser.close());

/** The demo archive over and over, each copy a year earlier and a little stronger on paper. */
function many(entries: readonly SiteEntry[], count: number): SiteEntry[] {
  const shown = entries.filter(({ batch }) => batch.publish === 'all');
  return Array.from({ length: count }, (_, i) => {
    const { batch, plan } = shown[i % shown.length]!;
    const slug = `${batch.slug}-${i}`;
    const year = 2026 - Math.floor(i / 40);
    return {
      batch: {
        ...batch,
        slug,
        number: i,
        brewed: `${year}${batch.brewed?.slice(4) ?? '-01-01'}`,
        basedOn: null,
      },
      plan: { ...plan, slug },
    };
  });
}

describe('a thousand batches', () => {
  let thousand: string;
  let pages: { path: string; html: string }[];
  beforeAll(async () => {
    thousand = await mkdtemp(join(tmpdir(), 'kettleside-thousand-'));
    const content = { brewery: demo.content.brewery, entries: many(demo.content.entries, 1000) };
    const all = createPages(content);
    await cp(join(dir, 'assets'), join(thousand, 'assets'), { recursive: true });
    const ways = all.others.filter((path) => !/^batches\/.*\/(?:key-in|compare)/.test(path));
    const made: [string, string][] = [
      ['index.html', all.file('index.html')],
      ['kit/index.html', all.file('kit/index.html')],
      ...ways.map((path): [string, string] => [path, all.file(path)]),
    ];
    for (const [path, text] of made) {
      await mkdir(dirname(join(thousand, path)), { recursive: true });
      await writeFile(join(thousand, path), text);
    }
    pages = made.flatMap(([path, html]) => (path.endsWith('.html') ? [{ path, html }] : []));
  });
  afterAll(() => rm(thousand, { recursive: true, force: true }));
  const big = (path: string): string => {
    const [name = '', fragment] = path.split('#');
    return `${pathToFileURL(join(thousand, name)).href}${fragment === undefined ? '' : `#${fragment}`}`;
  };

  it('stand on pages of less than 100 kB each, uncompressed', () => {
    expect(pages.length).toBeGreaterThan(100);
    const heavy = pages.filter(({ html }) => Buffer.byteLength(html) > 100_000);
    expect(heavy.map(({ path, html }) => `${path}: ${Buffer.byteLength(html)}`)).toEqual([]);
  });

  it('are all reached without JavaScript, from page to page', () => {
    const byPath = new Map(pages.map((one) => [one.path, one.html]));
    const linksOf = (path: string, html: string): string[] =>
      [...html.matchAll(/<a href="([^"#]+)/g)].map(([, href = '']) => posix.join(posix.dirname(path), href));
    const seen = new Set<string>();
    const visit = (path: string): void => {
      const html = byPath.get(path);
      if (html === undefined || seen.has(path)) return;
      seen.add(path);
      for (const next of linksOf(path, html)) if (next.startsWith('archive/')) visit(next);
    };
    visit('index.html');
    const found = new Set(
      [...seen]
        .flatMap((path) => linksOf(path, byPath.get(path)!))
        .filter((path) => path.startsWith('batches/')),
    );
    expect(found.size).toBe(1000);
  });

  it('are filtered through all pages, and shown as many as a page has until more are asked for', async () => {
    const page = await (await browser.newContext()).newPage();
    await page.goto(big('index.html#hop=fuggle'));
    await page.waitForFunction(() =>
      document.querySelector('.sieve-say')?.textContent?.includes('1000 in all'),
    );
    const count = Number(
      /of (\d+), 1000 in all/.exec((await page.locator('.sieve-say').textContent()) ?? '')?.[1],
    );
    const uses = demo.content.entries.filter(({ batch }) => batch.publish === 'all');
    const share = uses.filter(({ batch }) => batch.recipe.hops.some(({ name }) => name === 'Fuggle')).length;
    expect(Math.abs(count - (1000 * share) / uses.length)).toBeLessThan(uses.length);
    expect(await page.locator('#batch-table tbody tr').count()).toBe(100);
    expect(await page.locator('.pages').isVisible()).toBe(false);
    await page.locator('.sieve-say button').click();
    expect(await page.locator('#batch-table tbody tr').count()).toBe(count);
    await page.locator('th[data-sort="day"] button').click();
    const days = await page
      .locator('#batch-table time')
      .evaluateAll((all) => all.map((one) => (one as HTMLTimeElement).dateTime));
    expect(days).toEqual([...days].sort());
    expect(days[0]! < '2005').toBe(true);
    await page.context().close();
  });
});
