import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { run } from '../commands/run.ts';
import {
  expectNoBarriers,
  FORM,
  fill,
  formRoom,
  lookOnceMore,
  openAll,
  PHONE,
  press,
  SLUG,
  value,
} from './browser.ts';

const served = formRoom();
const { open, readings } = served;

describe('the form with a server', () => {
  it('has no barriers that a checker can find, at the width of a phone', async () => {
    for (const dark of [false, true]) {
      const page = await open(`/batches/${SLUG}/key-in/?twice=1`, { dark });
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
    expect(served.room.text(SLUG)).toBe(served.untouched);
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

  it('takes a row of the log with a figure, the day and hour being there, and none of them alone', async () => {
    const slug = 'november-fog-porter';
    const before = served.room.text(slug);
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
    expect(served.room.text(slug)).toMatch(/- \{ on: \d{4}-\d\d-\d\d \d\d:\d\d, gravity: 1\.013 \}\n---/);
    served.room.write(slug, before);
    await page.context().close();
  });
});

describe('the form without a server, opened as a file', () => {
  const form = `batches/${SLUG}/key-in/index.html`;
  const address = (folder = served.out) => pathToFileURL(join(folder, form)).href;

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
    const file = join(served.room.dir, saved.suggestedFilename());
    await saved.saveAs(file);
    expect(faults).toEqual([]);
    const ran = await run('key-in', ['--content', served.room.content, SLUG, '--file', file, '--sure']);
    expect([ran.code, ran.err]).toEqual([0, '']);
    expect(readings()).toEqual(parse(lines, { schema: 'failsafe' }).readings);
    await page.reload();
    // What was typed is still there.
    await page.waitForSelector('.bar button');
    expect(await value(page, 'F4')).toBe('a note, with: "quotes"');
    await page.context().close();
  });
});
