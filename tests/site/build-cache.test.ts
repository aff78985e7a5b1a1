import { stat } from 'node:fs/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { cacheRoom } from './build-cache-room.ts';

let room: Awaited<ReturnType<typeof cacheRoom>>;
beforeAll(async () => {
  room = await cacheRoom();
});
afterAll(() => room.remove());

it('makes what a change costs and no more, byte for byte as a clean build', async () => {
  const all = (await room.build())!;
  expect(all).toBeGreaterThan(15);
  expect(await room.build()).toBeNull();
  const untouched = ['batches/dredger-stout/index.html', 'assets/recipe.js', 'assets/fonts/LICENSE.txt'];
  const times = () => Promise.all(untouched.map(async (path) => (await stat(room.at('kept', path))).ctimeMs));
  const before = await times();
  await room.edit(room.batch('regatta-bitter'), /^title:.*$/m, 'title: Regatta Renamed');
  // Its neighbours in the order of brewing show the title too.
  expect(await room.build()).toBe(3);
  expect(await times()).toEqual(before);
  expect(await room.differences()).toEqual([]);
  // Of a family the others show the title.
  await room.edit(room.batch('moorhen-brown-1'), /^title:.*$/m, 'title: Moorhen Renamed');
  const family = await room.build();
  expect(family).toBeGreaterThanOrEqual(3);
  expect(family).toBeLessThanOrEqual(7);
  expect(await room.differences()).toEqual([]);
}, 300_000);
