/** Which batches of the published site have a form, and what is in it. */
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadSite } from '../../lib/site/archive.ts';
import { createPages, type Pages } from '../../lib/site/pages.ts';
import { smallBatch } from '../commands/run.ts';
import { type Kitchen, kitchen } from './serving.ts';

const SECRET = 'Zwielichtmoor';
const READING = 'krausen like a wet dog';
/** More than anybody has under way. */
const UNFINISHED = 40;
const log = ['readings:', '  fermentation:', `    - { on: 2026-02-18, gravity: 1.020, note: ${READING} }`];
const given: Readonly<Record<string, readonly string[]>> = {
  shown: ['private: |', `  ${SECRET}`, ...log, '  chilled: { at: not taken, temperature: 24 °C }'],
  'recipe-only': ['publish: recipe', ...log],
  closed: ['publish: false', ...log],
  bottled: [...log, '  packaged: { on: 2026-03-01, volume: 9 L }'],
  drunk: [...log, '  tasted:', '    - { on: 2026-04-01, score: 4 }'],
  spilt: [...log, '  abandoned: { on: 2026-03-01, why: it fell over }'],
};

let room: Kitchen;
let pages: Pages;
beforeAll(async () => {
  room = kitchen([]);
  for (const [slug, lines] of Object.entries(given)) room.write(slug, smallBatch(slug, lines));
  for (let i = 0; i < UNFINISHED; i++) room.write(`under-way-${i}`, smallBatch(`Under way ${i}`));
  pages = createPages((await loadSite(room.content)).content);
});
afterAll(() => room.remove());

const path = (slug: string): string => `batches/${slug}/key-in/index.html`;
const dataOf = (slug: string) =>
  JSON.parse(
    /<script type="application\/json" id="key-in-data">(.*?)<\/script>/s.exec(pages.file(path(slug)))?.[1] ??
      '',
  );

describe('the form without a server', () => {
  it('is there for every batch that is still open, however many they are, and for no other', () => {
    const forms = pages.others.filter((each) => each.includes('/key-in/'));
    const open = ['shown', 'bottled', ...Array.from({ length: UNFINISHED }, (_, i) => `under-way-${i}`)];
    expect([...forms].sort()).toEqual(open.map(path).sort());
  });

  it('knows what the file says, parts that were not taken too', () => {
    expect(dataOf('shown').raw).toEqual({
      readings: {
        fermentation: [{ on: '2026-02-18', gravity: '1.020', note: READING }],
        chilled: { at: 'not taken', temperature: '24 °C' },
      },
    });
    expect(dataOf('under-way-0').raw).toEqual({ readings: {} });
  });

  it('keeps what is private, and what of a batch is not published, to itself', () => {
    expect(pages.file(path('shown'))).toContain(READING);
    for (const each of pages.others) expect([each, pages.file(each).includes(SECRET)]).toEqual([each, false]);
    expect(pages.site.rawOf('recipe-only')).toEqual({});
    expect(pages.site.rawOf('closed')).toEqual({});
  });

  it('is left to the server where there is one', async () => {
    const served = createPages((await loadSite(room.content)).content, { preview: true });
    expect(served.others.filter((each) => each.includes('/key-in/'))).toEqual([]);
  });

  it('stays within what a page may weigh', () => {
    // Every page under 100 kB without fonts.
    expect(Buffer.byteLength(pages.file(path('shown')))).toBeLessThan(100_000);
  });
});
