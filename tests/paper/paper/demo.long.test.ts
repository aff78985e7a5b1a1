import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { Brewery } from '../../../lib/batch/types/brewery.ts';
import type { SheetKind } from '../../../lib/paper/render-input.ts';
import { type ArchiveFolder, batchFiles, checkArchive } from '../../archive/strained/archive.ts';
import { brewery } from '../../words/fixture.ts';
import { type Desk, openDesk } from './desk.ts';
import { type Bench, layOut, measure, openBench, openHinting } from './open-sheet.ts';

/** Batches that are out of the ordinary on purpose: they may take more pages, but lose nothing. */
const EXTREME: { readonly [slug: string]: number } = {
  'eleven-grains': 4,
  'long-names': 5,
  'twenty-additions': 5,
};
/** One to prepare from and two for the wall; two ways of packaging need two blocks on the cellar sheet. */
const most = (kind: SheetKind, batch: Batch): number => {
  if (kind === 'kettle') return EXTREME[batch.slug] ?? 3;
  return kind === 'cellar' && batch.recipe.packaging.length > 1 ? 2 : 1;
};
/**
 * How full a page is at least of what stands on it, the last page of a sheet apart: one that is read in the hand, and one on the
 * wall, which goes on with what comes next where it would be less full. What is left over goes between the blocks.
 */
const LEAST_FILL = { hand: 0.6, wall: 0.8 };
/** Before, Stove, After. A longer recipe ends a part where it ends, and the next begins on a page of its own. */
const PARTS = 3;
const ROOM_MM = 246;
const RIGHT_MM = { a4: 200, letter: 202.95 };

/** Where the last block of each page ends, in millimetres from the top of its room, with nothing put between the blocks to fill it. */
const footsOf = (page: Page): Promise<number[]> =>
  page.evaluate(() => {
    for (const one of document.querySelectorAll('[data-spread]')) one.removeAttribute('data-spread');
    return [...document.querySelectorAll('.pagedjs_page')].map((sheet) => {
      const room = sheet.querySelector('.pagedjs_page_content')!.getBoundingClientRect();
      const blocks = [...sheet.querySelectorAll('.part > *')].map((block) => block.getBoundingClientRect());
      return ((Math.max(...blocks.map(({ bottom }) => bottom)) - room.top) * 25.4) / 96;
    });
  });

/** Blanks by the page that they stand on. */
const blanksOf = (page: Page): Promise<string[]> =>
  page.evaluate(() =>
    [...document.querySelectorAll('.pagedjs_page')].map((sheet) =>
      [...sheet.querySelectorAll<HTMLElement>('[data-field]')].map(({ dataset }) => dataset.field).join(' '),
    ),
  );

const archives: readonly { folder: ArchiveFolder; others: readonly string[]; units: Brewery['units'] }[] = [
  { folder: 'content/', others: batchFiles('tests/archive/strained/'), units: 'metric' },
  { folder: 'tests/archive/strained/us-units/', others: [], units: 'us' },
];
const cases = archives.flatMap(({ folder, others, units }) =>
  checkArchive(folder, others).files.flatMap(({ slug, batch }) =>
    batch === null ? [] : [{ slug, batch, units }],
  ),
);

let folder: string;
let desk: Desk;
let bench: Bench;
/** A browser that fits letters to the dots of a screen, as those of readers do. */
let hinting: Browser;
let hinted: Page;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'demo-paper-'));
  desk = await openDesk(folder);
  bench = await openBench();
  hinting = await openHinting();
  hinted = await hinting.newPage();
}, 120_000);

afterAll(async () => {
  await hinting?.close();
  await bench?.close();
  await rm(folder, { recursive: true, force: true });
});

describe('the archive on paper', () => {
  it('has batches to print', () => {
    expect(cases.length).toBeGreaterThan(20);
  });

  it.each(cases)('$slug', async ({ slug, batch, units }) => {
    const result = planBatch(batch, { ...brewery, units });
    if (!result.ok)
      throw new Error(`${slug} has no plan: ${result.problems.map(({ found }) => found).join('; ')}`);
    for (const paper of ['a4', 'letter'] as const) {
      for (const kind of ['kettle', 'cellar', 'card'] as const) {
        const path = await desk.write(slug, kind, batch, result.plan, { ...brewery, units, paper });
        const pages = await layOut(bench.page, path);
        const told = `${kind} on ${paper}`;
        expect(pages, told).toBeLessThanOrEqual(most(kind, batch));
        expect(await bench.page.locator('html').getAttribute('data-sheet')).toBe('ready');
        const wide = await measure(bench.page, '.pagedjs_page_content *');
        for (const part of wide.filter(({ width }) => width > 0))
          expect(part.x + part.width, `${told}: ${part.text}`).toBeLessThanOrEqual(RIGHT_MM[paper] + 0.3);
        const foots = await footsOf(bench.page);
        for (const [at, foot] of (foots.length > PARTS ? [] : foots.slice(0, -1)).entries())
          expect
            .soft(foot / ROOM_MM, `${told}, page ${at + 1}`)
            .toBeGreaterThanOrEqual(at === 0 ? LEAST_FILL.hand : LEAST_FILL.wall);
        const blanks = await blanksOf(bench.page);
        await layOut(hinted, path);
        expect(await blanksOf(hinted), `${told}, letters hinted`).toEqual(blanks);
      }
    }
  });
});
