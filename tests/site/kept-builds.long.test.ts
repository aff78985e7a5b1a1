/** What is kept between builds gives the same bytes as a build into an empty folder, whatever was edited in between. */
import { createHash } from 'node:crypto';
import { mkdir, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { deserialize, serialize } from 'node:v8';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { cacheRoom } from './build-cache-room.ts';

let room: Awaited<ReturnType<typeof cacheRoom>>;
beforeAll(async () => {
  room = await cacheRoom({ withPlans: true });
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

const keptFile = async (ending: string): Promise<string> =>
  room.at('cache', (await readdir(room.at('cache'))).find((name) => name.endsWith(ending))!);

it('says the same after its own files were cut short, damaged, exchanged or deleted', async () => {
  for (const ending of ['.build', '.pack']) {
    const file = await keptFile(ending);
    const whole = await readFile(file);
    const put: readonly (readonly [string, Uint8Array | null])[] = [
      ['cut short', whole.subarray(0, whole.length / 2)],
      ['damaged', Buffer.from(whole).fill(7, 0, Math.floor(whole.length / 3))],
      ['damaged at its end', Buffer.from(whole).fill(7, whole.length - 5000, whole.length - 4900)],
      ['one of an earlier build', whole],
      ['deleted', null],
    ];
    // What lies in the pack has hashes of its own: one kind of damage is enough there.
    for (const [what, bytes] of ending === '.build' ? put : [put[1]!, put.at(-1)!]) {
      if (bytes === null) await rm(file);
      else await writeFile(file, bytes);
      await room.edit(room.batch('first-water'), /^title:.*$/m, `title: First Water, ${ending} ${what}`);
      expect(await room.build(), what).toBeGreaterThan(1);
      expect(await room.differences(), what).toEqual([]);
    }
  }
}, 600_000);

it('begins anew where another version of the program has kept what this one cannot unpack', async () => {
  const hashOf = (bytes: Uint8Array) => createHash('sha256').update(bytes);
  const index = await keptFile('.build');
  const stored = deserialize((await readFile(index)).subarray(32)) as { readonly batches: readonly object[] };
  const strange = Buffer.from('{"kept":"in another form"}');
  const digest = { at: 0, size: strange.length, hash: hashOf(strange).digest('hex') };
  const batches = stored.batches.map((places) => ({ ...places, digest }));
  const bytes = serialize({ ...stored, program: 'another', batches });
  await writeFile(await keptFile('.pack'), strange);
  await writeFile(index, Buffer.concat([hashOf(bytes).digest(), bytes]));
  expect(await room.build()).toBeGreaterThan(15);
  expect(await room.differences()).toEqual([]);
}, 300_000);

it('works out again what is damaged, and no more than the change costs', async () => {
  const pack = await keptFile('.pack');
  await rm(pack);
  await room.edit(room.batch('first-water'), /^title:.*$/m, 'title: First Water, packed anew');
  await room.build();
  // What every build reads lies first.
  const whole = await readFile(pack);
  await writeFile(pack, Buffer.from(whole).fill(7, Math.ceil(whole.length / 2)));
  await room.edit(room.batch('first-water'), /^title:.*$/m, 'title: First Water, damaged');
  expect(await room.build()).toBeLessThan(8);
  expect(await room.differences()).toEqual([]);
}, 300_000);

it('does not grow with every change', async () => {
  const sizes: number[] = [];
  for (const n of [1, 2, 3, 4]) {
    await room.edit(room.at('content/brewery.yaml'), /^name:.*$/m, `name: Lock ${n}`);
    await room.build();
    sizes.push((await stat(await keptFile('.pack'))).size);
  }
  expect(Math.max(...sizes)).toBeLessThan(3 * Math.min(...sizes));
  expect(await room.differences()).toEqual([]);
}, 600_000);

it('builds all the same where nothing can be kept, and says so', async () => {
  const file = await keptFile('.build');
  await rm(file);
  await mkdir(file);
  await room.edit(room.batch('first-water'), /^title:.*$/m, 'title: First Water, not kept');
  expect(await room.build()).toBeGreaterThan(1);
  expect(room.unkept()).toMatch(/directory/);
  expect(await room.differences()).toEqual([]);
}, 300_000);
