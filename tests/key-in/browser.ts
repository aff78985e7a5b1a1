/** The form for readings in a browser, with a server and as a file, on a kitchen of its own. */
import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, expect } from 'vitest';
import { parse } from 'yaml';
import { buildSite } from '../../lib/site/build.ts';
import { openBrowser } from '../shared.ts';
import { type Kitchen, kitchen, serve, TOKEN } from './serving.ts';

export const SLUG = 'twelfth-night-old';
export const FORM = `/batches/${SLUG}/key-in/`;
const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
/** The narrowest phone that WCAG 2.2 asks for (1.4.10). */
export const PHONE = { width: 320, height: 640 };

export const press = (page: Page) => page.click('.bar button');
/** Opens every part of the form. */
export const openAll = (page: Page) =>
  page.$$eval('form details', (all) => {
    for (const each of all) (each as HTMLDetailsElement).open = true;
  });
export const value = (page: Page, id: string): Promise<string> => page.inputValue(`[id="${id}"]`);
export const fill = async (page: Page, texts: Readonly<Record<string, string>>): Promise<void> => {
  await openAll(page);
  for (const [id, text] of Object.entries(texts)) await page.fill(`[id="${id}"]`, text);
};
/** Presses on until there is something to look at, doubts confirmed. */
export async function lookOnceMore(page: Page): Promise<void> {
  await press(page);
  for (const tick of await page.$$('input[id$="-ok"]')) await tick.check();
  if (await page.$('input[id$="-ok"]')) await press(page);
  await page.waitForSelector('#review:not([hidden])');
}

export async function expectNoBarriers(page: Page): Promise<void> {
  // A copy of the checker may not run under the page's own policy, so it is put in from outside.
  await page.evaluate(readFileSync(AXE, 'utf8'));
  const found = await page.evaluate(async () => {
    const { axe } = window as unknown as {
      axe: { run(options: object): Promise<{ violations: { id: string; nodes: { html: string }[] }[] }> };
    };
    const { violations } = await axe.run({ preload: false });
    return violations.map(
      ({ id, nodes }) =>
        `${id}: ${nodes
          .map(({ html }) => html)
          .join(' | ')
          .slice(0, 300)}`,
    );
  });
  expect(found).toEqual([]);
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
  expect(wide).toBeLessThanOrEqual(0);
}

/** Serves a kitchen and its built site while the tests of a file run; each begins with the batch as it was. */
export function formRoom() {
  let room: Kitchen;
  let out: string;
  let browser: Browser;
  let untouched: string;
  let origin: string;
  let close: () => Promise<void>;

  beforeAll(async () => {
    room = kitchen([SLUG, 'november-fog-porter', 'stoppage-kit']);
    untouched = room.text(SLUG);
    out = join(room.dir, 'site');
    await buildSite({ contentDir: room.content, outputDir: out });
    ({ origin, close } = await serve(room.content, { site: out }));
    browser = await openBrowser();
  });
  beforeEach(() => room.write(SLUG, untouched));
  afterAll(async () => {
    await browser?.close();
    await close?.();
    room?.remove();
  });

  const open = async (
    path: string,
    options: { readonly dark?: boolean; readonly width?: number } = {},
  ): Promise<Page> => {
    const context = await browser.newContext({
      viewport: { ...PHONE, width: options.width ?? PHONE.width },
      hasTouch: true,
      colorScheme: options.dark ? 'dark' : 'light',
    });
    await context.addCookies([{ name: 'kettleside-code', value: TOKEN, url: origin }]);
    const page = await context.newPage();
    await page.goto(path.startsWith('file:') ? path : origin + path);
    await page.waitForSelector('.bar button');
    return page;
  };

  const readings = (): Record<string, unknown> =>
    parse(/^---\n([\s\S]*?\n)---/.exec(room.text(SLUG))?.[1] ?? '', { schema: 'failsafe' }).readings ?? {};
  return {
    open,
    readings,
    get room() {
      return room;
    },
    get out() {
      return out;
    },
    /** The batch file as each test finds it. */
    get untouched() {
      return untouched;
    },
    get origin() {
      return origin;
    },
  };
}
