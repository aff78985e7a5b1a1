/** While files are edited, only what changed is done again, and nothing that changed is missed. */
import { cp, mkdtemp, readFile, rm, stat, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { loadSite } from '../../lib/site/archive.ts';
import { createPages } from '../../lib/site/pages.ts';
import { createPlanner } from '../../lib/site/plan-memo.ts';
import { writeFiles } from '../../lib/site/write-files.ts';

let dir: string;
let content: string;
beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-looking-on-'));
  content = join(dir, 'content');
  await cp('content', content, { recursive: true });
});
afterAll(() => rm(dir, { recursive: true, force: true }));

it('gives the same objects for what is the same, and new ones for what was edited', async () => {
  const plan = createPlanner();
  const first = await loadSite(content, { plan });
  const file = join(content, 'batches/regatta-bitter.md');
  await writeFile(file, (await readFile(file, 'utf8')).replace(/^title:.*$/m, 'title: Regatta Stronger'));
  const second = await loadSite(content, { plan });
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
  const plan = createPlanner();
  const before = (await loadSite(content, { plan })).problems.filter(
    ({ severity }) => severity === 'warning',
  );
  const one = before.find(({ file }) => file.includes('/batches/'))!;
  const name = one.file.split('/').at(-1)!;
  const file = join(content, 'batches', name);
  await writeFile(file, (await readFile(file, 'utf8')).replace(/^---\n/, '---\n# a remark\n# and another\n'));
  const after = (await loadSite(content, { plan })).problems;
  const same = after.find(
    (problem) =>
      problem.file === one.file && problem.code === one.code && problem.path.join() === one.path.join(),
  );
  expect(same?.line).toBe(one.line + 2);
});

it('leaves alone what it has written already, and writes again what is gone', async () => {
  const out = join(dir, 'out');
  const pages = createPages((await loadSite(content)).content);
  const texts = new Map<string, string>();
  const done = new WeakSet<(typeof pages.site.batches)[number]>();
  writeFiles(out, pages, done, texts);
  const file = (path: string): string => join(out, path);
  const written = async (path: string): Promise<number> => (await stat(file(path))).mtimeMs;
  const before = await written('data/archive.json');
  await rm(file('search/index.html'));
  await new Promise((go) => setTimeout(go, 30));
  writeFiles(out, pages, done, texts);
  expect(await written('data/archive.json')).toBe(before);
  expect(await readFile(file('search/index.html'), 'utf8')).toContain('<h1>Search</h1>');
});
