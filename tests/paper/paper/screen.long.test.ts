import { mkdtemp, readFile, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { renderSheets } from '../../../lib/paper/engine/render-sheets.ts';
import { batch, brewery, plan } from '../../words/fixture.ts';
import { type Desk, openDesk } from './desk.ts';
import { type Bench, layOut, measure, openBench } from './open-sheet.ts';

let folder: string;
let desk: Desk;
let bench: Bench;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'screen-'));
  desk = await openDesk(folder);
  bench = await openBench();
});

afterAll(async () => {
  await bench?.close();
  await rm(folder, { recursive: true, force: true });
});

async function pagesOf(bytes: Uint8Array): Promise<string[]> {
  const loading = getDocument({ data: Uint8Array.from(bytes), verbosity: 0 });
  const document = await loading.promise;
  const pages: string[] = [];
  for (let number = 1; number <= document.numPages; number += 1) {
    const { items } = await (await document.getPage(number)).getTextContent();
    // Where words are parted is a guess of every reader's; the letters and their order are not.
    pages.push(items.map((item) => ('str' in item ? item.str : '').replace(/\s+/g, '')).join(''));
  }
  await loading.destroy();
  return pages;
}

const laid = (page: Page) => page.waitForSelector('html[data-sheet="ready"]');

/** Presses a button and waits until the pages are laid out anew. */
async function press(page: Page, name: string): Promise<void> {
  const again = page.evaluate(
    () => new Promise((done) => document.addEventListener('kettleside:ready', done, { once: true })),
  );
  await page.getByRole('button', { name, exact: true }).click();
  await again;
}

const pressed = (page: Page): Promise<(string | null)[]> =>
  page.locator('button[aria-pressed="true"]').allTextContents();

describe('a sheet on the screen', () => {
  it.each(['kettle', 'cellar', 'card'] as const)(
    'prints from the browser what the built PDF of the %s sheet has',
    async (kind) => {
      const path = await desk.write(`screen-${kind}`, kind, batch, plan, brewery);
      await layOut(bench.page, path);
      const printed = await pagesOf(await bench.page.pdf({ preferCSSPageSize: true, printBackground: true }));
      const pdfPath = join(folder, `${kind}.pdf`);
      const job = { id: kind, htmlPath: path, pdfPath, paper: 'a4' as const };
      const { results } = await renderSheets([job], { cacheDir: join(folder, 'cache') });
      expect(results[0]?.error).toBeUndefined();
      const built = await pagesOf(await readFile(pdfPath));
      expect(printed).toEqual(built);
      expect(built.join(' ').length).toBeGreaterThan(500);
    },
  );

  it('shows its bar on the screen and never on paper', async () => {
    const path = await desk.write('bar', 'kettle', batch, plan, brewery);
    await layOut(bench.page, path);
    const bar = bench.page.locator('.bar');
    expect(await bar.isVisible()).toBe(true);
    await bench.page.emulateMedia({ media: 'print' });
    expect(await bar.isVisible()).toBe(false);
    await bench.page.emulateMedia({ media: null });
    await bench.page.evaluate(() => {
      window.print = () => document.body.setAttribute('data-printed', 'yes');
    });
    await bench.page.getByRole('button', { name: 'Print' }).click();
    expect(await bench.page.locator('body').getAttribute('data-printed')).toBe('yes');
  });

  it('is seen, below its bar, while its pages are laid out', async () => {
    const { page } = bench;
    const path = await desk.write('before', 'kettle', batch, plan, brewery);
    await layOut(page, path);
    expect(await page.locator('body > main').count()).toBe(0);
    await page.evaluate(() => {
      const seen = () => document.querySelector('.bar + main')?.checkVisibility({ visibilityProperty: true });
      new MutationObserver(() => {
        if (document.documentElement.dataset.sheet !== 'ready' && document.querySelector('.pagedjs_page'))
          document.body.dataset.seen ??= String(seen());
      }).observe(document.body, { childList: true, subtree: true });
    });
    await press(page, 'Letter');
    expect(await page.locator('body').getAttribute('data-seen')).toBe('true');
    expect(await page.locator('body > main').count()).toBe(0);
  });

  it('turns to the other paper and back without a build, and keeps it in its address', async () => {
    const { page } = bench;
    const path = await desk.write('paper', 'kettle', batch, plan, brewery);
    const before = await layOut(page, path);
    const width = async () => (await page.locator('.pagedjs_page').first().boundingBox())?.width ?? 0;
    const letters = (await page.locator('.pagedjs_pages').innerText()).replace(/\s+/g, ' ');
    expect(await pressed(page)).toEqual(['A4']);
    await press(page, 'Letter');
    expect(page.url()).toMatch(/#paper=letter$/);
    expect(await pressed(page)).toEqual(['Letter']);
    // 8.5 in of 96 px.
    expect(Math.abs((await width()) - 816)).toBeLessThan(1.5);
    const pdf = await page.pdf({ preferCSSPageSize: true, printBackground: true });
    expect((await pagesOf(pdf)).length).toBe(await page.locator('.pagedjs_page').count());
    await press(page, 'A4');
    // 210 mm.
    expect(Math.abs((await width()) - (210 * 96) / 25.4)).toBeLessThan(1.5);
    expect(await page.locator('.pagedjs_page').count()).toBe(before);
    expect((await page.locator('.pagedjs_pages').innerText()).replace(/\s+/g, ' ')).toBe(letters);
  });

  it.each(['kettle', 'cellar', 'card'] as const)(
    'sets the %s sheet in larger type on as many pages as it takes',
    async (kind) => {
      const { page } = bench;
      const path = await desk.write(`larger-${kind}`, kind, batch, plan, brewery);
      const before = await layOut(page, path);
      const blanks = await page.locator('[data-field]').count();
      await press(page, 'Larger type');
      expect(page.url()).toContain('type=larger');
      expect(await pressed(page)).toEqual(['A4', 'Larger type']);
      const pages = await page.locator('.pagedjs_page').count();
      expect(pages).toBeGreaterThanOrEqual(before);
      if (kind === 'kettle') {
        expect(pages).toBeGreaterThan(before);
        // A fifth more than 15 pt.
        for (const step of await measure(page, '.step')) expect(step.points).toBeCloseTo(18, 1);
      }
      expect(await page.locator('[data-field]').count()).toBe(blanks);
      const parts = await measure(page, '.pagedjs_page_content *');
      for (const part of parts.filter(({ width }) => width > 0)) {
        const told = `page ${part.page} ${part.role} ${part.text}`;
        expect(part.x + part.width, told).toBeLessThanOrEqual(200.3);
      }
      await page.reload();
      await laid(page);
      expect(await page.locator('.pagedjs_page').count()).toBe(pages);
      await press(page, 'Larger type');
      expect(await page.locator('.pagedjs_page').count()).toBe(before);
    },
  );
});
