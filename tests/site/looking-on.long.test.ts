/** While files are edited, only what changed is done again, and nothing that changed is missed. */
import { cp, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { createSiteMemory, type LoadedSite, loadSite } from '../../lib/site/archive.ts';
import { createPages, type Pages, pagePaths } from '../../lib/site/pages.ts';
import { answerPath } from '../../lib/site/preview/preview.ts';

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

it.each(['', '\n  packaged: not taken'])(
  'looks at a beer in the fermenter again on another day%s',
  async (more) => {
    const memory = createSiteMemory();
    const file = join(content, 'batches/november-fog-porter.md');
    const text = await readFile('content/batches/november-fog-porter.md', 'utf8');
    await writeFile(file, text.replace(/^readings:/m, `readings:${more}`));
    const next = async (today: string, kept = memory) => {
      const site = await loadSite(content, { memory: kept, today });
      const entry = site.content.entries.find(({ batch }) => batch.slug === 'november-fog-porter');
      return entry!.plan.fermentation!.next;
    };
    const days = ['2027-01-10', '2027-01-20'] as const;
    expect(await next(days[0])).toBe(days[0]);
    expect(await next(days[1])).toBe(days[1]);
    expect(await next(days[1], createSiteMemory())).toBe(days[1]);
  },
);

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

describe('after any change, what is kept says the same as what is read anew', () => {
  const memory = createSiteMemory();
  let room: string;
  const at = (path: string): string => join(room, path);
  beforeAll(async () => {
    room = join(dir, 'changing');
    await cp('content', at('content'), { recursive: true });
    await cp('shared', at('shared'), { recursive: true });
  });
  const words = ({ content: { brewery, entries, asRead }, problems, failed }: LoadedSite): string =>
    JSON.stringify([brewery, entries, asRead, problems, failed]);
  const kept = async () => words(await loadSite(at('content'), { memory, tablesDir: at('shared') }));
  const anew = async () => words(await loadSite(at('content'), { tablesDir: at('shared') }));
  const edit = async (path: string, was: RegExp, now: string): Promise<void> => {
    await writeFile(at(path), (await readFile(at(path), 'utf8')).replace(was, now));
  };

  const OLDEST = 'content/batches/towpath-pale.md';
  it.each<readonly [string, () => Promise<void>]>([
    ['a table', () => edit('shared/extracts.yaml', /(name: light dry extract,.*yield: )96 %/, '$194 %')],
    ['a setup', () => edit('content/setups.yaml', /^( +)boil_off:.*$/m, '$1boil_off: 4.7 L/h')],
    ['the units', () => edit('content/brewery.yaml', /^units: .*$/m, 'units: us')],
    ['the paper', () => edit('content/brewery.yaml', /^paper: .*$/m, 'paper: letter')],
    ['what was learned from long ago', () => edit(OLDEST, /boil_end_volume: .*/, 'boil_end_volume: 8.1 L')],
    ['what is learned from at all', () => edit(OLDEST, /^publish:.*\n|^style: .*\n/m, 'publish: false\n')],
    ['one more to learn from', () => cp(at(OLDEST), at('content/batches/towpath-again.md'))],
    ['a batch that is gone', () => rm(at('content/batches/towpath-again.md'))],
    ['an error', () => edit('content/batches/regatta-bitter.md', /^title:/m, 'titel:')],
    ['an error that is mended', () => edit('content/batches/regatta-bitter.md', /^titel:/m, 'title:')],
    ['a remark', () => edit('content/batches/dredger-stout.md', /^---\n/, '---\n# a remark\n')],
    ['a time', () => edit('content/batches/november-fog-porter.md', /^start: 13:15/m, 'start: 1:15')],
    ['a clock of twelve hours', () => edit('content/brewery.yaml', /^language: .*$/m, 'language: en-US')],
  ])('%s', async (what, change) => {
    const before = await kept();
    await change();
    const after = await kept();
    // A remark moves lines, which only shows where a line is told.
    if (what !== 'a remark') expect(after).not.toBe(before);
    expect(after).toBe(await anew());
  });
});

it('forgets batches that are gone', async () => {
  const memory = createSiteMemory();
  const [one] = (await loadSite(content, { memory })).archive.batches;
  expect(memory.plans.same(structuredClone(one!))).toBe(one);
  memory.plans.keepOnly(new Set());
  const other = structuredClone(one!);
  expect(memory.plans.same(other)).toBe(other);
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
  });

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

  it('is the page for wrong addresses where there is nothing', async () => {
    const wrong = ['/nothing/', '/%', '/../package.json', '/..%2fpackage.json', '//', '/__proto__'];
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
