/** Photographs of pages: what the command says of them, and the page that it writes to confirm on. */
import { existsSync, mkdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import sharp from 'sharp';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import type { KeyInData } from '../../lib/browser/key-in/data.ts';
import type { Grey } from '../../lib/photo/grey.ts';
import type { PhotoField } from '../../lib/photo/strip.ts';
import { buildSite } from '../../lib/site/build.ts';
import { type Ran, run } from '../commands/run.ts';
import { openBrowser } from '../shared.ts';
import { PEN_ONLY } from '../tools/photo/handwriting.ts';
import { drawnPage, fillPage, printPage } from '../tools/photo/paper.ts';
import { photograph } from '../tools/photo/photograph.ts';
import { randomFrom } from '../tools/photo/random.ts';
import { type Kitchen, kitchen, serve, TOKEN } from './serving.ts';

const SLUG = 'twelfth-night-old';
const KEYS: Partial<Record<PhotoField['kind'], string>> = {
  clock: 'heating_started',
  gravity: 'original_gravity',
};
const drawn = drawnPage('sheet', 2, { slug: SLUG, revision: 'abc' });
const page = {
  ...drawn,
  fields: Object.entries(KEYS).map(([kind, key]) => ({
    ...drawn.fields.find((field) => field.kind === kind)!,
    key,
  })),
};

/** A photograph of the page with both numbers filled in and none corrected. */
function taken(revision: string, seed = 1): { readonly grey: Grey; readonly digits: readonly string[] } {
  const random = randomFrom(seed);
  const { ink, truth } = fillPage(page, random, PEN_ONLY, 'test', 6);
  if (!page.fields.every(({ id }) => /^[\d ]*\d$/.test(truth.get(id)!.digits.join(''))))
    return taken(revision, seed + 1);
  const printed = printPage(page, random, PEN_ONLY, { batch: { slug: SLUG, revision }, perMm: 6 });
  return {
    grey: photograph(printed, ink, random, 'easy', 1400),
    digits: page.fields.map(({ id }) => truth.get(id)!.digits.join('')),
  };
}

/** The width of a common phone. */
const PHONE = { width: 390, height: 844 };

let room: Kitchen;
const file = (name: string): string => join(room.dir, name);
const jpeg = ({ width, height, pixels }: Grey, name: string) =>
  sharp(pixels, { raw: { width, height, channels: 1 } })
    .jpeg({ quality: 90 })
    .toFile(file(name));
const photo = (...names: readonly string[]): Promise<Ran> =>
  run('photo', [
    ...['--content', room.content, '--output', room.dir, '--private-output', file('private')],
    ...['--to', room.dir, ...names.map(file)],
  ]);

beforeAll(() => {
  room = kitchen([SLUG]);
  mkdirSync(file(`batches/${SLUG}`), { recursive: true });
  const { paper_mm, corner_marks_mm, strip, fields } = page;
  const printed = {
    ...{ version: 2, slug: SLUG, revision: 'abc', paper_mm, corner_marks_mm },
    pages: { 'kettle-sheet': 2, 'cellar-sheet': 0 },
    strips: { 'kettle-sheet': ['00000000000', strip] },
    fields: fields.map((field) => ({ sheet: 'kettle-sheet', page: 2, ...field })),
  };
  writeFileSync(file(`batches/${SLUG}/fields.json`), JSON.stringify(printed));
});
afterAll(() => room.remove());

describe('npm run photo', () => {
  it('writes a page on which guesses stand beside crops, and keys nothing in', async () => {
    const { grey, digits } = taken('abc');
    await jpeg(grey, 'one.jpg');
    const before = room.text(SLUG);
    const ran = await photo('one.jpg');
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(ran.out).toContain(`Kettle sheet, page 2 of ${SLUG}: 2 of 2 numbers filled in`);
    expect(ran.out).toContain(`key-in -- ${SLUG} --file ${SLUG}-readings.txt`);
    expect(room.text(SLUG)).toBe(before);
    const html = readFileSync(file(`${SLUG}-photographs.html`), 'utf8');
    const [, json = ''] = /id="key-in-data">(.*?)<\/script>/s.exec(html) ?? [];
    const { seen } = JSON.parse(json) as KeyInData;
    const blanks = seen.flatMap((each) => each.blanks);
    expect(blanks.map(({ key }) => key)).toEqual(page.fields.map(({ key }) => key));
    expect(blanks.map(({ groups }) => groups[0]?.digits)).toEqual(digits);
    for (const { src } of blanks) expect(src).toMatch(/^data:image\/jpeg;base64,/);
    expect(html).not.toMatch(/(?:src|href)="(?!data:)[^"#]*\.(?:js|css|woff2)/);
  });

  it('keeps the straightened page with the batch where asked', async () => {
    await jpeg(taken('abc').grey, 'one.jpg');
    expect(
      (
        await run('photo', [
          ...['--content', room.content, '--output', room.dir, '--private-output', file('private')],
          ...['--to', room.dir, '--keep', file('one.jpg')],
        ])
      ).code,
    ).toBe(0);
    const kept = join(room.content, 'batches', SLUG, 'sheet-kettle-2.jpg');
    const { width, height, exif } = await sharp(kept).metadata();
    expect([width, height, exif]).toEqual([1050, 1485, undefined]);
  });

  it('says of each picture why it was not read', async () => {
    await jpeg(taken('def').grey, 'other.jpg');
    const plain = (width: number, height: number, name: string) =>
      sharp({ create: { width, height, channels: 3, background: '#ccc' } })
        .jpeg()
        .toFile(file(name));
    await Promise.all([
      plain(8200, 6200, 'large.jpg'),
      plain(12_000, 9500, 'huge.jpg'),
      plain(600, 400, 'small.jpg'),
    ]);
    writeFileSync(file('text.jpg'), 'no picture');
    writeFileSync(file('film.mp4'), 'no picture');
    const ran = await photo('other.jpg', 'large.jpg', 'huge.jpg', 'small.jpg', 'text.jpg', 'film.mp4');
    expect([ran.code, ran.err]).toEqual([1, '']);
    const said = ran.out
      .trim()
      .split('\n')
      .map((line) => line.slice(line.indexOf(': ') + 2));
    expect(said).toEqual([
      'not read. It shows kettle sheet, page 2, but of another batch or of another print. Looked for: 2 pages of 1 batch.',
      'not read. Nothing dark is on it: no page of a sheet, or one too pale to be seen.',
      'not read. It has more than 110 megapixels. Take it again with the usual setting of the camera.',
      'not read. It has fewer than 1,000 pixels along its longer side, too few for digits. Take it closer.',
      'not read. It cannot be opened as a picture. A JPEG from a phone’s camera always can.',
      'not read. It is a video. Take a photograph of each page.',
    ]);
  });

  it('asks for files that are there', async () => {
    expect((await photo('none.jpg')).code).toBe(2);
    expect((await photo()).code).toBe(2);
    expect(existsSync(file('none.jpg'))).toBe(false);
  });
});

describe('the form on a phone', () => {
  it('takes photographs to the batch file: what was tapped and what was typed, and nothing else', async () => {
    const site = file('site');
    await buildSite({ contentDir: room.content, outputDir: site });
    const served = await serve(room.content, { site, printedTo: [file('batches')] });
    const browser = await openBrowser();
    const context = await browser.newContext({ viewport: PHONE, hasTouch: true, isMobile: true });
    await context.addCookies([{ name: 'kettleside-code', value: TOKEN, url: served.origin }]);
    const form = await context.newPage();
    const asked: string[] = [];
    form.on('request', (request) => {
      if (!request.url().startsWith(served.origin)) asked.push(request.url());
    });
    const { grey, digits } = taken('abc');
    await Promise.all([jpeg(grey, 'one.jpg'), jpeg(taken('def').grey, 'other.jpg')]);
    const before = room.text(SLUG);
    await form.goto(`${served.origin}/batches/${SLUG}/key-in/`);
    await form.setInputFiles('#photographs', ['other.jpg', 'one.jpg'].map(file));
    await form.waitForSelector('.photographs li:has-text("filled in")');
    expect(await form.locator('.photographs li').allTextContents()).toEqual([
      expect.stringMatching(/^other\.jpg: not read\. It shows kettle sheet, page 2, but of another batch/),
      expect.stringMatching(/^Kettle sheet, page 2: 2 blanks filled in, none confirmed yet\./),
    ]);
    expect(await form.textContent('.count')).toBe('Nothing new yet');
    const crops = form.locator('.seen img');
    expect(await crops.count()).toBe(2);
    const wide = await form.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
    expect(wide).toBeLessThanOrEqual(0);
    // The clock is confirmed as it was read, the gravity typed over the guess.
    const [clock = '', gravity = ''] = page.fields.map(({ key }) => key);
    await form.tap('.seen .offer >> nth=0');
    await form.locator('[data-blank]:has(.seen) input[inputmode="decimal"]').first().fill('1.061');
    await form.tap('.bar button');
    for (const tick of await form.$$('input[id$="-ok"]')) await tick.check();
    if (await form.$('input[id$="-ok"]')) await form.tap('.bar button');
    await form.waitForSelector('#review:not([hidden])');
    expect(room.text(SLUG)).toBe(before);
    await form.tap('.bar button');
    await form.waitForSelector('#review :text-is("Saved")');
    const saved = parse(/^---\n([\s\S]*?\n)---/.exec(room.text(SLUG))?.[1] ?? '', { schema: 'failsafe' });
    const time = `${digits[0]!.slice(0, 2)}:${digits[0]!.slice(2)}`;
    expect(saved.readings).toEqual({ [clock]: time, [gravity]: expect.stringMatching(/^1\.061/) });
    expect(asked).toEqual([]);
    await browser.close();
    await served.close();
  });
});
