import { cpSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { createPages } from '../../lib/site/pages.ts';
import { run } from '../commands/run.ts';
import { openBrowser } from '../shared.ts';
import { type Kitchen, kitchen, serve, TOKEN } from './serving.ts';

const SLUG = 'twelfth-night-old';
const FORM = `/batches/${SLUG}/key-in/`;
const AXE = createRequire(import.meta.url).resolve('axe-core/axe.min.js');
/** The narrowest phone that WCAG 2.2 asks for (1.4.10). */
const PHONE = { width: 320, height: 640 };

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

async function open(
  path: string,
  options: { readonly dark?: boolean; readonly width?: number } = {},
): Promise<Page> {
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
}

const press = (page: Page) => page.click('.bar button');
/** Opens every part of the form. */
const openAll = (page: Page) =>
  page.$$eval('form details', (all) => {
    for (const each of all) (each as HTMLDetailsElement).open = true;
  });
const value = (page: Page, id: string): Promise<string> => page.inputValue(`[id="${id}"]`);
const fill = async (page: Page, texts: Readonly<Record<string, string>>): Promise<void> => {
  await openAll(page);
  for (const [id, text] of Object.entries(texts)) await page.fill(`[id="${id}"]`, text);
};
/** Presses on until there is something to look at, doubts confirmed. */
async function lookOnceMore(page: Page): Promise<void> {
  await press(page);
  for (const tick of await page.$$('input[id$="-ok"]')) await tick.check();
  if (await page.$('input[id$="-ok"]')) await press(page);
  await page.waitForSelector('#review:not([hidden])');
}

async function expectNoBarriers(page: Page): Promise<void> {
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

const readings = (): Record<string, unknown> =>
  parse(/^---\n([\s\S]*?\n)---/.exec(room.text(SLUG))?.[1] ?? '', { schema: 'failsafe' }).readings ?? {};

describe('the form with a server', () => {
  it('has no barriers that a checker can find, at the width of a phone', async () => {
    for (const dark of [false, true]) {
      const page = await open(`/batches/${SLUG}/key-in/?twice=1`, { dark });
      await openAll(page);
      await expectNoBarriers(page);
      await fill(page, { D2: '1084', A1: '1320', A2: '1100' });
      await press(page);
      await page.waitForSelector('[data-summary]');
      expect(await page.title()).toMatch(/^There is a problem: /);
      await expectNoBarriers(page);
      await page.context().close();
    }
  });

  it('brings up the number pad of a phone and fields large enough for a thumb, Save among them', async () => {
    const page = await open(FORM);
    expect(await page.getAttribute('[id="D2"]', 'inputmode')).toBe('decimal');
    expect(await page.getAttribute('[id="A1"]', 'inputmode')).toBe('numeric');
    await openAll(page);
    const sizes = await page.$$eval('main input, main select, main button, main summary', (all) =>
      all
        .filter((each) => each.getClientRects().length > 0)
        .map((each) => (each.closest('.tick') ?? each).getBoundingClientRect().height),
    );
    // 44 CSS pixels: WCAG 2.2, 2.5.5, target size (enhanced).
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(44);
    for (const at of ['A1', 'D2', 'K2']) {
      await page.locator(`[id="${at}"]`).scrollIntoViewIfNeeded();
      const save = await page.locator('.bar button').boundingBox();
      expect((save?.y ?? 0) + (save?.height ?? 0)).toBeLessThanOrEqual(PHONE.height);
      expect(save?.y).toBeGreaterThan(PHONE.height / 2);
    }
    await page.context().close();
  });

  it('shows the corrected value at once, and asks for it twice where that is wanted', async () => {
    const page = await open(`${FORM}?twice=1`);
    const corrected = () => page.textContent('[id="D2-corrected"]');
    await fill(page, { D2: '1,050', 'D2-s': '60' });
    // A hydrometer at 60 °C reads low by some 15 points; the exact figure is another test's.
    expect(await corrected()).toMatch(/^1\.06\d at 20\u00a0°C$/);
    await page.selectOption('[id="D2-su"]', '°F');
    expect(await corrected()).toMatch(/^1\.0(49|50) at 20\u00a0°C$/);
    await page.selectOption('[id="D2-u"]', 'Bx');
    await page.fill('[id="D2"]', '11.8');
    expect(await corrected()).toMatch(/^1\.04\d at 20\u00a0°C$/);
    await page.fill('[id="D2-2"]', '18.1');
    await press(page);
    expect(await page.textContent('[data-summary]')).toContain('Look at the paper again');
    await page.context().close();
  });

  it('works by keyboard alone, from the first blank to the file', async () => {
    const page = await open(FORM);
    const focusOn = async (id: string) => {
      for (let i = 0; i < 400; i++) {
        if ((await page.evaluate(() => document.activeElement?.id)) === id) return;
        await page.keyboard.press('Tab');
      }
      throw new Error(`the focus never came to ${id}`);
    };
    await focusOn('A1');
    await page.keyboard.type('1320');
    await focusOn('A2-n');
    await page.keyboard.press('Space');
    await focusOn('D2');
    await page.keyboard.type('1,084');
    await focusOn('D2-s');
    await page.keyboard.type('24');
    await page.keyboard.press('Enter');
    await page.waitForSelector('text=Look once more');
    expect(room.text(SLUG)).toBe(untouched);
    await page.keyboard.press('Tab');
    expect(await page.evaluate(() => document.activeElement?.textContent)).toBe('Save all 3');
    await page.keyboard.press('Enter');
    await page.waitForSelector('#review :text-is("Saved")');
    await expectNoBarriers(page);
    expect(readings()).toEqual({
      heating_started: '13:20',
      steep_in: 'not taken',
      original_gravity: '1.084 @ 24 °C',
    });
    // It goes on from what the file says now.
    expect(await page.textContent('.count')).toBe('Nothing new yet');
    expect(await value(page, 'A1')).toBe('13:20');
    await page.context().close();
  });

  it('is walked with Tab from the first blank of the paper to the last, and none is left out', async () => {
    const page = await open(FORM);
    await openAll(page);
    const shown = '[data-blank] :is(input:not(:disabled), select)';
    const inputs = await page.$$eval(shown, (all) =>
      all.filter((each) => each.getClientRects().length > 0).map(({ id }) => id),
    );
    await page.focus('[id="A1"]');
    const walked: string[] = [];
    for (let i = 0; i < 6 * inputs.length; i++) {
      const [id, bar] = await page.evaluate(() => {
        const at = document.activeElement;
        return [at?.closest('[data-blank]') ? (at?.id ?? '') : '', at?.closest('.bar') !== null] as const;
      });
      if (bar) break;
      // A day has three stops of its own.
      if (id !== '' && walked.at(-1) !== id) walked.push(id);
      await page.keyboard.press('Tab');
    }
    expect(walked).toEqual(inputs);
    const letters = [...new Set(walked.map((id) => id.charAt(0)))];
    expect(letters.join('')).toBe('ABCDEFGHJK');
    await page.context().close();
  });

  it('takes no offer for whoever only presses Enter, and does where it is tapped', async () => {
    const page = await open(FORM);
    await fill(page, { D2: '1084', 'D2-s': '24' });
    await page.keyboard.press('Enter');
    await page.waitForSelector('[data-summary]');
    // The focus stands on what is wrong, and a link leads to it.
    expect(await page.evaluate(() => document.activeElement?.hasAttribute('data-summary'))).toBe(true);
    await page.keyboard.press('Tab');
    await page.keyboard.press('Enter');
    expect(await page.evaluate(() => document.activeElement?.id)).toBe('D2');
    await page.keyboard.press('Enter');
    expect(await value(page, 'D2')).toBe('1084');
    await page.tap('.summary .offer');
    expect([await value(page, 'D2'), await value(page, 'D2-s')]).toEqual(['1.084', '24']);
    await page.context().close();
  });

  it('has again what was typed when the page was closed, until it is saved or begun anew', async () => {
    const page = await open(FORM);
    const again = async () => {
      await page.goto('about:blank');
      await page.goto(origin + FORM);
      await page.waitForSelector('.bar button');
      return { a1: await value(page, 'A1'), d2: await value(page, 'D2') };
    };
    await fill(page, { A1: '1320', D2: '1084' });
    expect(await again()).toEqual({ a1: '13:20', d2: '1084' });
    expect(await page.textContent('[data-restored]')).toContain('in the form again');
    await expectNoBarriers(page);
    await press(page);
    await page.click('.summary .offer');
    // What was taken from an offer is kept, and not what was typed before.
    expect(await again()).toEqual({ a1: '13:20', d2: '1.084' });
    const kept = await page.evaluate((slug) => localStorage.getItem(`kettleside key-in ${slug}`), SLUG);
    expect(kept?.split('\n').filter((line) => !/^(was|batch) /.test(line) && line !== '')).toEqual([
      'heating_started = 13:20',
      'original_gravity = 1.084',
    ]);
    await lookOnceMore(page);
    await press(page);
    await page.waitForSelector('#review :text-is("Saved")');
    await again();
    expect(await page.locator('[data-restored]').count()).toBe(0);
    await fill(page, { A1: '1500' });
    await again();
    await Promise.all([page.waitForEvent('load'), page.click('[data-restored] button')]);
    expect(await value(page, 'A1')).toBe('13:20');
    await page.context().close();
  });

  it('shows what others have written meanwhile beside what was typed, and saves over it only then', async () => {
    const page = await open(FORM);
    await fill(page, { D2: '1.084', A1: '1320' });
    room.write(SLUG, untouched.replace(/---\n(?!title)/, 'readings:\n  original_gravity: 1.080\n---\n'));
    await lookOnceMore(page);
    await press(page);
    await page.waitForSelector('[data-summary]');
    expect(await page.textContent('[data-summary]')).toMatch(
      /has changed since you typed.*D2.*the file says 1\.080/s,
    );
    expect(readings()).toEqual({ original_gravity: '1.080' });
    expect([await value(page, 'D2'), await value(page, 'A1')]).toEqual(['1.084', '13:20']);
    await lookOnceMore(page);
    await press(page);
    await page.waitForSelector('#review :text-is("Saved")');
    expect(readings()).toEqual({ heating_started: '13:20', original_gravity: '1.084' });
    await page.context().close();
  });

  it('takes a row of the log with a figure, the day and hour being there, and none of them alone', async () => {
    const slug = 'november-fog-porter';
    const before = room.text(slug);
    const page = await open(`/batches/${slug}/key-in/index.html#log`, { width: 360 });
    await page.waitForFunction(() => document.activeElement?.id === 'F14');
    expect(await page.textContent('.count')).toBe('Nothing new yet');
    // What has the focus is not behind the bar.
    const [low, bar] = await page.evaluate(() =>
      [document.activeElement, document.querySelector('.bar')].map((each) => each?.getBoundingClientRect()),
    );
    expect(low?.bottom).toBeLessThanOrEqual(bar?.top ?? 0);
    await page.keyboard.type('1,013');
    expect(await page.textContent('.count')).toBe('2 new');
    await lookOnceMore(page);
    await press(page);
    await page.waitForSelector('#review :text-is("Saved")');
    expect(room.text(slug)).toMatch(/- \{ on: \d{4}-\d\d-\d\d \d\d:\d\d, gravity: 1\.013 \}\n---/);
    room.write(slug, before);
    await page.context().close();
  });

  it('keeps what was typed where the server asks for its code, which is entered in another tab', async () => {
    const page = await open(FORM);
    await fill(page, { A1: '1320' });
    await lookOnceMore(page);
    await page.context().clearCookies();
    await press(page);
    await page.waitForSelector('#review :text-is("Not saved")');
    expect(await page.textContent('#review')).toContain('enter the code there');
    const gate = await page.context().newPage();
    await gate.goto(origin + FORM);
    await gate.fill('[name=token]', TOKEN);
    await gate.click('button[type=submit]');
    await gate.waitForSelector('.bar button');
    await press(page);
    await page.waitForSelector('#review :text-is("Saved")');
    expect(readings()).toEqual({ heating_started: '13:20' });
    await page.context().close();
  });
});

describe('the form without a server, opened as a file', () => {
  const form = `batches/${SLUG}/key-in/index.html`;
  const address = (folder = out) => pathToFileURL(join(folder, form)).href;
  /** The site in another folder, with the form as the file is now. */
  const publishedAnew = async (name: string): Promise<string> => {
    const folder = join(room.dir, name);
    cpSync(out, folder, { recursive: true });
    writeFileSync(join(folder, form), createPages((await loadSite(room.content)).content).file(form));
    return address(folder);
  };

  it('has no barriers, checks, corrects, and makes the lines and a file that the command takes', async () => {
    const page = await open(address());
    const faults: string[] = [];
    page.on('pageerror', (error) => faults.push(String(error)));
    page.on('console', (message) => message.type() === 'error' && faults.push(message.text()));
    await fill(page, { D2: '1084', 'D2-s': '24' });
    await press(page);
    await page.click('.summary .offer');
    await page.waitForSelector('#made-lines');
    expect(await page.textContent('[id="D2-corrected"]')).toBe('1.085 at 20\u00a0°C');
    await fill(page, { C2: '24', F4: 'a note, with: "quotes"', F1: '2026-12-09', 'F1-c': '0815' });
    await lookOnceMore(page);
    await expectNoBarriers(page);
    const lines = await page.inputValue('#made-lines');
    expect(parse(lines, { schema: 'failsafe' })).toEqual({
      readings: {
        chilled: { temperature: '24 °C' },
        original_gravity: '1.084 @ 24 °C',
        fermentation: [{ on: '2026-12-09 08:15', note: 'a note, with: "quotes"' }],
      },
    });
    const [saved] = await Promise.all([page.waitForEvent('download'), page.click('#made-file')]);
    const file = join(room.dir, saved.suggestedFilename());
    await saved.saveAs(file);
    expect(faults).toEqual([]);
    const ran = await run('key-in', ['--content', room.content, SLUG, '--file', file, '--sure']);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(readings()).toEqual(parse(lines, { schema: 'failsafe' }).readings);
    await page.reload();
    // What was typed is still there.
    await page.waitForSelector('.bar button');
    expect(await value(page, 'F4')).toBe('a note, with: "quotes"');
    await page.context().close();
  });

  it('shows what is keyed in already, and names what is changed as a change', async () => {
    const slug = 'november-fog-porter';
    const before = room.text(slug);
    const page = await open(pathToFileURL(join(out, `batches/${slug}/key-in/index.html`)).href);
    const old = await value(page, 'D2');
    expect(old).toMatch(/^1\.0\d+$/);
    await press(page);
    expect(await page.textContent('#review')).toContain('Nothing was keyed in');
    await fill(page, { D2: '1.058', A1: '' });
    await page.check('[id="C2-n"]');
    await lookOnceMore(page);
    const changes = await page.$$eval('#review dl > div', (all) => all.map(({ textContent }) => textContent));
    expect(changes).toEqual([
      expect.stringMatching(/^A1 Kettle on.*taken out: \d\d:\d\d$/),
      expect.stringMatching(/^C2 Chilled to.*not.taken.* in place of \d+.°C$/),
      expect.stringMatching(new RegExp(`^D2 Original gravity.*1\\.058.* in place of ${old}`)),
    ]);
    const lines = parse(await page.inputValue('#made-lines'), { schema: 'failsafe' }).readings;
    expect([lines.heating_started, lines.chilled.temperature]).toEqual([undefined, 'not taken']);
    const [saved] = await Promise.all([page.waitForEvent('download'), page.click('#made-file')]);
    const file = join(room.dir, saved.suggestedFilename());
    await saved.saveAs(file);
    await page.context().close();

    // Meanwhile somebody has keyed in another original gravity.
    const theirs = before.replace(/original_gravity: .*/, 'original_gravity: 1.057 @ 20 °C');
    room.write(slug, theirs);
    const refused = await run('key-in', ['--content', room.content, slug, '--file', file, '--sure']);
    expect(refused.code).toBe(1);
    expect(refused.out).toMatch(/D2 Original gravity .*\n.*says {2}1\.057.*\n {2}keyed in +1\.058/);
    expect(room.text(slug)).toBe(theirs);
    room.write(slug, before);
    const taken = await run('key-in', ['--content', room.content, slug, '--file', file, '--sure']);
    expect([taken.code, taken.err]).toEqual([0, '']);
    const now = parse(/^---\n([\s\S]*?\n)---/.exec(room.text(slug))?.[1] ?? '', { schema: 'failsafe' });
    expect(now.readings).toEqual(lines);
    room.write(slug, before);
  });

  it('keeps what was typed when the page is published anew with other readings, and says what to look at', async () => {
    const page = await open(address());
    await fill(page, { D2: '1.084', F4: 'krausen falling' });
    room.write(
      SLUG,
      untouched.replace(
        /---\n(?!title)/,
        'readings:\n  original_gravity: 1.080\n  fermentation:\n    - { on: 2027-01-12 08:00, note: theirs }\n---\n',
      ),
    );
    await page.goto(await publishedAnew('again'));
    expect(await page.inputValue('[id="D2"]')).toBe('1.084');
    expect([await page.inputValue('[id="F4"]'), await page.inputValue('[id="F8"]')]).toEqual([
      'theirs',
      'krausen falling',
    ]);
    expect(await page.textContent('[data-summary]')).toMatch(
      /has changed since you typed.*D2.*the file says 1\.080/s,
    );
    await page.context().close();
  });

  it('does not bring back what has come into the file, nor a row of the log a second time', async () => {
    const page = await open(address());
    await fill(page, { D2: '1.084', F4: 'krausen falling', F1: '2027-01-09', A1: '1320' });
    room.write(
      SLUG,
      untouched.replace(
        /---\n(?!title)/,
        'readings:\n  original_gravity: 1.084\n  fermentation:\n    - { on: 2027-01-09, note: krausen falling }\n---\n',
      ),
    );
    await page.goto(await publishedAnew('taken-in'));
    expect(await page.inputValue('[id="F4"]')).toBe('krausen falling');
    expect(await page.inputValue('[id="F8"]')).toBe('');
    expect(await page.inputValue('[id="A1"]')).toBe('13:20');
    expect(await page.locator('[data-summary]').count()).toBe(0);
    await page.context().close();
  });
});
