import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type LoadedSite, loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { checkSite } from '../../lib/site/check-site.ts';
import { run } from '../commands/run.ts';
import { openBrowser } from '../shared.ts';
import { serveFolder } from './serve-folder.ts';

let dir: string;
let content: string;
let out: string;
let loaded: LoadedSite;

beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-check-'));
  content = join(dir, 'content');
  out = join(dir, 'site');
  await cp(join(import.meta.dirname, '../../content'), content, { recursive: true });
  const brewery = join(content, 'brewery.yaml');
  const text = (await readFile(brewery, 'utf8')).replace(/^url:.*\n/m, '');
  await writeFile(brewery, `${text.trimEnd()}\nurl: https://example.org/beer/\n`);
  const batch = join(content, 'batches/regatta-bitter.md');
  await writeFile(
    batch,
    (await readFile(batch, 'utf8'))
      .replace(/^---\n/, '---\nprivate: |\n  For Quillfeather, who pays in eels\n')
      .replace(/^private:.*\n(?! {2}For)(?: {2}.*\n)*/m, ''),
  );
  loaded = await loadSite(content);
  await buildSite({ contentDir: content, outputDir: out, data: loaded });
});
afterAll(() => rm(dir, { recursive: true, force: true }));

const check = () => checkSite(out, content, loaded.archive);

/** Changes a file of the site, looks it over, and puts the file back. */
async function faultsAfter(path: string, change: (text: string) => string) {
  const file = join(out, path);
  const before = await readFile(file, 'utf8');
  const changed = change(before);
  expect(changed).not.toBe(before);
  await writeFile(file, changed);
  const { faults } = await check();
  await writeFile(file, before);
  return faults.map(({ file: where, code, found }) => `${where} ${code} ${found}`);
}

describe('a built site', () => {
  it('is found fit to publish', async () => {
    const { faults, pages } = await check();
    expect(faults).toEqual([]);
    expect(pages).toBeGreaterThan(100);
    expect(loaded.archive.batches.find(({ slug }) => slug === 'regatta-bitter')).toBeDefined();
  });

  it.each([
    ['a file that is not there', 'href="./about/index.html"', 'href="./about/nothing.html"'],
    ['a place that is not there', 'about/index.html#cautions', 'about/index.html#no-such-place'],
    ['a full address of its own', 'href="./about/index.html"', 'href="https://example.org/beer/nothing/"'],
    ['a path outside its prefix', 'href="./about/index.html"', 'href="/about/index.html"'],
  ])('fails on a link to %s', async (_, from, to) => {
    const faults = await faultsAfter('index.html', (text) => text.replace(from, to));
    expect(faults).toHaveLength(1);
    expect(faults[0]).toContain('index.html broken-link');
  });

  it('fails on a page without a description', async () => {
    const faults = await faultsAfter('about/index.html', (text) =>
      text.replace(/<meta name="description"[^>]*>\n/, ''),
    );
    expect(faults).toEqual(['about/index.html description-missing no description']);
  });

  it.each([
    ['about/index.html', '</body>', '<img src="https://elsewhere.example/eye.gif" alt=""></body>'],
    ['about/index.html', '</body>', '<script src="//elsewhere.example/x.js"></script></body>'],
    ['about/index.html', '</head>', '<link rel="preconnect" href="https://elsewhere.example"></head>'],
    ['assets/site.css', ':root {', '@import "https://elsewhere.example/a.css";\n:root {'],
    ['assets/site.css', ':root {', ':root { background: url(https://elsewhere.example/a.png);'],
  ])('fails on what %s would ask of others', async (path, from, to) => {
    const faults = await faultsAfter(path, (text) => text.replace(from, to));
    expect(faults.map((one) => one.replace(/ \S*elsewhere.*/, ''))).toEqual([`${path} foreign-request`]);
  });

  it('fails on a policy that lets others in', async () => {
    const faults = await faultsAfter('about/index.html', (text) =>
      text.replace("default-src 'none'", "default-src 'none'; connect-src https:"),
    );
    expect(faults.join()).toContain('about/index.html policy-missing');
  });

  it.each(['Quillfeather', 'who pays in eels'])(
    'fails on the private word %s, wherever it stands',
    async (word) => {
      for (const path of [
        'batches/regatta-bitter/index.html',
        'data/archive.json',
        'batches/regatta-bitter/plan.json',
      ]) {
        const faults = await faultsAfter(path, (text) =>
          text.replace(/(?=Regatta)/, `For Quillfeather, ${word} `),
        );
        expect(faults.join(), path).toContain(`${path} private-word`);
      }
    },
  );

  it('fails on the name of a batch that is not published', async () => {
    const hidden = loaded.archive.batches.find(({ publish }) => publish === 'nothing')!;
    const faults = await faultsAfter('index.html', (text) =>
      text.replace('</main>', `<p>${hidden.slug}</p></main>`),
    );
    expect(faults.join()).toContain('index.html private-word');
  });

  it('is told so by the command, with its exit code', async () => {
    const fine = await run('check', ['--site', '--content', content, '--output', out]);
    expect(fine.code).toBe(0);
    expect(fine.out).toContain('fit to publish');
    await rm(join(out, 'about/index.html'));
    const broken = await run('check', ['--site', '--content', content, '--output', out]);
    expect(broken.code).toBe(1);
    expect(broken.out).toContain('[broken-link]');
    const none = await run('check', ['--site', '--content', content, '--output', join(dir, 'nowhere')]);
    expect(none.code).toBe(2);
    await buildSite({ contentDir: content, outputDir: out, data: loaded });
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
      '404.html',
    ])
      await page.goto(`${served.url}${path}`, { waitUntil: 'load' });
    expect(served.missing).toEqual([]);
    expect(elsewhere.filter((url) => !/^(?:data|blob):/.test(url))).toEqual([]);
    await Promise.all([browser.close(), served.close()]);
  });
});
