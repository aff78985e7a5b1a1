import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { LoadedSite } from '../../lib/site/archive.ts';
import { checkSite } from '../../lib/site/check-site.ts';
import { loadDemo } from '../browser/demo.ts';
import { run } from '../commands/run.ts';
import { demoSite, openBrowser } from '../shared.ts';
import { serveFolder } from './serve-folder.ts';

const content = join(import.meta.dirname, '../../content');
let dir: string;
let out: string;
let loaded: LoadedSite;

beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-check-'));
  out = join(dir, 'site');
  await cp(await demoSite(), out, { recursive: true });
  ({ loaded } = await loadDemo());
});
afterAll(() => rm(dir, { recursive: true, force: true }));

const check = () => checkSite(out, content, loaded.archive);

describe('a built site', () => {
  it('is found fit to publish', async () => {
    const { faults, pages } = await check();
    expect(faults).toEqual([]);
    expect(pages).toBeGreaterThan(100);
  });

  it('fails on each thing that is not fit, and names it', async () => {
    const hidden = loaded.archive.batches.find(({ publish }) => publish === 'nothing')!;
    const link = (to: string) => ['index.html', '</main>', `<a href="${to}">a</a></main>`] as const;
    const faults: readonly (readonly [path: string, from: string, to: string, fault: string])[] = [
      [...link('./about/nothing.html'), 'broken-link'],
      [...link('about/index.html#no-such-place'), 'broken-link'],
      [...link('https://pennywort-lock.example/nothing/'), 'broken-link'],
      ['index.html', '</main>', `<p>${hidden.slug}</p></main>`, 'private-word'],
      ['kit/index.html', '<meta name="description"', '<meta name="else"', 'description-missing'],
      [
        'about/index.html',
        '</body>',
        '<img src="https://elsewhere.example/eye.gif" alt=""></body>',
        'foreign-request',
      ],
      [
        'by/index.html',
        '</body>',
        '<script src="//elsewhere.example/x.js"></script></body>',
        'foreign-request',
      ],
      [
        'data/index.html',
        '</head>',
        '<link rel="preconnect" href="https://elsewhere.example"></head>',
        'foreign-request',
      ],
      [
        'assets/site.css',
        ':root {',
        '@import "https://elsewhere.example/a.css";\n:root {',
        'foreign-request',
      ],
      [
        'assets/site.css',
        ':root {',
        ':root { background: url(https://elsewhere.example/b.png);',
        'foreign-request',
      ],
      ['search/index.html', "default-src 'none'", "default-src 'none'; connect-src https:", 'policy-missing'],
      ['batches/regatta-bitter/index.html', 'Regatta', 'For a seventieth, Regatta', 'private-word'],
      ['data/archive.json', 'Regatta', 'For a seventieth, Regatta', 'private-word'],
      [
        'batches/regatta-bitter/plan.json',
        'Regatta',
        'Her aunt cannot have wheat: check the labels again before it leaves the house. Regatta',
        'private-word',
      ],
    ];
    const before = new Map<string, string>();
    for (const [path, from, to] of faults) {
      const text = await readFile(join(out, path), 'utf8');
      if (!before.has(path)) before.set(path, text);
      expect(text, path).toContain(from);
      await writeFile(join(out, path), text.replace(from, to));
    }
    const found = (await check()).faults.map(({ file, code }) => `${file} ${code}`);
    for (const [path, text] of before) await writeFile(join(out, path), text);
    // Of a private line each word is told too.
    expect(new Set(found)).toEqual(new Set(faults.map(([path, , , code]) => `${path} ${code}`)));
    for (const code of ['broken-link', 'foreign-request'])
      expect(found.filter((one) => one.endsWith(code)).length).toBe(
        faults.filter((row) => row[3] === code).length,
      );
  });

  it('is told so by the command, with its exit code', async () => {
    const fine = await run('check', ['--site', '--content', content, '--output', out]);
    expect(fine.code).toBe(0);
    expect(fine.out).toContain('fit to publish');
    const about = await readFile(join(out, 'about/index.html'));
    await rm(join(out, 'about/index.html'));
    const broken = await run('check', ['--site', '--content', content, '--output', out]);
    expect(broken.code).toBe(1);
    expect(broken.out).toContain('[broken-link]');
    await writeFile(join(out, 'about/index.html'), about);
    const none = await run('check', ['--site', '--content', content, '--output', join(dir, 'nowhere')]);
    expect(none.code).toBe(2);
  });
});

describe('below a prefix', () => {
  it('every page gets all that it asks for, and nothing from elsewhere', async () => {
    const [browser, served] = await Promise.all([openBrowser(), serveFolder(out, '/beer/')]);
    const page = await browser.newPage();
    const elsewhere: string[] = [];
    page.on('request', (request) => {
      if (!request.url().startsWith(served.url)) elsewhere.push(request.url());
    });
    for (const path of [
      '',
      'recipes/regatta-bitter/',
      'batches/moorhen-brown-3/',
      'years/2025/',
      'compare/#a=moorhen-brown-2&b=moorhen-brown-3',
      'by/',
      'kit/',
      'data/',
    ])
      await page.goto(`${served.url}${path}`, { waitUntil: 'load' });
    expect(served.missing).toEqual([]);
    expect(elsewhere.filter((url) => !/^(?:data|blob):/.test(url))).toEqual([]);
    await Promise.all([browser.close(), served.close()]);
  });
});
