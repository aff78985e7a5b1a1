import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { isLocal } from '../../lib/site/preview/guard.ts';
import { removeStale } from '../../lib/site/stale.ts';

/** What a run that was killed while it wrote leaves beside a form, a picture, a sheet and the booklet; no process has the number. */
const LEFT = [
  'batches/kept/.kettle-sheet.pdf.99999999-1.part',
  'batches/kept/key-in/.index.html.99999999-6aa2f4f98b77.tmp',
  'recipes/kept/.picture.png.99999999-2.part',
  '.booklet.html.99999999-6aa2f4f98b77.tmp',
  '.booklet.pdf.99999999-3.part',
];

let dir: string;
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-stale-'));
  const put = async (path: string): Promise<void> => {
    await mkdir(join(dir, path, '..'), { recursive: true });
    await writeFile(join(dir, path), 'x');
  };
  for (const slug of ['kept', 'gone', 'card-only', 'with-photo']) {
    for (const file of [
      'index.html',
      'plan.json',
      'compare.js',
      'kettle-sheet.pdf',
      'recipe-card.html',
      'recipe-card.pdf',
    ])
      await put(`batches/${slug}/${file}`);
    await put(`recipes/${slug}/index.html`);
  }
  await put('batches/with-photo/photo.jpg');
  for (const left of LEFT) await put(left);
  await removeStale(dir, ['kept'], ['kept', 'card-only']);
});
afterAll(() => rm(dir, { recursive: true, force: true }));

it.each([
  ['batches/kept/plan.json', true],
  ['batches/kept/compare.js', true],
  ['batches/kept/kettle-sheet.pdf', true],
  ['recipes/kept/index.html', true],
  ['batches/gone', false],
  ['recipes/gone', false],
  ['batches/card-only/index.html', false],
  ['batches/card-only/plan.json', false],
  ['batches/card-only/compare.js', false],
  ['batches/card-only/kettle-sheet.pdf', false],
  ['batches/card-only/recipe-card.pdf', true],
  ['recipes/card-only/index.html', true],
  ['batches/with-photo/index.html', false],
  ['batches/with-photo/photo.jpg', true],
])('a batch that was withdrawn leaves nothing that a build wrote: %s stays: %s', (path, stays) => {
  expect(existsSync(join(dir, path))).toBe(stays);
});

it.each(LEFT)('what was left half written is taken away: %s', (path) => {
  expect(existsSync(join(dir, path))).toBe(false);
});

it('does nothing where nothing was built yet', async () => {
  await expect(removeStale(join(dir, 'nowhere'), [], [])).resolves.toBeUndefined();
});

it.each([
  ['127.0.0.1', 'localhost:8080', true],
  ['::1', '[::1]:8080', true],
  ['::ffff:127.0.0.1', '127.0.0.1:8080', true],
  ['192.168.1.20', 'localhost:8080', false],
  ['127.0.0.1', 'evil.example:8080', false],
  ['127.0.0.1', 'localhost.evil.example', false],
  [undefined, 'localhost', false],
  ['127.0.0.1', undefined, false],
])('the preview asked from %s as %s: %s', (address, host, answered) => {
  expect(isLocal(address, host)).toBe(answered);
});
