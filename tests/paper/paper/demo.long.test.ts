import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { Brewery } from '../../../lib/batch/types/brewery.ts';
import type { SheetKind } from '../../../lib/paper/render-input.ts';
import { type ArchiveFolder, batchFiles, checkArchive } from '../../batches/archive.ts';
import { brewery } from '../../words/fixture.ts';
import { type Desk, openDesk } from './desk.ts';
import { type Bench, layOut, measure, openBench } from './open-sheet.ts';

/** Batches that are out of the ordinary on purpose: they may take more pages, but lose nothing. */
const EXTREME = ['eleven-grains', 'long-names', 'twenty-additions'];
/** Two ways of packaging need two blocks on the cellar sheet. */
const most = (kind: SheetKind, batch: Batch): number => {
  if (EXTREME.includes(batch.slug)) return kind === 'kettle' ? 9 : 2;
  // Four by the stove, and the list to buy from.
  if (kind === 'kettle') return 5;
  return kind === 'cellar' && batch.recipe.packaging.length > 1 ? 2 : 1;
};

const archives: readonly { folder: ArchiveFolder; others: readonly string[]; units: Brewery['units'] }[] = [
  { folder: 'content/', others: batchFiles('tests/batches/'), units: 'metric' },
  { folder: 'tests/batches/us-units/', others: [], units: 'us' },
];
const cases = archives.flatMap(({ folder, others, units }) =>
  checkArchive(folder, others).files.flatMap(({ slug, batch }) =>
    batch === null ? [] : [{ slug, batch, units }],
  ),
);

let folder: string;
let desk: Desk;
let bench: Bench;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'demo-paper-'));
  desk = await openDesk(folder);
  bench = await openBench();
});

afterAll(async () => {
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
        expect(pages, `${kind} on ${paper}`).toBeLessThanOrEqual(most(kind, batch));
        expect(await bench.page.locator('html').getAttribute('data-sheet')).toBe('ready');
        const wide = await measure(bench.page, '.pagedjs_page_content *');
        for (const part of wide.filter(({ width }) => width > 0))
          expect(part.x + part.width, `${kind} on ${paper}: ${part.text}`).toBeLessThanOrEqual(198.3);
      }
    }
  });
});
