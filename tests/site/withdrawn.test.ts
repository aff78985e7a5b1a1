import { existsSync } from 'node:fs';
import { mkdir, mkdtemp, readdir, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { openOutput } from '../../lib/site/output.ts';
import { isLocal } from '../../lib/site/preview/guard.ts';
import { mayStay } from '../../lib/site/stale.ts';

/** What a run that was killed while it wrote leaves beside a form, a picture, a sheet and the booklet; no process has the number. */
const LEFT = [
  'batches/kept/.kettle-sheet.pdf.99999999-1.part',
  'batches/kept/key-in/.index.html.99999999-6aa2f4f98b77.tmp',
  'recipes/kept/.picture.png.99999999-2.part',
  '.booklet.html.99999999-6aa2f4f98b77.tmp',
  '.booklet.pdf.99999999-3.part',
];

/** Files that builds have made, by the batch. */
const MADE = ['kept', 'gone', 'card-only', 'with-photo'].flatMap((slug) => [
  ...['index.html', 'plan.json', 'compare.js', 'kettle-sheet.pdf', 'recipe-card.html', 'recipe-card.pdf'].map(
    (file) => `batches/${slug}/${file}`,
  ),
  `batches/${slug}/key-in/index.html`,
  `recipes/${slug}/index.html`,
]);

let dir: string;
const put = async (path: string): Promise<void> => {
  await mkdir(join(dir, path, '..'), { recursive: true });
  await writeFile(join(dir, path), 'x');
};
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-stale-'));
  const output = openOutput(dir);
  for (const path of [...MADE, 'booklet.html']) output.write(path, 'x');
  for (const path of ['batches/with-photo/photo.jpg', 'batches/gone-too/index.html', ...LEFT])
    await put(path);
  await openOutput(dir).removeOthers(mayStay(['kept'], ['kept', 'card-only']));
});
afterAll(() => rm(dir, { recursive: true, force: true }));

it.each([
  ['batches/kept/plan.json', true],
  ['batches/kept/compare.js', true],
  ['batches/kept/kettle-sheet.pdf', true],
  ['batches/kept/key-in', false],
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
  ['batches/gone-too/index.html', true],
  ['booklet.html', false],
])('a batch that was withdrawn leaves nothing that a build has listed: %s stays: %s', (path, stays) => {
  expect(existsSync(join(dir, path))).toBe(stays);
});

it.each(LEFT)('what was left half written is taken away: %s', (path) => {
  expect(existsSync(join(dir, path))).toBe(false);
});

it('a list that leads elsewhere takes nothing away there', async () => {
  const room = await mkdtemp(join(tmpdir(), 'kettleside-list-'));
  const site = join(room, 'site');
  openOutput(site).write('index.html', 'x');
  await writeFile(join(room, 'mine.txt'), 'x');
  const others = ['../mine.txt', join(room, 'mine.txt'), 'a/../../mine.txt', '..\\mine.txt'];
  await writeFile(join(site, '.kettleside'), ['# list', ...others, 'index.html', ''].join('\n'));
  await openOutput(site).removeOthers();
  expect(existsSync(join(room, 'mine.txt'))).toBe(true);
  expect(existsSync(join(site, 'index.html'))).toBe(false);
  await rm(room, { recursive: true });
});

it("a folder with somebody else's files is not written to, hidden ones too", async () => {
  const room = await mkdtemp(join(tmpdir(), 'kettleside-home-'));
  await writeFile(join(room, '.profile'), 'x');
  expect(() => openOutput(room)).toThrow('.profile');
  expect(await readdir(room)).toEqual(['.profile']);
  await rm(room, { recursive: true });
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
