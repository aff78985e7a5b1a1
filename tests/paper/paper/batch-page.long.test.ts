/** The page of a batch as a browser prints it. */
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { countPages } from '../../../lib/paper/engine/pdf-bytes.ts';
import { demoSite, openBrowser } from '../../shared.ts';
import { filesBelow } from '../../site/files.ts';
import { type Served, serveFolder } from '../../site/serve-folder.ts';

/** The margins that a browser's print dialogue sets by itself are about 0.4 in (seen, no source). */
const margin = { top: '10mm', right: '10mm', bottom: '10mm', left: '10mm' };

let browser: Browser;
let served: Served;
let pages: readonly string[];
beforeAll(async () => {
  const folder = await demoSite();
  pages = [...(await filesBelow(folder))].filter((path) => /^batches\/[^/]+\/index\.html$/.test(path));
  served = await serveFolder(folder);
  browser = await openBrowser();
});
afterAll(async () => {
  await browser?.close();
  await served?.close();
});

it.each(['A4', 'Letter'])(
  'every batch is printed on one %s sheet of paper, on both sides at most',
  async (format) => {
    expect(pages.length).toBeGreaterThan(10);
    const page = await browser.newPage();
    for (const path of pages) {
      await page.goto(served.url + path);
      const pdf = await page.pdf({ format, margin });
      expect.soft(countPages(pdf), path).toBeLessThanOrEqual(2);
    }
  },
);
