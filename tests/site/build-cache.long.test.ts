import { cp, mkdir, readFile, rm, writeFile } from 'node:fs/promises';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { seeded } from '../tools/fuzz/random.ts';
import { cacheRoom } from './build-cache-room.ts';

let room: Awaited<ReturnType<typeof cacheRoom>>;
beforeAll(async () => {
  room = await cacheRoom();
});
afterAll(() => room.remove());

/** Edits of any kind of file; each changes something. */
const EDITS: readonly (readonly [string, () => Promise<void>])[] = [
  ['a note', () => writeMore(room.batch('hedge-hop-pale'), '\nOne more line of notes.\n')],
  ['a tag', () => room.edit(room.batch('lock-house-wit'), /^title:/m, 'tags: [canal]\ntitle:')],
  ['a reading', () => room.edit(room.batch('towpath-pale'), /boil_end_volume: .*/, 'boil_end_volume: 8.1 L')],
  ['a setup', () => room.edit(room.at('content/setups.yaml'), /^( +)boil_off:.*$/m, '$1boil_off: 4.7 L/h')],
  ['the brewery', () => room.edit(room.at('content/brewery.yaml'), /^name:.*$/m, 'name: Lower Lock')],
  [
    'what is published',
    () => room.edit(room.batch('bramble-ale'), /^---\ntitle:/, '---\npublish: recipe\ntitle:'),
  ],
  ['one more', () => cp(room.batch('towpath-pale'), room.batch('towpath-again'))],
  ['one less', () => rm(room.batch('towpath-again'), { force: true })],
  ['an error', () => room.edit(room.batch('black-ice-lager'), /^title:/m, 'titel:')],
  ['a mended error', () => room.edit(room.batch('black-ice-lager'), /^titel:/m, 'title:')],
  [
    'a private word',
    () => room.edit(room.batch('cousins-porter'), /^title:/m, 'private: for nobody\ntitle:'),
  ],
  ['the units', () => room.edit(room.at('content/brewery.yaml'), /^units:.*$/m, 'units: us')],
];
const writeMore = async (file: string, more: string): Promise<void> =>
  writeFile(file, (await readFile(file, 'utf8')) + more);

it(`gives the same bytes after edits at random`, async () => {
  const random = seeded(20_261_129);
  const open = [...EDITS];
  const done: string[] = [];
  while (open.length > 0) {
    // Two at a time, so that not every state in between is built.
    for (let n = 0; n < 2 && open.length > 0; n += 1) {
      // An error can only be mended, and a batch taken away, once it is there.
      const which = Math.floor(random.next() * Math.min(open.length, 3));
      const [what, make] = open.splice(which, 1)[0]!;
      if (what === 'a mended error' && !done.includes('an error')) {
        open.push([what, make]);
        continue;
      }
      await make();
      done.push(what);
    }
    await room.build();
    expect(await room.differences(), done.join(', ')).toEqual([]);
  }
  expect(done.length).toBe(EDITS.length);
}, 600_000);

it('publishes a photograph that was exchanged for another of the same name', async () => {
  const { default: sharp } = await import('sharp');
  const file = room.at('content/batches/dredger-stout/glass.png');
  await mkdir(room.at('content/batches/dredger-stout'), { recursive: true });
  const draw = (background: string) =>
    sharp({ create: { width: 500, height: 400, channels: 3, background } }).toFile(file);
  await draw('#123456');
  const pictures = 'pictures:\n  - { file: glass.png, alt: a glass of it }\ntitle:';
  await room.edit(room.batch('dredger-stout'), /^title:/m, pictures);
  await room.build();
  const published = room.at('kept/batches/dredger-stout/picture-1-360.jpg');
  const before = await readFile(published);
  await draw('#654321');
  // Its neighbours in the order of brewing are made with it.
  expect(await room.build()).toBeLessThanOrEqual(3);
  expect(before.equals(await readFile(published))).toBe(false);
  expect(await room.differences()).toEqual([]);
}, 600_000);
