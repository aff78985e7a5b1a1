import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Brewery } from '../../../lib/batch/types/brewery.ts';
import { sheetFields } from '../../../lib/paper/blanks.ts';
import type { SheetKind } from '../../../lib/paper/render-input.ts';
import { batch, brewery, plan } from '../../words/fixture.ts';
import { type Desk, openDesk } from './desk.ts';
import { type Bench, layOut, measure, openBench, texts } from './open-sheet.ts';

/** Browsers snap to device pixels: 1/96 in is 0.26 mm, and a box has two edges. */
const PIXEL_MM = 0.27;
const FRAME = { x: 20, width: 178, height: 252 };
const TOP: { readonly [P in Brewery['paper']]: number } = { a4: (297 - 252) / 2, letter: (279.4 - 252) / 2 };

const CASES = (['kettle', 'cellar', 'card'] as const).flatMap((kind) =>
  (
    [
      ['a4', 'metric'],
      ['letter', 'us'],
    ] as const
  ).map(([paper, units]) => ({ kind, paper, units })),
);

let folder: string;
let desk: Desk;
let bench: Bench;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'paper-'));
  desk = await openDesk(folder);
  bench = await openBench();
});

afterAll(async () => {
  await bench?.close();
  await rm(folder, { recursive: true, force: true });
});

const sheetOf = (kind: SheetKind): 'kettle' | 'cellar' | null => (kind === 'card' ? null : kind);

describe.each(CASES)('$kind sheet on $paper in $units units', ({ kind, paper, units }) => {
  let pages: number;
  let pdf: Uint8Array;
  beforeAll(async () => {
    const path = await desk.write(`${kind}-${paper}`, kind, batch, plan, { ...brewery, paper, units });
    pages = await layOut(bench.page, path);
    pdf = Uint8Array.from(await bench.page.pdf({ preferCSSPageSize: true, printBackground: true }));
  });

  it('is laid out, on as many pages as it may have', async () => {
    expect(await bench.page.locator('html').getAttribute('data-sheet')).toBe('ready');
    // Two to four by the stove, and the list to buy from.
    if (kind === 'kettle') expect([3, 4, 5]).toContain(pages);
    else expect(pages).toBe(1);
  });

  it('keeps everything within 178 by 252 mm, 20 mm from the left', async () => {
    const parts = await measure(bench.page, '.pagedjs_page_content *, .pagedjs_margin-content > *');
    expect(parts.length).toBeGreaterThan(50);
    for (const part of parts.filter(({ width, height }) => width > 0 && height > 0)) {
      const told = `page ${part.page} ${part.role} ${part.text}`;
      expect(part.x, told).toBeGreaterThanOrEqual(FRAME.x - PIXEL_MM);
      expect(part.x + part.width, told).toBeLessThanOrEqual(FRAME.x + FRAME.width + PIXEL_MM);
      expect(part.y, told).toBeGreaterThanOrEqual(TOP[paper] - PIXEL_MM);
      expect(part.y + part.height, told).toBeLessThanOrEqual(TOP[paper] + FRAME.height + PIXEL_MM);
    }
  });

  it('sets steps at 18 pt, headline values at 28 pt, tables and ranges at 14 pt, nothing below 12 pt', async () => {
    const least = async (selector: string): Promise<number> =>
      Math.min(...(await measure(bench.page, selector)).map((part) => part.points));
    if (kind === 'kettle') {
      expect(await least('.step')).toBeGreaterThanOrEqual(18);
      expect(
        await least('.strips td, .field .range, .step-notes, .list .what, .gone'),
      ).toBeGreaterThanOrEqual(14);
    }
    if (kind === 'cellar') expect(await least('.priming td, .rules p')).toBeGreaterThanOrEqual(14);
    expect(await least('.headlines .value')).toBeGreaterThanOrEqual(28);
    expect(await least('.headlines .range, .headlines .label, .caution .text')).toBeGreaterThanOrEqual(14);
    const set = await texts(bench.page);
    expect(set.length).toBeGreaterThan(30);
    for (const one of set) expect(one.points, one.text).toBeGreaterThanOrEqual(12);
  });

  it('is black on white, upright, in one typeface', async () => {
    for (const one of await texts(bench.page)) {
      expect(one.style, one.text).toBe('normal');
      expect(one.color, one.text).toMatch(/^rgb\((0, 0, 0|255, 255, 255)\)$/);
      expect(one.family, one.text).toContain('Atkinson Hyperlegible Next');
    }
    const loaded = await bench.page.evaluate(() =>
      [...document.fonts].map((face) => `${face.weight} ${face.status}`),
    );
    expect(loaded.filter((face) => face.endsWith(' loaded')).length).toBeGreaterThanOrEqual(2);
  });

  it('splits no step, row, caution or blank, and leaves no heading behind', async () => {
    const split = await measure(
      bench.page,
      '.held[data-split-from], tr[data-split-from], .rung[data-split-from], .caution[data-split-from], .field[data-split-from]',
    );
    expect(split).toEqual([]);
    const alone = await bench.page.evaluate(
      () =>
        [...document.querySelectorAll('.stage-title, .caution')].filter(
          (part) => part.nextElementSibling === null,
        ).length,
    );
    expect(alone).toBe(0);
  });

  it('says on every page which batch, plan and page it is', async () => {
    const document_ = await getDocument({ data: pdf.slice(), verbosity: 0 }).promise;
    expect(document_.numPages).toBe(pages);
    for (let number = 1; number <= pages; number += 1) {
      const content = await (await document_.getPage(number)).getTextContent();
      const text = content.items
        .map((item) => ('str' in item ? item.str : ''))
        .join(' ')
        .replace(/\s+/g, ' ');
      expect(text).toContain(batch.title);
      expect(text).toContain(`plan ${plan.revision.slice(0, 8)}`);
      expect(text).toContain(`page ${number} of ${pages}`);
      if (kind !== 'card') expect(text).toContain('Batch 12, 14 Feb 2026');
    }
  });

  it('has a box for every blank, once', async () => {
    const wanted = sheetFields(batch, units).filter((field) => field.sheet === sheetOf(kind));
    const ids = await bench.page.evaluate(() =>
      [...document.querySelectorAll<HTMLElement>('[data-field]')].map((part) => part.dataset.field ?? ''),
    );
    expect([...ids].sort()).toEqual(wanted.map((field) => field.id).sort());
    for (const box of await measure(bench.page, '[data-field]'))
      expect(box.width * box.height).toBeGreaterThan(50);
  });

  it('draws digit boxes of 8 by 10 mm, of 6 by 9 mm in rows', async () => {
    const large = await measure(bench.page, '.fields:not(.row-boxes) .cell.digit');
    const small = await measure(bench.page, '.row-boxes .cell.digit');
    if (kind === 'kettle') expect(large.length).toBeGreaterThan(30);
    if (kind !== 'card') expect(small.length).toBeGreaterThan(10);
    for (const box of large)
      expect([box.width, box.height].map((one) => Math.round(one * 10))).toEqual([80, 100]);
    for (const box of small)
      expect([box.width, box.height].map((one) => Math.round(one * 10))).toEqual([60, 90]);
  });

  it('keeps blanks 3 mm apart, and 10 mm free beside those that stand alone', async () => {
    const boxes = await measure(bench.page, '[data-field]');
    const alone = await measure(bench.page, '.fields:not(.row-boxes) [data-field]');
    const lone = new Set(alone.map((box) => `${box.page} ${box.x} ${box.y}`));
    for (const one of boxes) {
      const room = lone.has(`${one.page} ${one.x} ${one.y}`) ? 10 : 3;
      const beside = boxes.filter(
        (other) =>
          other.page === one.page &&
          other.x > one.x &&
          other.y < one.y + one.height &&
          one.y < other.y + other.height,
      );
      for (const other of beside) expect(other.x - one.x - one.width).toBeGreaterThanOrEqual(room - PIXEL_MM);
    }
  });
});

describe('the code on a recipe card', () => {
  it('is at least 30 mm wide, and there only where the brewer has a site', async () => {
    const card = async (url: string | null) => {
      const path = await desk.write('code', 'card', batch, plan, { ...brewery, url });
      await layOut(bench.page, path);
      return measure(bench.page, 'svg.code');
    };
    const [code] = await card(brewery.url);
    // The quiet zone of four modules a side belongs to the drawing, not to the 30 mm.
    expect(code?.width).toBeGreaterThanOrEqual(30);
    expect(await card(null)).toEqual([]);
  });
});

describe('without scripts', () => {
  it('can still be read', async () => {
    const path = await desk.write('still', 'kettle', batch, plan, brewery);
    const context = await bench.browser.newContext({ javaScriptEnabled: false });
    const page = await context.newPage();
    await page.goto(pathToFileURL(path).href);
    const steps = await page.locator('.step').allInnerTexts();
    expect(steps.join(' ')).toContain('Pitch');
    expect(await page.locator('.step').first().isVisible()).toBe(true);
    await context.close();
  });
});
