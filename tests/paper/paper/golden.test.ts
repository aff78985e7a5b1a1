import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import type { Browser } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openBrowser } from '../../shared.ts';
import { batch, brewery, plan } from '../../words/fixture.ts';
import { type Desk, openDesk } from './desk.ts';
import { type Grey, pagePictures, readPng, sideBySide, writePng } from './pictures.ts';

const GOLDEN = fileURLToPath(new URL('../golden/', import.meta.url));
const DIFFERENCES = fileURLToPath(new URL('../../../.cache/sheet-differences/', import.meta.url));
/** Half of what a screen shows: enough to see that something moved, small enough to keep. */
const DPI = 48;
const UPDATE = process.env.UPDATE_GOLDEN === '1' && process.env.CI === undefined;

/** Grey steps by which a pixel may differ and still be the same. */
const STEP = 40;
/** Share of pixels that may differ: the same browser draws the same, but for rounding at the edges of letters. */
const SAME_BROWSER = 0.001;
/** Other browsers set letters a little apart: only a block of text in another place is told. */
const OTHER_BROWSER = 0.04;

const CASES = [
  { name: 'kettle', kind: 'kettle', paper: 'a4', units: 'metric' },
  { name: 'cellar', kind: 'cellar', paper: 'a4', units: 'metric' },
  { name: 'card', kind: 'card', paper: 'a4', units: 'metric' },
  { name: 'cellar-us', kind: 'cellar', paper: 'letter', units: 'us' },
] as const;

let folder: string;
let desk: Desk;
let browser: Browser;
let allowed = SAME_BROWSER;

beforeAll(async () => {
  folder = await mkdtemp(join(tmpdir(), 'golden-'));
  desk = await openDesk(folder);
  browser = await openBrowser();
  const drawnBy = join(GOLDEN, 'browser.txt');
  const version = browser.version();
  if (UPDATE) {
    rmSync(GOLDEN, { recursive: true, force: true });
    mkdirSync(GOLDEN, { recursive: true });
    writeFileSync(drawnBy, `${version}\n`);
  }
  if (readFileSync(drawnBy, 'utf8').trim() !== version) {
    allowed = OTHER_BROWSER;
    console.log(
      `Pages are drawn by browser ${version}, golden ones by another: compared with more tolerance.`,
    );
  }
});

afterAll(async () => {
  await browser?.close();
  await rm(folder, { recursive: true, force: true });
});

/** Black where the two pictures differ. */
function difference(a: Grey, b: Grey): { picture: Grey; share: number } {
  const pixels = new Uint8Array(a.pixels.length).fill(255);
  let count = 0;
  for (let at = 0; at < pixels.length; at += 1) {
    if (Math.abs((a.pixels[at] ?? 0) - (b.pixels[at] ?? 255)) <= STEP) continue;
    pixels[at] = 0;
    count += 1;
  }
  return { picture: { ...a, pixels }, share: count / pixels.length };
}

function compare(name: string, drawn: Grey): string | null {
  const path = join(GOLDEN, `${name}.png`);
  if (UPDATE) writeFileSync(path, writePng(drawn));
  if (!existsSync(path)) return `${name} has no golden picture; UPDATE_GOLDEN=1 makes one`;
  const golden = readPng(readFileSync(path));
  const { picture, share } = difference(golden, drawn);
  const sameSize = golden.width === drawn.width && golden.height === drawn.height;
  if (sameSize && share <= allowed) return null;
  mkdirSync(DIFFERENCES, { recursive: true });
  const side = join(DIFFERENCES, `${name}.png`);
  writeFileSync(side, writePng(sideBySide([golden, drawn, picture])));
  return `${name} differs in ${(share * 100).toFixed(2)} % of its points; golden, now and difference: ${side}`;
}

describe('the look of the sheets', () => {
  it.each(CASES)('$name is as it was', async ({ name, kind, paper, units }) => {
    const path = await desk.write(name, kind, batch, plan, { ...brewery, paper, units });
    const pages = await pagePictures(browser, path, DPI);
    const told = pages.map((page, at) => compare(`${name}-${at + 1}`, page)).filter((one) => one !== null);
    expect(told).toEqual([]);
    const kept = readdirSync(GOLDEN).filter((file) => new RegExp(`^${name}-\\d+\\.png$`).test(file));
    expect(kept).toHaveLength(pages.length);
  });

  it('is told when a line of text moves by a millimetre', async () => {
    const path = await desk.write('moved', 'card', batch, plan, brewery);
    const html = readFileSync(path, 'utf8');
    writeFileSync(path, html.replace('</main>', '</main><style>.method { padding-top: 1mm }</style>'));
    const [page] = await pagePictures(browser, path, DPI);
    const golden = readPng(readFileSync(join(GOLDEN, 'card-1.png')));
    if (!page) throw new Error('no page');
    expect(difference(golden, page).share).toBeGreaterThan(SAME_BROWSER);
  });
});
