import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import axe from 'axe-core';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { demoSite, openBrowser } from '../shared.ts';
import { fixtureSite } from './build-fixture.ts';

let site: Awaited<ReturnType<typeof fixtureSite>>;
let browser: Browser;

beforeAll(async () => {
  [site, browser] = await Promise.all([fixtureSite(), openBrowser()]);
});
afterAll(() => browser.close());

function address(path: string): string {
  const [file = '', fragment] = path.split('#');
  return `${pathToFileURL(join(site.dir, file)).href}${fragment === undefined ? '' : `#${fragment}`}`;
}

async function open(context: BrowserContext, path: string) {
  const page = await context.newPage();
  const requests: string[] = [];
  const complaints: string[] = [];
  page.on('request', (request) => requests.push(request.url()));
  page.on('requestfailed', (request) => complaints.push(`failed: ${request.url()}`));
  page.on('console', (message) => complaints.push(message.text()));
  page.on('dialog', (dialog) => {
    complaints.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  await page.goto(address(path));
  return { page, requests, complaints };
}

/** What a checker finds that keeps a reader out. */
async function barriers(page: Page): Promise<string[]> {
  await page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true");
  await page.evaluate(axe.source);
  const { found, passed } = await page.evaluate(async () => {
    const run = (window as unknown as { axe: typeof axe }).axe.run;
    // It may not ask for files, as no page may.
    const { violations, passes } = await run({ preload: false });
    return {
      found: violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.html).join(' ')}`),
      passed: passes.length,
    };
  });
  expect(passed).toBeGreaterThan(10);
  return found;
}

/** Pages that are looked at: of the fixture, of the demo at some widths, and sheets of the fixture. */
interface Looked {
  readonly pages: readonly string[];
  readonly demo: readonly string[];
  readonly widths: readonly number[];
  readonly sheets: readonly string[];
}

/** Tests of how pages look when they are opened as plain files. */
export function looksRight({ pages, demo, widths, sheets }: Looked): void {
  describe('opened as a plain file', () => {
    it.each(pages)(
      '%s asks its own folder alone, keeps no reader out, and fits a narrow screen',
      async (path) => {
        const context = await browser.newContext({ viewport: { width: 1280, height: 900 } });
        const { page, requests, complaints } = await open(context, path);
        await page.waitForLoadState('networkidle');
        const font = await page.evaluate(() => document.fonts.check('700 16px "Atkinson Hyperlegible Next"'));
        expect(font).toBe(true);
        expect(requests.length).toBeGreaterThan(2);
        expect(requests.filter((url) => !url.startsWith(address('')))).toEqual([]);
        expect(complaints).toEqual([]);
        expect(await barriers(page)).toEqual([]);
        await page.emulateMedia({ colorScheme: 'dark' });
        expect(await barriers(page)).toEqual([]);
        await page.setViewportSize({ width: 360, height: 800 });
        const { wide, ends } = await page.evaluate(() => ({
          wide: document.documentElement.scrollWidth,
          ends: [...document.querySelectorAll('body *')]
            .filter((e) => !e.closest('.hidden, .skip, .stack thead, .scroll, pre'))
            .filter((e) => e.getBoundingClientRect().right > 360.5)
            .map((e) => e.outerHTML.slice(0, 80)),
        }));
        expect(wide).toBe(360);
        expect(ends).toEqual([]);
        await context.close();
      },
    );

    it('every page has its heading and its words without JavaScript', async () => {
      const still = await browser.newContext({ javaScriptEnabled: false });
      for (const path of pages) {
        const { page } = await open(still, path);
        expect([path, await page.locator('h1').count(), await page.locator('main').isVisible()]).toEqual([
          path,
          1,
          true,
        ]);
        await page.close();
      }
      await still.close();
    });
  });

  describe.each(widths)('on a screen %i wide', (width) => {
    it.each(demo)('%s of the demo runs over neither open nor closed', async (path) => {
      const context = await browser.newContext({ viewport: { width, height: 800 } });
      const page = await context.newPage();
      await page.goto(`${pathToFileURL(await demoSite()).href}/${path}`);
      await page.waitForLoadState('networkidle');
      const wide = () => page.evaluate(() => document.documentElement.scrollWidth);
      expect(await wide()).toBe(width);
      await page.evaluate("for (const one of document.querySelectorAll('details')) one.open = true");
      expect(await wide()).toBe(width);
      await context.close();
    });
  });

  describe('a sheet opened as a plain file', () => {
    it.each(sheets)('%s lays itself out in pages, asking nobody, and keeps no reader out', async (path) => {
      const context = await browser.newContext();
      const { page, requests, complaints } = await open(context, path);
      await page.waitForSelector('html[data-sheet]', { state: 'attached' });
      expect(await page.getAttribute('html', 'data-sheet')).toBe('ready');
      expect(requests.filter((url) => !/^(?:file|data|blob):/.test(url))).toEqual([]);
      expect(requests.filter((url) => url.startsWith('file:') && !url.startsWith(address('')))).toEqual([]);
      expect(complaints).toEqual([]);
      expect(await barriers(page)).toEqual([]);
      await context.close();
    });
  });
}
