import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import type { Browser, BrowserContext, Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openContext } from '../../lib/paper/engine/tab.ts';
import { type LoadedSite, loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { demoSite, openBrowser } from '../shared.ts';
import { filesBelow } from '../site/files.ts';
import { ATTACKS, EVALUATED, FOREIGN, RAN, writeHostileArchive } from './hostile-archive.ts';

let dir: string;
let out: string;
/** The site of an archive that means no harm: what its pages are made of is what pages are made of. */
let plain: string;
let site: LoadedSite;
let slugs: readonly string[];
let pages: readonly string[];
let browser: Browser;

beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), 'kettleside-hostile-'));
  out = join(dir, 'out');
  slugs = writeHostileArchive(join(dir, 'content'));
  site = await loadSite(join(dir, 'content'));
  await buildSite({ contentDir: join(dir, 'content'), outputDir: out, data: site, pdfs: true });
  plain = await demoSite();
  for (const path of (await filesBelow(plain)).filter((each) => each.endsWith('.html')))
    for (const [, name = ''] of readFileSync(join(plain, path), 'utf8').matchAll(/<([a-zA-Z][a-zA-Z0-9]*)/g))
      ELEMENTS.add(name);
  pages = (await filesBelow(out)).filter((path) => path.endsWith('.html'));
  browser = await openBrowser();
});
afterAll(async () => {
  await browser.close();
  rmSync(dir, { recursive: true, force: true });
});

/** Pages that a reader may open as files; the page for a wrong address lies at its full address only. */
const readable = (): string[] => pages.filter((path) => !isSheet(path) && path !== '404.html');
const isSheet = (path: string): boolean => /(?:-sheet|-card)\.html$/.test(path);
const address = (path: string): string => pathToFileURL(join(out, path)).href;

it('the archive of attacks is read, planned and published, so that it attacks at all', async () => {
  expect(site.failed).toEqual([]);
  expect(site.content.entries.map(({ batch }) => batch.slug).sort()).toEqual([...slugs].sort());
  for (const kind of ['batches', 'recipes'])
    expect(pages).toEqual(expect.arrayContaining(slugs.map((slug) => `${kind}/${slug}/index.html`)));
  expect(pages.filter(isSheet).length).toBe(slugs.length * 3);
  const harmless = new Set((await filesBelow(plain)).map((path) => path.split('/')[0]));
  for (const path of await filesBelow(out)) expect(harmless.has(path.split('/')[0]), path).toBe(true);
});

describe('no file of the output', () => {
  it('holds what a template or a script would have worked out', async () => {
    for (const path of await filesBelow(out)) {
      const text = readFileSync(join(out, path), 'latin1');
      expect(text.includes(EVALUATED), path).toBe(false);
      expect(text.includes('PRIVATE-WORDS'), path).toBe(false);
    }
  });

  it('changes what every object inherits', () => {
    expect(Object.keys(Object.prototype)).toEqual([]);
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
  });
});

interface Watched {
  readonly page: Page;
  readonly signs: string[];
}

/** Opens pages that tell of every sign of life in what should be dead text. */
async function watch(context: BrowserContext): Promise<Watched> {
  const signs: string[] = [];
  const page = await context.newPage();
  await context.exposeFunction('tellSign', (sign: string) => void signs.push(sign));
  await context.addInitScript(() => {
    document.addEventListener('securitypolicyviolation', (event) => {
      const tell = (window as unknown as { tellSign(sign: string): void }).tellSign;
      tell(`policy: ${event.violatedDirective} ${event.blockedURI} ${event.sample}`);
    });
  });
  page.on('request', (request) => {
    if (!/^(?:file|data|blob):/.test(request.url())) signs.push(`request: ${request.url()}`);
    else if (request.url().startsWith('file:') && !request.url().startsWith(address('')))
      signs.push(`file: ${request.url()}`);
  });
  page.on('console', (message) => signs.push(`console: ${message.text()}`));
  page.on('pageerror', (error) => signs.push(`error: ${error.message}`));
  page.on('popup', () => signs.push('popup'));
  page.on('download', () => signs.push('download'));
  page.on('dialog', (dialog) => {
    signs.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  return { page, signs };
}

/** Opens a page, waits until a sheet is laid out, and wakes whatever waits for a reader. */
async function visit({ page, signs }: Watched, path: string, fragment = ''): Promise<void> {
  const before = signs.length;
  await page.goto(address(path) + fragment, { waitUntil: 'load' });
  if (isSheet(path)) await page.waitForSelector('html[data-sheet]', { state: 'attached' });
  const ran = await page.evaluate((key) => {
    for (const one of document.querySelectorAll('details')) one.open = true;
    for (const one of document.querySelectorAll('*')) {
      for (const kind of ['mouseover', 'focus', 'load', 'error', 'begin', 'toggle'])
        one.dispatchEvent(new Event(kind, { bubbles: false }));
    }
    return Object.hasOwn(window, key);
  }, RAN);
  if (ran) signs.push('ran');
  for (let at = before; at < signs.length; at += 1) signs[at] = `${path} ${signs[at]}`;
}

describe('in a browser', () => {
  it('every page and sheet is quiet: nothing runs, asks or is held back by the policy', async () => {
    const watched = await watch(await browser.newContext({ offline: true }));
    for (const path of readable().filter((_, at) => at % 6 === 1)) await visit(watched, path);
    for (const slug of slugs.slice(0, 2)) await visit(watched, `batches/${slug}/kettle-sheet.html`);
    await visit(watched, `batches/${slugs[4]}/cellar-sheet.html`);
    await visit(watched, `batches/${slugs[5]}/recipe-card.html`);
    expect(watched.signs).toEqual([]);
    await watched.page.context().close();
  });

  it('every page is as quiet where no policy holds anything back', async () => {
    const watched = await watch(await browser.newContext({ offline: true, bypassCSP: true }));
    for (const path of readable().filter((_, at) => at % 6 === 4)) await visit(watched, path);
    expect(watched.signs).toEqual([]);
    await watched.page.context().close();
  });

  it('a recipe that its page works out anew for another kettle is as quiet, with and without a policy', async () => {
    for (const bypassCSP of [false, true]) {
      const watched = await watch(await browser.newContext({ offline: true, bypassCSP }));
      for (const slug of slugs.filter((_, at) => at % 6 === 0)) {
        await visit(watched, `recipes/${slug}/index.html`, '#fit=1&v=9&k=12&u=us');
        await watched.page.waitForSelector('.fit-say p');
        const [html, title] = await watched.page.evaluate(() => [
          document.documentElement.outerHTML,
          document.querySelector('h1')?.textContent ?? '',
        ]);
        expect(html).toContain('gal');
        expect(title.trim()).not.toBe('');
        expect(html).not.toContain(EVALUATED);
        await expectDead(watched.page, html.replace(/<script\b[^>]*>.*?<\/script>/gs, ''), slug);
      }
      expect(watched.signs).toEqual([]);
      await watched.page.context().close();
    }
  });

  it('two batches held against each other are as quiet, with and without a policy', async () => {
    for (const bypassCSP of [false, true]) {
      const watched = await watch(await browser.newContext({ offline: true, bypassCSP }));
      for (const [at, slug] of slugs.entries()) {
        const other = slugs[(at + 1) % slugs.length]!;
        if (at % 6 !== 1 || other === slug) continue;
        await visit(watched, 'index.html');
        const asked = `#a=${encodeURIComponent(slug)}&b=${encodeURIComponent(other)}`;
        await visit(watched, 'compare/index.html', asked);
        await watched.page.waitForSelector('.compare-out h2');
        const html = await watched.page.evaluate(() => document.documentElement.outerHTML);
        expect(html).not.toContain(EVALUATED);
        await expectDead(watched.page, html.replace(/<script\b[^>]*>.*?<\/script>/gs, ''), slug);
      }
      expect(watched.signs).toEqual([]);
      await watched.page.context().close();
    }
  });

  it('such a watch is not blind: each kind of attack is seen where it is not made harmless', async () => {
    for (const bypassCSP of [false, true]) {
      const watched = await watch(await browser.newContext({ offline: true, bypassCSP }));
      await watched.page.goto(address('index.html'));
      await watched.page.evaluate((html) => {
        document.body.innerHTML = html;
      }, ATTACKS.handler ?? '');
      await watched.page.waitForTimeout(200);
      const ran = await watched.page.evaluate((key) => Object.hasOwn(window, key), RAN);
      expect(ran).toBe(bypassCSP);
      expect(watched.signs.some((sign) => sign.startsWith('policy: '))).toBe(!bypassCSP);
      await watched.page.context().close();
    }
  });
});

/** Addresses of the project's own scripts, as seen from a page. */
const ownScript = (path: string): RegExp =>
  path.startsWith('assets/') ? /^[a-z.-]+\.js$/ : /^(?:\.{1,2}\/)*assets\/[a-z.-]+\.js$/;

/** Elements and attributes as a browser's parser finds them, without running the page. */
async function anatomy(page: Page, html: string) {
  return page.evaluate(
    ([text, own]) => {
      const parsed = new DOMParser().parseFromString(text, 'text/html');
      const DATA = ['application/ld+json', 'application/json'];
      const all = [...parsed.querySelectorAll('*')];
      const urls = all.flatMap((one) =>
        ['href', 'src', 'xlink:href', 'action', 'formaction', 'data', 'poster', 'srcset', 'cite'].flatMap(
          (name) => (one.hasAttribute(name) ? [`${one.localName} ${one.getAttribute(name)}`] : []),
        ),
      );
      return {
        elements: [...new Set(all.map((one) => one.localName))],
        attributes: [...new Set(all.flatMap((one) => one.getAttributeNames()))],
        schemes: [
          ...new Set(
            urls.map((url) => {
              const [tag, ...rest] = url.split(' ');
              const whole = new URL(rest.join(' '), own);
              return `${tag} ${whole.protocol}${whole.protocol === 'data:' ? whole.pathname.split(',')[0] : `//${whole.host}`}`;
            }),
          ),
        ],
        metas: [...parsed.querySelectorAll('meta[http-equiv]')].map((one) => one.getAttribute('http-equiv')),
        scripts: [...parsed.scripts]
          .filter((one) => !DATA.includes(one.type))
          .map((one) => one.getAttribute('src')),
        data: [...parsed.scripts]
          .filter((one) => DATA.includes(one.type))
          .map((one) => one.textContent ?? ''),
        comments: (() => {
          const walker = parsed.createTreeWalker(parsed, NodeFilter.SHOW_COMMENT);
          let count = 0;
          while (walker.nextNode()) count += 1;
          return count;
        })(),
      };
    },
    [html, 'file:///own/place/index.html'] as const,
  );
}

/** What Markdown gives, and what only some batches have; elements of the harmless site are added before the tests. */
const ELEMENTS = new Set(
  'h1 h2 h3 h4 h5 h6 p a em strong s code pre blockquote ol ul li hr br img table thead tbody tr th td ins del'.split(
    ' ',
  ),
);

describe('to a parser', () => {
  it('every page is made of its own elements, with no handler, no style and no foreign address', async () => {
    const page = await (await openContext(browser)).newPage();
    for (const path of pages) {
      const found = await anatomy(page, readFileSync(join(out, path), 'utf8'));
      expect(
        found.elements.filter((name) => !ELEMENTS.has(name)),
        path,
      ).toEqual([]);
      expect(
        found.attributes.filter((name) => /^on|^style$|^srcdoc$|^formaction$/.test(name)),
        path,
      ).toEqual([]);
      expect(
        found.attributes.filter((name) => !/^[a-zA-Z][a-zA-Z-]*$/.test(name)),
        path,
      ).toEqual([]);
      const own = ['file://', 'https://example.org'];
      expect(
        found.schemes.filter((one) => !own.some((end) => one.endsWith(` ${end}`))),
        path,
      ).toEqual([]);
      expect(
        found.schemes.filter((one) => !/^(?:a|link) /.test(one) && one.includes('https:')),
        path,
      ).toEqual([]);
      expect(found.metas, path).toEqual(['Content-Security-Policy']);
      expect(found.comments, path).toBe(0);
      for (const data of found.data) expect(typeof JSON.parse(data), path).toBe('object');
      expect(
        found.scripts.filter((source) => source === null || !ownScript(path).test(source)),
        path,
      ).toEqual([]);
    }
    await page.close();
  });

  it('every attack that is a title stands on its page as it was written', async () => {
    const page = await (await openContext(browser)).newPage();
    for (const [at, text] of Object.values(ATTACKS).entries()) {
      if (/[\u0080-\u009f\u200b-\u202e\u2066-\u2069\ufeff]/.test(text)) continue;
      const html = readFileSync(join(out, `batches/${slugs[at]}/index.html`), 'utf8');
      const shown = await page.evaluate(
        (source) => new DOMParser().parseFromString(source, 'text/html').querySelector('h1')?.textContent,
        html,
      );
      expect(shown?.replace(/\s+/g, ' ').trim()).toContain(text.replace(/\s+/g, ' ').trim().slice(0, 300));
    }
    await page.close();
  });
});

describe('what turns the direction of writing', () => {
  const CONTROLS = /[\u202a-\u202e\u2066-\u2069]/;
  const LEFTWARD = /[\u0590-\u06ff]/;
  const ENTITY = /&(?:#x20(?:2[a-e]|6[6-9])|#8(?:23[4-8]|29[4-7]));/i;

  it('is on no page, neither as a sign nor as an entity', async () => {
    for (const path of pages) {
      const html = readFileSync(join(out, path), 'utf8');
      expect(CONTROLS.test(html), path).toBe(false);
      expect(ENTITY.test(html), path).toBe(false);
    }
  });

  it('never moves a figure that stands after a name in another script', async () => {
    const page = await (await openContext(browser)).newPage();
    let seen = 0;
    const written = readable().filter(
      (path, at) => at % 4 === 0 && LEFTWARD.test(readFileSync(join(out, path), 'utf8')),
    );
    for (const path of written) {
      await page.goto(address(path));
      const moved = await page.evaluate(() => {
        const found: { text: string; wrong: boolean }[] = [];
        for (const one of document.querySelectorAll('details')) one.open = true;
        const leaf = /[\u0590-\u06ff][^A-Za-z\u0590-\u06ff]*?[0-9]/;
        for (const block of document.querySelectorAll('p, li, td, th, dd, dt, h1, h2, h3')) {
          const walker = document.createTreeWalker(block, NodeFilter.SHOW_TEXT);
          const signs: (readonly [node: Node, at: number])[] = [];
          let whole = '';
          for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
            const text = node.textContent ?? '';
            whole += text;
            for (let at = 0; at < text.length; at += 1) signs.push([node, at]);
          }
          const match = leaf.exec(whole);
          if (match === null) continue;
          const boxOf = (sign: readonly [node: Node, at: number] | undefined) => {
            if (sign === undefined) return new DOMRect();
            const range = document.createRange();
            range.setStart(sign[0], sign[1]);
            range.setEnd(sign[0], sign[1] + 1);
            return range.getBoundingClientRect();
          };
          const letter = boxOf(signs[match.index]);
          const digit = boxOf(signs[match.index + match[0].length - 1]);
          if (digit.width === 0 || Math.abs(letter.top - digit.top) > 4) continue;
          found.push({ text: whole.trim().slice(0, 120), wrong: digit.left < letter.left });
        }
        return found;
      });
      seen += moved.length;
      expect(moved.filter(({ wrong }) => wrong).map(({ text }) => `${path}: ${text}`)).toEqual([]);
    }
    expect(seen).toBeGreaterThan(3);
    await page.close();
  });
});

it('whatever reaches the plan of an attack is text', () => {
  for (const slug of slugs) {
    const plan: unknown = JSON.parse(readFileSync(join(out, `batches/${slug}/plan.json`), 'utf8'));
    expect(plan).toMatchObject({ version: 1, slug });
    expect(JSON.stringify(plan)).not.toContain(`https://${FOREIGN}/e"`);
  }
});

describe('what other programs read', () => {
  const files = async (ending: RegExp) => (await filesBelow(out)).filter((path) => ending.test(path));

  it('feeds and site map are sound XML, and what a reader shows of them is as dead as the pages', async () => {
    const page = await (await openContext(browser)).newPage();
    const paths = await files(/\.xml$/);
    expect(paths.length).toBeGreaterThan(0);
    for (const path of paths) {
      const xml = readFileSync(join(out, path), 'utf8');
      const { error, htmls } = await page.evaluate((text) => {
        const parsed = new DOMParser().parseFromString(text, 'application/xml');
        const shown = [...parsed.querySelectorAll('content, summary, title, description')];
        return {
          error: parsed.querySelector('parsererror')?.textContent ?? null,
          htmls: shown
            .filter((one) => one.getAttribute('type') === 'html')
            .map((one) => one.textContent ?? ''),
        };
      }, xml);
      expect(error, path).toBeNull();
      for (const html of htmls) await expectDead(page, html, path);
    }
    for (const path of await files(/feed\.json$/)) {
      const feed: { items: { content_html?: string }[] } = JSON.parse(readFileSync(join(out, path), 'utf8'));
      expect(feed.items.length).toBeGreaterThan(0);
      for (const { content_html = '' } of feed.items) await expectDead(page, content_html, path);
    }
    await page.close();
  });

  it('calendars hold no line that a text has smuggled in', async () => {
    const paths = await files(/\.ics$/);
    for (const path of paths) {
      const lines = readFileSync(join(out, path), 'utf8').replaceAll('\r\n ', '').split('\r\n');
      const kinds = lines
        .filter((line) => line !== '')
        .map((line) => /^[A-Z-]+(?=[;:])/.exec(line)?.[0] ?? line);
      expect(
        kinds.filter((kind) => kind.includes('ATTACK') || /[^A-Z-]/.test(kind)),
        path,
      ).toEqual([]);
      expect(
        lines.filter((line) => line.startsWith('BEGIN:VATTACK')),
        path,
      ).toEqual([]);
    }
  });

  it('tables have no cell that a spreadsheet would work out', async () => {
    for (const path of await files(/\.csv$/)) {
      const rows = cells(readFileSync(join(out, path), 'utf8'));
      expect(rows.length, path).toBeGreaterThan(1);
      for (const row of rows) expect(row.length, path).toBe(rows[0]?.length);
      const alive = rows
        .flat()
        .filter((cell) => /^\s*[=+\-@\t\r]/.test(cell) && !/^-?\d+(?:\.\d+)?$/.test(cell));
      expect(alive, path).toEqual([]);
    }
  });
});

async function expectDead(page: Page, html: string, path: string): Promise<void> {
  const found = await anatomy(page, html);
  expect(found.scripts, path).toEqual([]);
  expect(
    found.elements.filter((name) => !ELEMENTS.has(name)),
    path,
  ).toEqual([]);
  expect(
    found.attributes.filter((name) => /^on|^style$|^srcdoc$/.test(name)),
    path,
  ).toEqual([]);
  expect(
    found.schemes.filter((one) => /javascript:|vbscript:|evil|text\/html/.test(one)),
    path,
  ).toEqual([]);
}

/** Cells of a table after RFC 4180. */
function cells(text: string): string[][] {
  const rows: string[][] = [[]];
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/g)) {
    rows.at(-1)?.push(quoted === undefined ? (plain ?? '') : quoted.replaceAll('""', '"'));
    if (end === '') break;
    if (end === '\r\n') rows.push([]);
  }
  return rows.filter((row) => row.length > 1 || row[0] !== '');
}
