/** While files are edited, only what changed is done again, and nothing that changed is missed. */
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createSiteMemory, loadSite } from '../../lib/site/archive.ts';
import { createPages, type Pages, pagePaths } from '../../lib/site/pages.ts';
import { answerPath } from '../../lib/site/preview.ts';

let dir: string;
let content: string;
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-looking-on-'));
  content = join(dir, 'content');
  await cp('content', content, { recursive: true });
});
afterAll(() => rm(dir, { recursive: true, force: true }));

it('gives the same objects for what is the same, and new ones for what was edited', async () => {
  const memory = createSiteMemory();
  const first = await loadSite(content, { memory });
  const file = join(content, 'batches/regatta-bitter.md');
  await writeFile(file, (await readFile(file, 'utf8')).replace(/^title:.*$/m, 'title: Regatta Stronger'));
  const second = await loadSite(content, { memory });
  const of = (site: typeof first, slug: string) => ({
    read: site.content.asRead!.find((batch) => batch.slug === slug)!,
    entry: site.content.entries.find(({ batch }) => batch.slug === slug)!,
  });
  for (const { slug } of first.archive.batches) {
    const [was, is] = [of(first, slug), of(second, slug)];
    expect(was.read === is.read, slug).toBe(slug !== 'regatta-bitter');
    expect(was.entry === is.entry, slug).toBe(slug !== 'regatta-bitter');
  }
  expect(of(second, 'regatta-bitter').entry.plan.title).toBe('Regatta Stronger');
});

it('says where a warning stands, also where a remark was put above it', async () => {
  const memory = createSiteMemory();
  const before = (await loadSite(content, { memory })).problems.filter(
    ({ severity }) => severity === 'warning',
  );
  const one = before.find(({ file }) => file.includes('/batches/'))!;
  const name = one.file.split('/').at(-1)!;
  const file = join(content, 'batches', name);
  await writeFile(file, (await readFile(file, 'utf8')).replace(/^---\n/, '---\n# a remark\n# and another\n'));
  const after = (await loadSite(content, { memory })).problems;
  const same = after.find(
    (problem) =>
      problem.file === one.file && problem.code === one.code && problem.path.join() === one.path.join(),
  );
  expect(same?.line).toBe(one.line + 2);
});

it('reads a batch again where what it leans on was changed', async () => {
  const memory = createSiteMemory();
  const before = (await loadSite(content, { memory })).content.entries;
  const file = join(content, 'setups.yaml');
  await writeFile(file, (await readFile(file, 'utf8')).replace(/^( +)boil_off:.*$/m, '$1boil_off: 4.7 L/h'));
  const after = (await loadSite(content, { memory })).content.entries;
  const anew = (await loadSite(content)).content.entries;
  const plans = (entries: typeof before) => entries.map(({ plan }) => plan);
  expect(plans(after)).not.toEqual(plans(before));
  expect(plans(after)).toEqual(plans(anew));
});

it('plans again what has learned from a batch that changed, and from one that is gone', async () => {
  const memory = createSiteMemory();
  const all = await loadSite(content, { memory });
  const learned = all.content.entries.find(({ plan }) => (plan.learned ?? []).length > 0)!;
  const earlier = all.archive.batches.filter(
    ({ brewed, setup }) =>
      setup.key === learned.batch.setup.key && brewed !== null && brewed < learned.batch.brewed!,
  );
  expect(earlier.length).toBeGreaterThan(0);
  for (const { slug } of earlier) await rm(join(content, `batches/${slug}.md`));
  const of = (site: typeof all) =>
    site.content.entries.find(({ batch }) => batch.slug === learned.batch.slug);
  const after = await loadSite(content, { memory });
  expect(of(after)!.plan.learned ?? []).not.toEqual(learned.plan.learned);
  expect(of(after)!.plan).toEqual(of(await loadSite(content))!.plan);
  expect(after.content.entries.map(({ batch }) => batch.slug)).not.toContain(earlier[0]!.slug);
});

describe('what the preview answers', () => {
  let pages: Pages;
  const assets = new Map([['assets/site.css', async () => 'body {}']]);
  const ask = (path: string) => answerPath({ pages, assets }, path);
  beforeAll(async () => {
    pages = createPages((await loadSite('content')).content, { preview: true });
  });

  it('is every file of the site, each of its own type', async () => {
    for (const path of pagePaths(pages)) {
      const answer = await ask(`/${path}`);
      expect([path, answer.status]).toEqual([path, 200]);
      expect(answer).toMatchObject({ type: expect.not.stringContaining('octet-stream') });
    }
  }, 60_000);

  it.each([
    ['/', 'index.html'],
    ['/about/', 'about/index.html'],
    ['/batches/regatta-bitter/', 'batches/regatta-bitter/index.html'],
  ])('at %s is %s', async (path, file) => {
    expect(await ask(path)).toMatchObject({ status: 200, body: pages.file(file) });
  });

  it('sends a folder without its slash to the one with it', async () => {
    expect(await ask('/batches/regatta-bitter')).toEqual({ status: 302, to: '/batches/regatta-bitter/' });
  });

  it('is the page for wrong addresses where there is nothing, whatever lies in the output folder', async () => {
    const wrong = [
      '/nothing/',
      '/%',
      '/../package.json',
      '/..%2fpackage.json',
      '/pagefind/pagefind.js',
      '//',
      '/__proto__',
    ];
    for (const path of wrong) {
      const answer = await ask(path);
      expect([path, answer.status]).toEqual([path, 404]);
      expect(answer).toMatchObject({ body: expect.stringContaining('No such page') });
    }
  });

  it('is no batch that is not published', async () => {
    const hidden = (await loadSite('content')).archive.batches.find(({ publish }) => publish === 'nothing')!;
    expect((await ask(`/batches/${hidden.slug}/`)).status).toBe(404);
    expect((await ask(`/batches/${hidden.slug}/kettle-sheet.html`)).status).toBe(404);
  });

  it('gives an asset as it was made', async () => {
    expect(await ask('/assets/site.css')).toEqual({
      status: 200,
      type: 'text/css; charset=utf-8',
      body: 'body {}',
    });
  });
});
