import { execFile } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, rmSync, truncateSync, writeFileSync } from 'node:fs';
import { homedir } from 'node:os';
import { join } from 'node:path';
import { promisify } from 'node:util';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { bundledBrowser, ensureUnpacked, isWhole } from '../../../lib/paper/engine/bundled-browser.ts';
import { endBrowser, launchBrowser } from '../../../lib/paper/engine/launch-browser.ts';
import { Workplace } from './workplace.ts';

const here = bundledBrowser(process.env, homedir());

describe.runIf(here && process.platform === 'linux' && process.arch === 'x64')('the bundled browser', () => {
  const place = new Workplace();
  const folder = place.path('kettleside', `browser-${here?.version}`);
  const path = join(folder, 'chromium');
  const others = () => readdirSync(place.path('kettleside')).filter((name) => !folder.endsWith(name));
  beforeAll(() => mkdirSync(place.path('kettleside')));
  afterAll(() => place.remove());

  it('is unpacked once by two processes that start together', async () => {
    const starter = place.path('start.mjs');
    const [jiti, lib] = ['jiti', '../../../lib/paper/engine/bundled-browser.ts'].map((name) =>
      import.meta.resolve(name),
    );
    writeFileSync(
      starter,
      `import { createJiti } from ${JSON.stringify(jiti)};
      const { ensureUnpacked } = await createJiti(import.meta.url).import(${JSON.stringify(lib)});
      await ensureUnpacked({ path: ${JSON.stringify(path)} });`,
    );
    const start = () => promisify(execFile)(process.execPath, [starter]);
    await Promise.all([start(), start()]);
    expect(await isWhole(folder)).toBe(true);
    expect(others()).toEqual([]);
  });

  it('starts, prints, and is the version of its package', async () => {
    const running = await launchBrowser({ path, source: 'bundled' });
    const page = await running.context.newPage();
    await page.setContent('<h1>boil</h1>');
    const pdf = await page.pdf();
    const major = running.browser.version().split('.')[0];
    await endBrowser(running);
    expect(pdf.subarray(0, 5).toString()).toBe('%PDF-');
    expect(here?.version.split('.')[0]).toBe(major);
  });

  it.each([
    ['a library is missing', () => rmSync(join(folder, 'libEGL.so'))],
    ['the program is cut short', () => truncateSync(path, 1000)],
    ['the mark of completeness is missing', () => rmSync(join(folder, 'complete.json'))],
  ])('is unpacked again when %s', async (_, damage) => {
    expect(await isWhole(folder)).toBe(true);
    damage();
    expect(await isWhole(folder)).toBe(false);
    await ensureUnpacked({ path });
    expect(await isWhole(folder)).toBe(true);
    expect(others()).toEqual([]);
  });

  it('is never unpacked over a folder of another name', async () => {
    const mine = place.path('kettleside', 'my-batches');
    mkdirSync(mine);
    writeFileSync(join(mine, 'batch.md'), 'mine');
    await expect(ensureUnpacked({ path: join(mine, 'chromium') })).rejects.toThrow(
      'no folder for a bundled browser',
    );
    expect(existsSync(join(mine, 'batch.md'))).toBe(true);
  });
});
