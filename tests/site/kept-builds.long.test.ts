/** What is kept between builds gives the same bytes as a build into an empty folder, whatever was edited in between. */
import { mkdir, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { cacheRoom } from './build-cache-room.ts';

let room: Awaited<ReturnType<typeof cacheRoom>>;
beforeAll(async () => {
  room = await cacheRoom();
  await room.build();
});
afterAll(() => room.remove());

it('mends a page that somebody has edited, taken away or put back with its old time', async () => {
  const page = room.at('kept/batches/dredger-stout/index.html');
  const text = await readFile(page, 'utf8');
  const { atime, mtime } = await stat(page);
  await writeFile(page, text.replace('Dredger', 'Dragger'));
  await utimes(page, atime, mtime);
  expect(await room.build()).toBe(1);
  expect(await readFile(page, 'utf8')).toBe(text);
  await rm(page);
  await rm(room.at('kept/search/words-1.js'));
  await rm(room.at('kept/assets/site.css'));
  expect(await room.build()).toBe(1);
  expect(await room.differences()).toEqual([]);
}, 300_000);

it('says the same after its own file was cut short, damaged, exchanged or deleted', async () => {
  const file = room.at('cache', (await readdir(room.at('cache')))[0]!);
  const whole = await readFile(file);
  const damaged = (from: number, to: number) => Buffer.from(whole).fill(7, from, to);
  const put: readonly (readonly [string, Uint8Array | null])[] = [
    ['cut short', whole.subarray(0, whole.length / 2)],
    // Plans lie before the index; a damaged one is planned again.
    ['plans damaged', damaged(0, Math.floor(whole.length / 4))],
    ['index damaged', damaged(whole.length - 5000, whole.length - 4900)],
    ['one of an earlier build', whole],
    ['deleted', null],
  ];
  for (const [what, bytes] of put) {
    if (bytes === null) await rm(file);
    else await writeFile(file, bytes);
    await room.edit(room.batch('first-water'), /^title:.*$/m, `title: First Water, ${what}`);
    expect(await room.build(), what).toBeGreaterThan(1);
    expect(await room.differences(), what).toEqual([]);
  }
}, 600_000);

it('builds all the same where nothing can be kept, and says so', async () => {
  const file = room.at('cache', (await readdir(room.at('cache')))[0]!);
  await rm(file);
  await mkdir(file);
  await room.edit(room.batch('first-water'), /^title:.*$/m, 'title: First Water, not kept');
  expect(await room.build()).toBeGreaterThan(1);
  expect(room.unkept()).toMatch(/directory/);
  expect(await room.differences()).toEqual([]);
}, 300_000);
