import {
  appendFileSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  truncateSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type FoundBrowser, findBrowser } from '../../../lib/paper/engine/find-browser.ts';
import { renderSheets } from '../../../lib/paper/engine/render-sheets.ts';
import type { SheetJob } from '../../../lib/paper/engine/sheet.ts';
import { SheetCache } from '../../../lib/paper/engine/sheet-cache.ts';
import { AssetDigests, assetsOf, sheetKey } from '../../../lib/paper/engine/sheet-key.ts';
import { kettleSheet, Workplace } from './workplace.ts';

describe('printing again', () => {
  const place = new Workplace();
  let jobs: SheetJob[];
  let first: Buffer[];
  /** Same version, no program: whatever is printed with it fails, whatever is cached does not. */
  let absent: FoundBrowser;

  beforeAll(async () => {
    jobs = ['a', 'b'].map((name) => place.sheet(name, { body: kettleSheet(4, name) }));
    const found = await findBrowser();
    if ('missing' in found) throw new Error(found.missing);
    absent = { ...found, source: 'path', path: place.path('no-browser') };
    const { results } = await renderSheets(jobs, { cacheDir: place.cacheDir, browser: found });
    expect(results.map((result) => result.status)).toEqual(['rendered', 'rendered']);
    first = jobs.map((job) => readFileSync(job.pdfPath));
  });
  afterAll(() => place.remove());

  const again = () => renderSheets(jobs, { cacheDir: place.cacheDir, browser: absent });

  it('starts no browser and leaves the files alone', async () => {
    const before = jobs.map((job) => statSync(job.pdfPath).mtimeMs);
    const { results } = await again();
    expect(results.map((result) => result.status)).toEqual(['unchanged', 'unchanged']);
    expect(results[0]?.fields).toHaveLength(5);
    expect(results[0]?.pages).toBe(1);
    expect(jobs.map((job) => statSync(job.pdfPath).mtimeMs)).toEqual(before);
  });

  it('writes a lost or damaged PDF from the cache', async () => {
    rmSync(jobs[0]?.pdfPath ?? '');
    truncateSync(jobs[1]?.pdfPath ?? '', 100);
    const { results } = await again();
    expect(results.map((result) => result.status)).toEqual(['rendered', 'rendered']);
    expect(jobs.map((job) => readFileSync(job.pdfPath))).toEqual(first);
  });

  it.each([
    ['cut short', (path: string) => truncateSync(path, statSync(path).size - 1)],
    ['empty', (path: string) => truncateSync(path, 0)],
    ['longer than it was', (path: string) => appendFileSync(path, 'x')],
    ['of other bytes', (path: string) => flipByte(path, statSync(path).size - 200)],
    ['of other facts', (path: string) => flipByte(path, 120)],
  ])('does not use an entry that is %s', async (_, damage) => {
    const { results: whole } = await renderSheets(jobs, { cacheDir: place.cacheDir });
    expect(whole.map((result) => result.status)).toEqual(['unchanged', 'unchanged']);
    for (const name of entriesIn(place.cacheDir)) damage(join(place.cacheDir, name));
    const { results } = await again();
    expect(results.map((result) => result.status)).toEqual(['failed', 'failed']);
    expect(results[0]?.error?.code).toBe('browser-start');
    expect(jobs.map((job) => readFileSync(job.pdfPath))).toEqual(first);
  });

  it('does not use an entry under the name of another', async () => {
    const cache = new SheetCache(place.path('swapped'));
    const sheet = { pdf: Buffer.from('pdf of a'), pages: 1, fields: [], overflow: [] };
    await cache.keep('a'.repeat(64), sheet);
    expect((await cache.read('a'.repeat(64)))?.pdf.toString()).toBe('pdf of a');
    writeFileSync(
      place.path('swapped', `${'b'.repeat(64)}.sheet`),
      readFileSync(place.path('swapped', `${'a'.repeat(64)}.sheet`)),
    );
    expect(await cache.read('b'.repeat(64))).toBeUndefined();
  });
});

describe('the key of a sheet', () => {
  const place = new Workplace();
  afterAll(() => place.remove());
  const html = '<img src="../../assets/mark.svg"><script src="../../assets/paged.polyfill.js"></script>';
  const sheet = { html, htmlPath: place.path('site', 'batches', '12', 'k.html'), paper: 'a4' } as const;
  const key = (changes: object = {}, browser = '1.2.3.4') =>
    sheetKey({ ...sheet, ...changes }, browser, new AssetDigests());

  it('changes with the text, the paper, the browser, and the bytes of a file it loads', async () => {
    writeFileSync(place.asset('mark.svg'), '<svg/>');
    const base = await key();
    expect(await key()).toBe(base);
    const others = [
      await key({ html: `${html} ` }),
      await key({ paper: 'letter' }),
      await key({}, '1.2.3.5'),
    ];
    writeFileSync(place.asset('mark.svg'), '<svg />');
    others.push(await key());
    rmSync(place.asset('mark.svg'));
    others.push(await key());
    expect(new Set([base, ...others]).size).toBe(6);
  });

  it('is the same for a copy of the site in another folder', async () => {
    const copy = new Workplace();
    const there = await key({ htmlPath: copy.path('site', 'batches', '12', 'k.html') });
    copy.remove();
    expect(there).toBe(await key());
  });

  it('counts what a sheet loads, and not where it links to', () => {
    const text = `<a href="other.html">x</a><link rel="icon" href='i.svg'><img alt="" src=p.png?v=1>
<svg><use href="#mark"/><image href="q.svg"/></svg><style>b{background:url("bg.png")}</style>
<img src="data:image/png;base64,AA=="><img src="https://example.org/x.png">`;
    expect(assetsOf(text, '/site/b/k.html')).toEqual(
      ['bg.png', 'i.svg', 'p.png', 'q.svg'].map((n) => `/site/b/${n}`),
    );
  });
});

describe('the size of the cache', () => {
  const place = new Workplace();
  afterAll(() => place.remove());

  it('stays under its limit, and what was asked for last is kept', async () => {
    const cache = new SheetCache(place.cacheDir);
    const keys = ['1', '2', '3', '4'].map((digit) => digit.repeat(64));
    for (const [at, key] of keys.entries()) {
      await cache.keep(key, { pdf: new Uint8Array(10_000), pages: 1, fields: [], overflow: [] });
      const day = new Date(Date.now() - (10 - at) * 86_400_000);
      utimesSync(join(place.cacheDir, `${key}.sheet`), day, day);
    }
    await cache.read(keys[0] ?? '');
    await cache.prune(25_000);
    expect(entriesIn(place.cacheDir)).toEqual([keys[0], keys[3]].map((key) => `${key}.sheet`));
    await cache.prune(25_000, 3 * 86_400_000);
    expect(entriesIn(place.cacheDir)).toEqual([`${keys[0]}.sheet`]);
  });
});

function entriesIn(folder: string): string[] {
  return readdirSync(folder).sort();
}

function flipByte(path: string, at: number): void {
  const bytes = readFileSync(path);
  bytes[at] = (bytes[at] ?? 0) ^ 1;
  writeFileSync(path, bytes);
}
