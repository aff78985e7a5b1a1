/** What is kept between builds gives the same bytes as a build into an empty folder, whatever was edited in between. */
import { cp, mkdtemp, readdir, readFile, rm, stat, utimes, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { openBuildCache } from '../../lib/site/build-cache.ts';
import { openOutput } from '../../lib/site/output.ts';
import { seeded } from '../tools/fuzz/random.ts';
import { filesBelow } from './files.ts';

let dir: string;
const at = (...parts: string[]) => join(dir, ...parts);
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-cache-'));
  await cp('content', at('content'), { recursive: true });
});
afterAll(() => rm(dir, { recursive: true, force: true }));

/** Builds as the commands do; gives how many batches were made anew, or null where nothing had to be done. */
async function build(): Promise<number | null> {
  const cache = openBuildCache([at('content'), at('kept')], at('cache'));
  const data = await loadSite(at('content'), { memory: cache.memory });
  const output = openOutput(at('kept'));
  const whole = cache.wholeKey(data, []);
  if (cache.isWhole(whole, [output])) return null;
  const { keys, batches } = await buildSite({
    contentDir: at('content'),
    outputDir: at('kept'),
    output,
    cache,
    data,
  });
  await output.removeOthers();
  cache.keep(keys, [output], whole);
  return batches.anew;
}

/** Every file that differs between what is kept and what a build into an empty folder gives. */
async function differences(): Promise<string[]> {
  await rm(at('clean'), { recursive: true, force: true });
  await buildSite({ contentDir: at('content'), outputDir: at('clean') });
  const [kept, clean] = [await filesBelow(at('kept')), await filesBelow(at('clean'))];
  const differ: string[] = [];
  for (const path of new Set([...kept, ...clean])) {
    const of = (folder: string) => readFile(at(folder, path), 'latin1').catch(() => folder);
    if ((await of('kept')) !== (await of('clean'))) differ.push(path);
  }
  return differ;
}

const batch = (slug: string) => at('content/batches', `${slug}.md`);
const edit = async (file: string, was: RegExp, now: string): Promise<void> => {
  const text = await readFile(file, 'utf8');
  const edited = text.replace(was, now);
  expect(edited, `${file} ${was}`).not.toBe(text);
  await writeFile(file, edited);
};

it('makes what a change costs and no more, byte for byte as a clean build', async () => {
  const all = (await build())!;
  expect(all).toBeGreaterThan(15);
  expect(await build()).toBeNull();
  const before = await stat(at('kept/batches/dredger-stout/index.html'));
  await edit(batch('regatta-bitter'), /^title:.*$/m, 'title: Regatta Renamed');
  expect(await build()).toBe(1);
  expect((await stat(at('kept/batches/dredger-stout/index.html'))).mtimeMs).toBe(before.mtimeMs);
  expect(await differences()).toEqual([]);
  // Of a family the others show the title.
  await edit(batch('moorhen-brown-1'), /^title:.*$/m, 'title: Moorhen Renamed');
  expect(await build()).toBe(3);
  expect(await differences()).toEqual([]);
}, 300_000);

it('mends a page that somebody has edited, taken away or put back with its old time', async () => {
  const page = at('kept/batches/dredger-stout/index.html');
  const text = await readFile(page, 'utf8');
  const { atime, mtime } = await stat(page);
  await writeFile(page, text.replace('Dredger', 'Dragger'));
  await utimes(page, atime, mtime);
  expect(await build()).toBe(1);
  expect(await readFile(page, 'utf8')).toBe(text);
  await rm(page);
  await rm(at('kept/pagefind/pagefind-entry.json'));
  await rm(at('kept/assets/site.css'));
  expect(await build()).toBe(1);
  expect(await differences()).toEqual([]);
}, 300_000);

it('says the same after its own file was cut short, damaged or deleted', async () => {
  const [name = ''] = await readdir(at('cache'));
  const whole = await readFile(at('cache', name));
  for (const bytes of [whole.subarray(0, whole.length / 2), Buffer.from(whole).fill(7, 5000, 5100), null]) {
    if (bytes === null) await rm(at('cache', name));
    else await writeFile(at('cache', name), bytes);
    await edit(batch('first-water'), /^title:.*$/m, `title: First Water ${bytes?.length ?? 0}`);
    expect(await build()).toBeGreaterThan(1);
  }
  expect(await differences()).toEqual([]);
}, 300_000);

/** Edits of any kind of file; each changes something. */
const EDITS: readonly (readonly [string, () => Promise<void>])[] = [
  ['a note', () => writeMore(batch('night-lock'), '\nOne more line of notes.\n')],
  ['a tag', () => edit(batch('lock-house-wit'), /^title:/m, 'tags: [canal]\ntitle:')],
  ['a reading', () => edit(batch('towpath-pale'), /boil_end_volume: .*/, 'boil_end_volume: 8.1 L')],
  ['a setup', () => edit(at('content/setups.yaml'), /^( +)boil_off:.*$/m, '$1boil_off: 4.7 L/h')],
  ['the brewery', () => edit(at('content/brewery.yaml'), /^name:.*$/m, 'name: Lower Lock')],
  ['what is published', () => edit(batch('bramble-ale'), /^---\ntitle:/, '---\npublish: recipe\ntitle:')],
  ['one more', () => cp(batch('towpath-pale'), batch('towpath-again'))],
  ['one less', () => rm(batch('towpath-again'), { force: true })],
  ['an error', () => edit(batch('black-ice-lager'), /^title:/m, 'titel:')],
  ['a mended error', () => edit(batch('black-ice-lager'), /^titel:/m, 'title:')],
  ['a private word', () => edit(batch('cousins-porter'), /^title:/m, 'private: for nobody\ntitle:')],
  ['the units', () => edit(at('content/brewery.yaml'), /^units:.*$/m, 'units: us')],
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
      const at = Math.floor(random.next() * Math.min(open.length, 3));
      const [what, make] = open.splice(at, 1)[0]!;
      if (what === 'a mended error' && !done.includes('an error')) {
        open.push([what, make]);
        continue;
      }
      await make();
      done.push(what);
    }
    await build();
    expect(await differences(), done.join(', ')).toEqual([]);
  }
  expect(done.length).toBe(EDITS.length);
}, 600_000);
