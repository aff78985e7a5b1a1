import { existsSync, readFileSync } from 'node:fs';
import { dirname, join, normalize } from 'node:path';
import { HtmlValidate } from 'html-validate';
import { beforeAll, describe, expect, it } from 'vitest';
import { fixtureSite } from './build-fixture.ts';
import { attributes, filesBelow, filesThatHold, htmlBelow } from './files.ts';

let site: Awaited<ReturnType<typeof fixtureSite>>;
let pages: { path: string; html: string }[];

beforeAll(async () => {
  site = await fixtureSite();
  pages = await htmlBelow(site.dir);
});

const BATCHES = ['winding-hole-bitter', 'mischief', 'not-yet', 'wordy'];
const BATCH_FILES = [
  'cellar-sheet.html',
  'compare.js',
  'index.html',
  'kettle-sheet.html',
  'plan.json',
  'recipe-card.html',
];

const LONG = 'hochgebirgsgroßdoldenlandhopfenkonzentrat';

describe('what a build writes', () => {
  it('is one folder a batch, one a recipe, and nothing that is not published', async () => {
    const expected = [
      '404.html',
      'about/index.html',
      'about/messages/index.html',
      ...BATCHES.flatMap((slug) => BATCH_FILES.map((file) => `batches/${slug}/${file}`)),
      ...BATCHES.map((slug) => `batches/${slug}/${slug}.ics`),
      // The form is there as long as a batch has not been tasted.
      ...['mischief', 'not-yet'].map((slug) => `batches/${slug}/key-in/index.html`),
      'batches/towpath-gift/recipe-card.html',
      ...[
        'hop/fuggle',
        'hop/goldings',
        'malt/crystal-malt-150',
        'malt/pale-liquid-extract',
        'setup/gas-ring-and-the-15-l-pot',
        'style/brown-ale',
        'style/img-src-x-onerror-alert-1',
        'tag/regatta',
        'yeast/english-ale',
        ...['hop', 'malt', 'tag', 'yeast'].map((kind) => `${kind}/${LONG}`),
        // A folder's name is cut off: file systems take no more than 255 bytes.
        `style/${(LONG + LONG).slice(0, 60)}`,
      ].map((way) => `by/${way}/index.html`),
      'by/index.html',
      'search/index.html',
      'search/words-1.js',
      'years/index.html',
      'years/2026/index.html',
      'data/archive.json',
      'data/index.html',
      ...['batches', 'fermentation', 'ingredients', 'readings', 'tastings'].map((name) => `data/${name}.csv`),
      'archive-rows.js',
      'compare/index.html',
      'index.html',
      'kit/index.html',
      ...[...BATCHES, 'towpath-gift'].map((slug) => `recipes/${slug}/index.html`),
      ...['batch', 'brewery', 'ingredients', 'plan', 'setups'].map((name) => `schema/${name}.schema.json`),
    ].sort();
    const written = (await filesBelow(site.dir)).filter((path) => !/^(?:assets\/|\.kettleside$)/.test(path));
    expect(written).toEqual(expected);
    expect([...site.result.pages].sort()).toEqual(expected.filter((path) => !path.startsWith('schema/')));
  });

  it.each(['unseen-barge', 'Unseen Barge'])('holds %s, which is not published, in no byte', async (text) => {
    expect(await filesThatHold(site.dir, text)).toEqual([]);
  });

  it.each(['777123', '2025-12-24', '24 Dec 2025', 'nobody else', 'batches/towpath-gift/index.html'])(
    'shows of a recipe nothing that belongs to its batch: %s',
    async (text) => {
      expect(await filesThatHold(site.dir, text.replace(/ /g, '\u00a0'))).toEqual([]);
      expect(await filesThatHold(site.dir, text)).toEqual([]);
    },
  );
});

describe('every page', () => {
  it('is valid HTML', async () => {
    const validator = new HtmlValidate({
      extends: ['html-validate:recommended'],
      rules: {
        // Browsers and this project write <!doctype html> and <meta …> as the HTML standard shows them.
        'doctype-style': ['error', { style: 'lowercase' }],
        'void-style': ['error', { style: 'omit' }],
        'long-title': 'off',
        // What the brewer wrote is shown as it was written.
        'no-trailing-whitespace': 'off',
      },
    });
    const problems: string[] = [];
    for (const { path, html } of pages.filter((page) => !/sheet|card/.test(page.path))) {
      const report = await validator.validateString(html);
      for (const result of report.results)
        for (const m of result.messages)
          problems.push(`${path}:${m.line}:${m.column} ${m.ruleId} ${m.message}`);
    }
    expect(problems).toEqual([]);
  });

  it('forbids everything that does not come with the site', () => {
    expect(pages.length).toBeGreaterThan(15);
    for (const { path, html } of pages) {
      const policy = /<meta http-equiv="Content-Security-Policy" content="([^"]*)"/.exec(html)?.[1] ?? '';
      expect(policy, path).toContain("default-src 'none'");
      expect(policy, path).toContain("base-uri 'none'");
      expect(policy, path).toContain("form-action 'none'");
      expect(policy, path).not.toMatch(/https?:|\*/);
      expect(policy, path).not.toContain('unsafe-eval');
      if (!/sheet|card/.test(path)) expect(policy, path).not.toContain('unsafe-inline');
      expect(html.indexOf('Content-Security-Policy'), path).toBeLessThan(
        html.search(/<(?:link|script|style|title)/),
      );
    }
  });

  it('takes no file from another origin', () => {
    for (const { path, html } of pages) {
      const foreign = /^(?:[a-z][a-z0-9+.-]*:)?\/\//i;
      expect(
        attributes(html, 'src').filter((url) => foreign.test(url)),
        path,
      ).toEqual([]);
      expect(attributes(html, 'srcset'), path).toEqual([]);
      const links = [...html.matchAll(/<link\s[^>]*>/g)]
        .map((m) => m[0])
        .filter((tag) => !tag.includes('canonical'));
      expect(
        links.flatMap((tag) => attributes(tag, 'href')).filter((url) => foreign.test(url)),
        path,
      ).toEqual([]);
    }
  });

  it('has no style attribute and no handler', () => {
    for (const { path, html } of pages.filter((page) => !/sheet|card/.test(page.path))) {
      expect(html, path).not.toMatch(/<[a-z][^>]*\sstyle\s*=/i);
      expect(html, path).not.toMatch(/<[a-z][^<>"]*(?:"[^"]*"[^<>"]*)*\son[a-z]+\s*=/i);
    }
  });

  it('leads nowhere that does not exist', () => {
    let checked = 0;
    for (const { path, html } of pages) {
      for (const href of [...attributes(html, 'href'), ...attributes(html, 'src')]) {
        if (/^(?:https?:|mailto:|data:)/.test(href)) continue;
        const [file = '', fragment] = href.split('#');
        const target = file === '' ? path : normalize(join(dirname(path), decodeURIComponent(file)));
        expect(existsSync(join(site.dir, target)), `${path} → ${href}`).toBe(true);
        // What a page is to show first is no place in it.
        if (fragment !== undefined && !fragment.includes('='))
          expect(readFileSync(join(site.dir, target), 'utf8'), `${path} → ${href}`).toContain(
            `id="${fragment}"`,
          );
        checked++;
      }
    }
    expect(checked).toBeGreaterThan(90);
  });
});

describe('text that would do harm', () => {
  it('stands on the page as text', () => {
    const { html } = pages.find((page) => page.path === 'batches/mischief/index.html')!;
    expect(html).toContain('&lt;script&gt;alert(1)&lt;/script&gt;{{ 7 * 7 }}{% raw %}');
    expect(html).toContain('&lt;script&gt;alert(2)&lt;/script&gt;');
    expect(html).toContain('{% include &quot;secret&quot; %}');
    expect(html).not.toContain('<script');
    expect(html).not.toContain('<img');
    expect(html).not.toContain('49');
  });

  it('leaves only safe links', () => {
    const { html } = pages.find((page) => page.path === 'batches/mischief/index.html')!;
    const schemes = attributes(html, 'href').map((href) => /^[a-z]+:/i.exec(href)?.[0] ?? 'relative');
    expect(new Set(schemes)).toEqual(new Set(['relative', 'https:', 'mailto:']));
  });

  it('reaches no other page as markup either', () => {
    for (const { path, html } of pages) {
      expect(html, path).not.toContain('<script>alert');
      expect(html, path).not.toMatch(/<img[^>]*onerror/);
    }
  });
});
