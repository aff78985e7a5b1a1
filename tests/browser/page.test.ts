import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { gzipSync } from 'node:zlib';
import type { Browser, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Plan } from '../../lib/batch/types/plan.ts';
import { batchText } from '../../lib/browser/recipe/batch-text.ts';
import type { Changes } from '../../lib/browser/recipe/changes.ts';
import { type Travelled, travel } from '../../lib/browser/recipe/fit-to-kitchen.ts';
import { toFragment } from '../../lib/browser/recipe/fragment.ts';
import { demoSite, openBrowser, textOf } from '../shared.ts';
import { type Demo, loadDemo } from './demo.ts';

let demo: Demo;
let dir: string;
let browser: Browser;

beforeAll(async () => {
  [demo, browser, dir] = await Promise.all([loadDemo(), openBrowser(), demoSite()]);
});
afterAll(() => browser.close());

const address = (slug: string, changes: Changes = {}): string =>
  `${pathToFileURL(join(dir, `recipes/${slug}/index.html`)).href}#${toFragment(changes)}`;

/** A page that keeps the plan that it worked out last, and all that it complains of. */
async function open(url: string, javaScriptEnabled = true): Promise<{ page: Page; complaints: string[] }> {
  const context = await browser.newContext({ javaScriptEnabled, acceptDownloads: true });
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => complaints.push(message.text()));
  page.on('pageerror', (error) => complaints.push(error.message));
  page.on('request', (request) => {
    if (!/^(?:file|blob|data):/.test(request.url())) complaints.push(`asked for ${request.url()}`);
  });
  await page.addInitScript(
    "document.addEventListener('kettleside:fitted', (event) => { window.lastPlan = event.detail.plan })",
  );
  await page.goto(url);
  return { page, complaints };
}

/** The plan that the page worked out last, as soon as it has worked one out. */
async function planOf(page: Page): Promise<Plan> {
  const read = (): Promise<Plan | undefined> =>
    page.evaluate(() => (window as unknown as { lastPlan?: Plan }).lastPlan);
  await expect.poll(read).toBeDefined();
  return (await read())!;
}

/**
 * Every number nearer than one part in 10⁹ (`plan.json` has ten digits), all else the same. Engines of different age round the last digit of a power
 * differently (ECMA-262 leaves Math.pow and Math.exp to them), and sums of differences carry that into the digits before it.
 */
function expectSame(found: unknown, wanted: unknown, path: string): void {
  if (typeof wanted === 'number' && typeof found === 'number')
    return void expect(Math.abs(found - wanted), path).toBeLessThanOrEqual(
      1e-9 * Math.max(1, Math.abs(wanted)),
    );
  if (typeof wanted !== 'object' || wanted === null) return void expect(found, path).toBe(wanted);
  expect(Object.keys(found as object), path).toEqual(Object.keys(wanted));
  for (const [key, one] of Object.entries(wanted))
    expectSame((found as Record<string, unknown>)[key], one, `${path}.${key}`);
}

/** Without the hash over all digits. */
const comparable = ({ revision: _, ...plan }: Plan): unknown => JSON.parse(JSON.stringify(plan));

function inNode(slug: string, changes: Changes): Travelled {
  const result = travel(demo.recipes.get(slug)!, changes);
  if (!result.ok) throw new Error(result.found.join('; ') || 'nothing to brew');
  return result;
}

const FITS: readonly (readonly [string, Changes])[] = [
  ['regatta-bitter', { intoFermenter_L: 10, kettle_L: 8, alphas: { 0: 0.052 } }],
  ['hedge-hop-pale', { intoFermenter_L: 23, kettle_L: 36, altitude_m: 1600, heat_kW: 3.2 }],
  ['moorhen-brown-3', { units: 'us', paper: 'letter', kettle_L: 12, boilOff_L_per_h: 3 }],
  ['lock-house-wit', { extract: 'dry', intoFermenter_L: 15 }],
];

describe('browser, Node and site', () => {
  it.each(FITS)('give the same numbers for %s', async (slug, changes) => {
    const { page, complaints } = await open(address(slug, changes));
    expectSame(comparable(await planOf(page)), comparable(inNode(slug, changes).plan), slug);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('give the same numbers where nothing is changed', async () => {
    const { page } = await open(address('regatta-bitter', { paper: 'letter' }));
    const text = await readFile(join(dir, 'batches/regatta-bitter/plan.json'), 'utf8');
    const published = JSON.parse(text) as Pick<Plan, 'targets' | 'bitterness' | 'kettle'>;
    const { targets, bitterness, kettle } = await planOf(page);
    expectSame(targets, published.targets, 'targets');
    expectSame(kettle, published.kettle, 'kettle');
    expectSame(
      bitterness.map(({ ibu }) => ibu),
      published.bitterness.map(({ ibu }) => ibu),
      'bitterness',
    );
    await page.context().close();
  });
});

describe('the page of a recipe', () => {
  it('is the plain recipe without JavaScript', async () => {
    const { page } = await open(address('regatta-bitter'), false);
    expect(await page.locator('.fit').isVisible()).toBe(false);
    expect(await page.locator('#ingredients').isVisible()).toBe(true);
    expect(await page.locator('#method').isVisible()).toBe(true);
    await page.context().close();
  });

  it('follows each figure at once, and puts it into its address', async () => {
    const { page, complaints } = await open(address('hedge-hop-pale'));
    for (const kettle of ['9', '30', '14']) await page.fill('input[name="kettle_L"]', kettle);
    expect(new URL(page.url()).hash).toBe('#fit=1&k=14');
    const here = inNode('hedge-hop-pale', { kettle_L: 14 }).plan;
    expectSame(comparable(await planOf(page)), comparable(here), 'plan');
    expect(await page.locator('#day').isVisible()).toBe(true);
    expect(complaints).toEqual([]);
    await page.context().close();
  });

  it('goes back to what was written, letter by letter', async () => {
    const { page } = await open(address('regatta-bitter'));
    const read = (): Promise<string[]> =>
      page.evaluate(() => [...document.querySelectorAll('[data-part]')].map((part) => part.innerHTML.trim()));
    const before = await read();
    await page.fill('input[name="intoFermenter_L"]', '7');
    expect(await read()).not.toEqual(before);
    await page.click('button[value="back"]');
    expect(await read()).toEqual(before);
    expect(new URL(page.url()).hash).toBe('');
    await page.context().close();
  });

  it('says what of a link it could not use', async () => {
    const { page } = await open(`${address('regatta-bitter')}fit=1&v=lots&k=12`);
    await planOf(page);
    expect(await page.locator('.fit-say').textContent()).toContain('its volume is not possible in a kitchen');
    expect(await page.inputValue('input[name="kettle_L"]')).toBe('12');
    await page.context().close();
  });

  it('says when a kettle cannot do it, and keeps the figures of before', async () => {
    const { page } = await open(address('regatta-bitter', { intoFermenter_L: 19 }));
    await planOf(page);
    const before = await page.locator('[data-part="board"]').textContent();
    await page.fill('input[name="kettle_L"]', '1');
    expect(await page.locator('.fit-say.trouble').textContent()).toContain('cannot be brewed');
    expect(await page.locator('.fit-say').textContent()).toContain(
      'does not go into a kettle of 1\u00a0L: take',
    );
    expect(await page.locator('[data-part="board"]').textContent()).toBe(before);
    await page.context().close();
  });

  it('says at a box which figures it takes, keeps what was typed there and the figures of before', async () => {
    const { page } = await open(address('regatta-bitter', { kettle_L: 14 }));
    await planOf(page);
    await page.locator('.fit-more summary').click();
    const board = await page.locator('[data-part="board"]').textContent();
    const height = await page.evaluate(() => document.querySelector('.fit-form')!.clientHeight);
    const box = page.locator('input[name="intoFermenter_L"]');
    const alpha = page.locator('input[name="alpha-0"]');
    await box.fill('0');
    await alpha.fill('60');
    await alpha.blur();
    const described = async (name: string): Promise<string | null> =>
      page
        .locator(`#${await page.locator(`input[name="${name}"]`).getAttribute('aria-describedby')}`)
        .textContent();
    expect(await described('intoFermenter_L')).toBe('Only 0.5 to 200\u00a0L');
    expect(await described('alpha-0')).toBe('Only 0.1 to 30\u00a0%');
    expect(await described('kettle_L')).toBe('');
    expect(await box.getAttribute('aria-invalid')).toBe('true');
    expect(await box.inputValue()).toBe('0');
    expect(await page.locator('.fit-say.trouble').textContent()).toContain('0\u00a0L is not possible');
    expect(await page.locator('[data-part="board"]').textContent()).toBe(board);
    expect(await page.evaluate(() => document.querySelector('.fit-form')!.clientHeight)).toBe(height);
    await box.fill('10');
    await alpha.fill('6');
    expect(await page.locator('.fit-form [aria-invalid]').count()).toBe(0);
    expect(await page.locator('.fit-say.trouble').count()).toBe(0);
    expect(await described('intoFermenter_L')).toBe('');
    await page.context().close();
  });

  it('gives the recipe to take home, as Node writes it', async () => {
    const changes: Changes = { intoFermenter_L: 10, kettle_L: 8 };
    const { page } = await open(address('regatta-bitter', changes));
    const [download] = await Promise.all([page.waitForEvent('download'), page.click('button[value="home"]')]);
    expect(download.suggestedFilename()).toBe('regatta-bitter.md');
    const there = demo.site.brewery.url;
    const link = there === null ? null : `${there}recipes/regatta-bitter/#${toFragment(changes)}`;
    expect(await textOf(download)).toBe(batchText(inNode('regatta-bitter', changes), link));
    await page.context().close();
  });

  it.each(['a4', 'letter'] as const)(
    'prints the kettle sheet on %s, laid out by the sheets’ own scripts',
    async (paper) => {
      const { page, complaints } = await open(address('regatta-bitter', { intoFermenter_L: 10, paper }));
      await page
        .context()
        .addInitScript('window.print = () => { document.documentElement.dataset.printed = "yes" }');
      await page.reload();
      await page.click('button[value="print"]');
      const frame = page.frameLocator('.print-frame');
      await frame.locator('html[data-printed="yes"]').waitFor({ state: 'attached' });
      const pages = frame.locator('.pagedjs_page');
      const firstTitles = await pages.evaluateAll((all) =>
        all.map((one) => one.querySelector('h2')?.textContent),
      );
      expect(firstTitles).toEqual([
        'Buy and weigh out',
        expect.stringMatching(/^Heat/),
        'Chill, read, pitch',
      ]);
      expect(await frame.locator('html').getAttribute('data-paper')).toBe(paper);
      const text = ((await frame.locator('body').textContent()) ?? '').replaceAll('\u00a0', ' ');
      expect(text).toContain('Regatta Bitter');
      const { plan } = inNode('regatta-bitter', { intoFermenter_L: 10 });
      expect(text).toContain(plan.targets.original_gravity!.value.toFixed(3));
      expect(complaints).toEqual([]);
      await page.context().close();
    },
  );
});

it.each([
  ['recipe.js', 54_000],
  ['recipe-out.js', 40_000],
])('%s is one file of less than %i bytes, compressed', async (name, most) => {
  const script = await readFile(join(dir, 'assets', name));
  expect(gzipSync(script, { level: 9 }).length).toBeLessThan(most);
  expect(script.toString()).not.toMatch(/\beval\(|new Function|https?:\/\/(?!www\.w3\.org)/);
});
