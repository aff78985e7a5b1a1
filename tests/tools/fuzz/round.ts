/** One round: a folder of mutated files, read, planned and shown as the commands do it. */
import { createHash } from 'node:crypto';
import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { Archive } from '../../../lib/archive/archive.ts';
import { readArchive } from '../../../lib/archive/read-archive.ts';
import { buildSite } from '../../../lib/site/build.ts';
import { ROOT } from '../../../lib/site/paths.ts';
import { type Fault, faultOfProblem, faultsOnPages, LIMIT_MS, planAll, said } from './faults.ts';
import { mutate } from './mutate.ts';
import { type Random, seeded } from './random.ts';

const TABLES = ['setups.yaml', 'brewery.yaml', 'ingredients.yaml'];
const CORPUS = join(import.meta.dirname, 'corpus');
const DEMO = join(ROOT, 'content');
/** Names that a careless program would follow out of the folder, or stumble over. */
const ODD_NAMES = [
  '..',
  '-',
  'a b',
  '%2e%2e%2f',
  'CON',
  'a\\..\\b',
  'é',
  'x'.repeat(200),
  '\u202eb',
  'a.md',
  '{{x}}',
  '__proto__',
];

export interface RoundOptions {
  readonly seed: number;
  readonly files: number;
  /** Of the batches that have a plan, the share whose pages are made. */
  readonly shown: number;
  /** Whether the site is built too, to see what is written where. */
  readonly build: boolean;
}

export interface RoundResult {
  readonly files: number;
  readonly planned: number;
  readonly shown: number;
  readonly faults: readonly (Fault & { readonly bytes: Buffer })[];
}

const filesIn = (folder: string): Buffer[] => [...namedIn(folder).values()];

function namedIn(folder: string): Map<string, Buffer> {
  const names = readdirSync(folder).filter((name) => name.endsWith('.md') && name !== 'README.md');
  return new Map(names.sort().map((name) => [name.slice(0, -3), readFileSync(join(folder, name))]));
}

/** The files that mutation begins with: the demo's, and those that were trouble once. */
const healthy = (): Buffer[] => [...filesIn(join(DEMO, 'batches')), ...filesIn(CORPUS)];

function namedFiles(random: Random, files: number): Map<string, Buffer> {
  const sources = healthy();
  const named = new Map<string, Buffer>();
  for (let n = 0; n < files; n += 1) {
    const name = random.chance(0.02) ? random.pick(ODD_NAMES) : `file-${n}`;
    named.set(name, mutate(random.pick(sources), random, sources));
  }
  return named;
}

/** Runs one round; the same options give the same files. */
export function runRound(options: RoundOptions): Promise<RoundResult> {
  const random = seeded(options.seed);
  const named = namedFiles(random, options.files);
  return runOn(named, random, options, random.chance(0.25));
}

/** Files that were trouble once, as they stand. */
export function runCorpus(): Promise<RoundResult> {
  const named = namedIn(CORPUS);
  return runOn(named, seeded(0), { seed: 0, files: named.size, shown: 1, build: true }, false);
}

async function runOn(
  named: ReadonlyMap<string, Buffer>,
  random: Random,
  options: RoundOptions,
  tablesToo: boolean,
): Promise<RoundResult> {
  const dir = mkdtempSync(join(tmpdir(), 'kettleside-fuzz-'));
  try {
    const content = join(dir, 'content');
    mkdirSync(join(content, 'batches'), { recursive: true });
    for (const table of TABLES) cpSync(join(DEMO, table), join(content, table));
    if (tablesToo) mutateTable(content, random);
    for (const [name, bytes] of named) writeFileSync(join(content, 'batches', `${name}.md`), bytes);
    return await examine(dir, named, random, options);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

function mutateTable(content: string, random: Random): void {
  const tables = TABLES.map((table) => readFileSync(join(content, table)));
  const table = random.pick(TABLES);
  writeFileSync(join(content, table), mutate(readFileSync(join(content, table)), random, tables));
}

async function examine(
  dir: string,
  named: ReadonlyMap<string, Buffer>,
  random: Random,
  { shown: share, build, files }: RoundOptions,
): Promise<RoundResult> {
  const content = join(dir, 'content');
  const faults: Fault[] = [];
  const all = await readFolder(content);
  if (all.archive === null || all.time_ms > LIMIT_MS) faults.push(...(await oneByOne(content, named)));
  if (all.archive === null) return { files, planned: 0, shown: 0, faults: withBytes(faults, named) };
  const { archive } = all;
  const { entries, problems, faults: ofPlans } = planAll(archive);
  faults.push(...ofPlans);

  const slugOf = (file: string): string => /batches\/(.*)\.md$/i.exec(file)?.[1] ?? '';
  const told = new Set<string>();
  for (const problem of problems) {
    const slug = slugOf(problem.file);
    if (problem.severity === 'error') told.add(slug);
    const bytes = named.get(slug);
    const what = faultOfProblem(problem, bytes === undefined ? null : linesOf(bytes));
    if (what !== null) faults.push({ slug, what });
  }
  const planned = new Set(entries.map(({ batch }) => batch.slug));
  for (const slug of named.keys()) {
    const silent = !planned.has(slug) && !told.has(slug) && !told.has('') && !slug.startsWith('.');
    if (silent) faults.push({ slug, what: 'neither a plan nor an error' });
    if (planned.has(slug) && told.has(slug)) faults.push({ slug, what: 'a plan in spite of an error' });
  }
  let shown = 0;
  for (const entry of entries) {
    if (!random.chance(share)) continue;
    shown += 1;
    const { slug } = entry.batch;
    const own = named.get(slug)?.toString('utf8') ?? '';
    for (const what of faultsOnPages(entry, archive, own)) faults.push({ slug, what });
  }
  if (build) faults.push(...(await writtenAside(dir, archive.brewery, entries, problems)));
  return { files, planned: entries.length, shown, faults: withBytes(faults, named) };
}

const withBytes = (faults: readonly Fault[], named: ReadonlyMap<string, Buffer>): RoundResult['faults'] =>
  faults.map((fault) => ({ ...fault, bytes: named.get(fault.slug) ?? Buffer.alloc(0) }));

const linesOf = (bytes: Buffer): string[] =>
  bytes
    .toString('utf8')
    .replace(/^\ufeff/, '')
    .split(/\r\n|\n|\r/);

/** Reads a content folder; no archive, and why, where reading throws. */
async function readFolder(content: string) {
  const start = process.cpuUsage();
  let archive: Archive | null = null;
  let thrown = '';
  try {
    archive = await readArchive(content, { tablesDir: join(ROOT, 'shared') });
  } catch (error) {
    thrown = said(error);
  }
  const { user, system } = process.cpuUsage(start);
  return { archive, thrown, time_ms: (user + system) / 1000 };
}

/** Reads files one by one, to find those that are trouble by themselves. */
async function oneByOne(content: string, named: ReadonlyMap<string, Buffer>): Promise<Fault[]> {
  const found: Fault[] = [];
  const alone = mkdtempSync(join(tmpdir(), 'kettleside-fuzz-'));
  try {
    mkdirSync(join(alone, 'batches'));
    for (const table of TABLES) cpSync(join(content, table), join(alone, table));
    for (const [slug, bytes] of named) {
      const path = join(alone, 'batches', `${slug}.md`);
      writeFileSync(path, bytes);
      const { archive, thrown, time_ms } = await readFolder(alone);
      if (archive === null) found.push({ slug, what: `reading threw ${thrown}` });
      else if (time_ms > LIMIT_MS) found.push({ slug, what: `reading took ${time_ms} ms` });
      rmSync(path);
    }
  } finally {
    rmSync(alone, { recursive: true, force: true });
  }
  return found;
}

/** Builds the site deep in the folder and looks for anything written, changed or lost beside it. */
async function writtenAside(
  dir: string,
  brewery: Parameters<typeof planAll>[0]['brewery'],
  entries: ReturnType<typeof planAll>['entries'],
  problems: ReturnType<typeof planAll>['problems'],
): Promise<Fault[]> {
  const outputDir = join(dir, 'a', 'b', 'out');
  const before = digestOf(dir, outputDir);
  try {
    await buildSite({
      contentDir: join(dir, 'content'),
      outputDir,
      data: { content: { brewery, entries }, problems },
    });
  } catch (thrown) {
    return [{ slug: '', what: `building threw ${String(thrown)}` }];
  }
  const after = digestOf(dir, outputDir);
  return after === before ? [] : [{ slug: '', what: 'something was written beside the output' }];
}

/** A digest over every file below a folder, but for one folder in it. */
function digestOf(folder: string, without: string): string {
  const hash = createHash('sha256');
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .filter((path) => !path.startsWith(without))
    .sort();
  for (const path of entries) hash.update(JSON.stringify(path)).update(readFileSync(path));
  return hash.digest('hex');
}
