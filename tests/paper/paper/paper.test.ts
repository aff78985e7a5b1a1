import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Brewery } from '../../../lib/batch/types/brewery.ts';
import { sheetFields } from '../../../lib/paper/blanks.ts';
import type { SheetKind } from '../../../lib/paper/render-input.ts';
import { readStrip, stripCode } from '../../../lib/photo/strip.ts';
import { batch, brewery, plan } from '../../words/fixture.ts';
import { type Desk, openDesk } from './desk.ts';
import { type Bench, layOut, measure, openBench, texts } from './open-sheet.ts';

/** Browsers snap to device pixels: 1/96 in is 0.26 mm, and a box has two edges. */
const PIXEL_MM = 0.27;
const FRAME = { width: 190, height: 259 };
const LEFT: { readonly [P in Brewery['paper']]: number } = { a4: 10, letter: (215.9 - 190) / 2 };
const TOP: { readonly [P in Brewery['paper']]: number } = { a4: (297 - 259) / 2, letter: (279.4 - 259) / 2 };

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
    // One to prepare from, two for the wall.
    expect(pages).toBe(kind === 'kettle' ? 3 : 1);
  });

  it('keeps everything within 190 by 259 mm, in the middle of the paper', async () => {
    const parts = await measure(bench.page, '.pagedjs_page_content *, .pagedjs_margin-content > *');
    expect(parts.length).toBeGreaterThan(50);
    for (const part of parts.filter(({ width, height }) => width > 0 && height > 0)) {
      const told = `page ${part.page} ${part.role} ${part.text}`;
      expect(part.x, told).toBeGreaterThanOrEqual(LEFT[paper] - PIXEL_MM);
      expect(part.x + part.width, told).toBeLessThanOrEqual(LEFT[paper] + FRAME.width + PIXEL_MM);
      expect(part.y, told).toBeGreaterThanOrEqual(TOP[paper] - PIXEL_MM);
      expect(part.y + part.height, told).toBeLessThanOrEqual(TOP[paper] + FRAME.height + PIXEL_MM);
    }
  });

  it('sets steps at 15 pt, minutes left at 24, ranges and tables of the wall at 13, nothing below 11', async () => {
    const least = async (selector: string): Promise<number> =>
      Math.min(...(await measure(bench.page, selector)).map((part) => part.points));
    if (kind === 'kettle') {
      expect(await least('.step')).toBeGreaterThanOrEqual(15);
      expect(await least('.mark .left')).toBeGreaterThanOrEqual(24);
      expect(
        await least('.strips td, .field .range, .step-notes, .stove .caution .text, .after .caution .text'),
      ).toBeGreaterThanOrEqual(13);
      expect(await least('.headlines .value')).toBeGreaterThanOrEqual(24);
    }
    if (kind === 'cellar') expect(await least('.priming td, .rules p')).toBeGreaterThanOrEqual(13);
    const set = await texts(bench.page);
    expect(set.length).toBeGreaterThan(30);
    for (const one of set) expect(one.points, one.text).toBeGreaterThanOrEqual(11);
  });

  it('has a gauge of at most 20 mm with a board of at most 5, cautions of two lines at most', async () => {
    if (kind !== 'kettle') return;
    for (const mark of await measure(bench.page, '.rung > .mark')) expect(mark.width).toBeLessThanOrEqual(20);
    const staff = await bench.page.evaluate(() => {
      const box = document.querySelector('.pagedjs_page:has(.stove) .pagedjs_pagebox')!;
      return (Number.parseFloat(getComputedStyle(box, '::after').width) * 25.4) / 96;
    });
    expect(staff).toBeGreaterThan(3);
    expect(staff).toBeLessThanOrEqual(5);
    // 13 pt with its lines 1.08 apart are 4.95 mm; 0.5 mm of rules and room.
    for (const one of await measure(bench.page, '.stove .caution .text, .after .caution .text'))
      expect(one.height, one.text).toBeLessThanOrEqual(2 * 4.95 + 1.5);
  });

  it('shows as its only circles those that say left out', async () => {
    const round = await bench.page.evaluate(
      () =>
        [...document.querySelectorAll('.pagedjs_page_content *')].filter(
          (part) => getComputedStyle(part).borderRadius === '50%',
        ).length,
    );
    const additions = sheetFields(batch, units).filter(({ sheet, at }) => sheet === kind && at !== null);
    expect(round).toBe(additions.length);
    expect(await bench.page.locator('[data-circle]').count()).toBe(additions.length);
  });

  it('carries on each page a strip that says which page it is', async () => {
    const drawn = await bench.page.evaluate(() =>
      [...document.querySelectorAll('.pagedjs_pagebox')].map((box) => {
        const strip = box.querySelector('.strip');
        const area = strip?.getBoundingClientRect();
        const paths = strip?.querySelector('path')?.getAttribute('d') ?? '';
        return { paths, width: area?.width ?? 0, height: area?.height ?? 0 };
      }),
    );
    expect(drawn).toHaveLength(pages);
    for (const [at, { paths, width, height }] of drawn.entries()) {
      expect(width * 25.4).toBeCloseTo(160 * 96, -2);
      expect(height * 25.4).toBeCloseTo(2.5 * 96, -2);
      const samples = new Array<number>(64).fill(-1);
      for (const [, from, to] of paths.matchAll(/M(\d+) 0H(\d+)V1/g))
        for (let cell = Number(from); cell < Number(to); cell++) samples[cell] = 1;
      const page = { sheet: kind, page: at + 1, slug: plan.slug, revision: plan.revision };
      expect(readStrip(samples), `page ${at + 1}`).toBe(stripCode(page));
    }
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
    const large = await measure(bench.page, '.blanks .boxes:not(.small) .cell.digit');
    const small = await measure(bench.page, '.row-boxes .cell.digit, .boxes.small .cell.digit');
    if (kind === 'kettle') expect(large.length).toBeGreaterThan(25);
    if (kind !== 'card') expect(small.length).toBeGreaterThan(10);
    for (const box of large)
      expect([box.width, box.height].map((one) => Math.round(one * 10))).toEqual([80, 100]);
    for (const box of small)
      expect([box.width, box.height].map((one) => Math.round(one * 10))).toEqual([60, 90]);
  });

  it('keeps blanks 3 mm apart', async () => {
    const boxes = await measure(bench.page, '[data-field]');
    for (const one of boxes) {
      const beside = boxes.filter(
        (other) =>
          other.page === one.page &&
          other.x > one.x &&
          other.y < one.y + one.height &&
          one.y < other.y + other.height,
      );
      for (const other of beside) expect(other.x - one.x - one.width).toBeGreaterThanOrEqual(3 - PIXEL_MM);
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
