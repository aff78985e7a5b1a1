/** What one build leaves for the next: what was read and planned, and which pages are as they should be. Safe to delete. */
import { createHash } from 'node:crypto';
import { existsSync, readdirSync, readFileSync, rmSync, statSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { BatchRead } from '../archive/read-batches.ts';
import type { KeptFile } from '../archive/read-memory.ts';
import { writeWholeSync } from '../archive/write/write-whole.ts';
import { type BatchEvidence, known as evidence } from '../batch/learning/observe.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { Problem } from '../units/problem.ts';
import { createSiteMemory, type LoadedSite, type Located, located, type SiteMemory } from './archive.ts';
import { type Left, leftAt, type Output } from './output.ts';
import { cacheFolder, ROOT } from './paths.ts';
import { photographsKey } from './pictures.ts';
import type { KeptPlan } from './plan-memo.ts';

const require = createRequire(import.meta.url);
const FOLDER = cacheFolder('builds');
/** Of so many pairs of folders something is kept. */
const MOST_KEPT = 6;

export const sha256 = (...parts: readonly (string | Uint8Array)[]): string => {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(String(part.length)).update('\0').update(part);
  return hash.digest('hex');
};

/** What everything depends on: the program itself, its packages, and where it runs. */
function programKey(): string {
  const parts: (string | Uint8Array)[] = [
    process.version,
    JSON.stringify([process.versions, Intl.DateTimeFormat().resolvedOptions(), process.cwd()]),
  ];
  const own = readFileSync(join(ROOT, 'package.json'), 'utf8');
  parts.push(own);
  for (const name of Object.keys((JSON.parse(own) as { dependencies: object }).dependencies)) {
    const places = (require.resolve.paths(name) ?? []).map((folder) => join(folder, name, 'package.json'));
    const file = places.find((each) => existsSync(each));
    parts.push(name, file === undefined ? '' : readFileSync(file));
  }
  for (const folder of ['lib', 'templates', 'shared']) {
    const entries = readdirSync(join(ROOT, folder), { recursive: true, withFileTypes: true });
    const files = entries
      .filter((entry) => entry.isFile())
      .map(({ parentPath, name }) => join(parentPath, name));
    for (const file of files.sort()) parts.push(file.slice(ROOT.length), readFileSync(file));
  }
  return sha256(...parts);
}

const isLeft = (file: string, left: Left): boolean =>
  leftAt(file)?.every((part, at) => part === left[at]) ?? false;

/** What was read of a batch file; the values are kept as bytes until they are asked for. */
interface ReadRecord {
  readonly path: string;
  readonly bytes: Uint8Array;
  readonly key: string;
  readonly made: Buffer;
}

interface PlanRecord {
  readonly slug: string;
  readonly key: string;
  readonly rest: Buffer;
  readonly plan: Buffer | null;
}

interface Stored {
  readonly program: string;
  readonly reads: readonly ReadRecord[];
  readonly plans: readonly PlanRecord[];
  /** A key of each batch that has pages, of all that they depend on. */
  readonly pages: ReadonlyMap<string, string>;
  /** The files of the last build by their absolute path. */
  readonly files: ReadonlyMap<string, Left>;
  /** A key of the whole build; null where it did not all go well. */
  readonly whole: string | null;
}

export interface BuildCache {
  readonly memory: SiteMemory;
  /** A key of what was read: two archives with the same give the same site. */
  wholeKey(site: LoadedSite, options: unknown): string;
  /** Whether all that a build with this key would write is there as that left it, and nothing more is listed. */
  isWhole(key: string, outputs: readonly (Output | null)[]): boolean;
  /** How the last build left a file, where it is still so; null where it is not. */
  asLeft(file: string): Left | null;
  /** The key with which the pages of a batch were made. */
  pagesOf(slug: string): string | undefined;
  /** Keeps what this build has made; `whole` is null where something went wrong. */
  keep(pages: ReadonlyMap<string, string>, outputs: readonly (Output | null)[], whole: string | null): void;
}

/** Opens what an earlier build of the same folders has left; nothing where there is none, or of another version. */
export function openBuildCache(folders: readonly string[], cacheDir = FOLDER): BuildCache {
  const program = programKey();
  const file = join(cacheDir, `${sha256(...folders.map((folder) => resolve(folder)))}.build`);
  const stored = readStored(file, program);
  const raws = new Map<string, { readonly from: KeptFile<BatchRead>; readonly record: ReadRecord }>();
  const lazy = new Map<string, { readonly from: KeptPlan; readonly record: PlanRecord }>();
  const files = new Map<string, KeptFile<BatchRead>>();
  for (const record of stored?.reads ?? []) {
    const { read, found } = deserialize(record.made) as ReadValue;
    if (read.batch !== null && found !== null) evidence.set(read.batch, found);
    const from = { bytes: record.bytes, key: record.key, made: read };
    files.set(record.path, from);
    raws.set(record.path, { from, record });
  }
  const known = new Map<string, KeptPlan>();
  for (const record of stored?.plans ?? []) {
    const { batch, found, at } = deserialize(record.rest) as PlanRest;
    if (at !== null) located.set(found, at);
    const entry = batch === null || record.plan === null ? null : lazyEntry(batch, record.plan);
    const from = { key: record.key, planned: { entry, found } };
    known.set(record.slug, from);
    lazy.set(record.slug, { from, record });
  }
  const memory = createSiteMemory(files, known);
  const asLeft = (path: string): Left | null => {
    const left = stored?.files.get(resolve(path));
    return left !== undefined && isLeft(path, left) ? left : null;
  };
  const pathsOf = (outputs: readonly (Output | null)[]): string[] =>
    outputs.flatMap((output) =>
      output === null ? [] : [...output.listed.keys()].map((path) => resolve(output.folder, path)),
    );
  return {
    memory,
    wholeKey: ({ archive, content }, options) =>
      sha256(
        program,
        JSON.stringify(photographsKey([...(content.photographs?.values() ?? [])].flat())),
        JSON.stringify([options, archive.brewery, archive.problems, archive.failed, [...archive.setups]]),
        JSON.stringify([archive.tables.rows, [...(content.photographs ?? [])]]),
        ...[...memory.reads.files].flatMap(([path, { key, bytes }]) => [path, key, bytes]),
        ...[...memory.plans.known].flatMap(([slug, { key }]) => [slug, key]),
      ),
    isWhole(key, outputs) {
      if (stored === null || stored.whole !== key) return false;
      const paths = pathsOf(outputs);
      return paths.length === stored.files.size && paths.every((path) => asLeft(path) !== null);
    },
    asLeft,
    pagesOf: (slug) => stored?.pages.get(slug),
    keep(pages, outputs, whole) {
      const reads = [...memory.reads.files].map(([path, kept]): ReadRecord => {
        const before = raws.get(path);
        if (before?.from === kept) return before.record;
        const found = kept.made.batch === null ? null : (evidence.get(kept.made.batch) ?? null);
        const value: ReadValue = { read: kept.made, found };
        return { path, bytes: kept.bytes, key: kept.key, made: serialize(value) };
      });
      const plans = [...memory.plans.known].map(([slug, kept]): PlanRecord => {
        const before = lazy.get(slug);
        if (before?.from === kept) return before.record;
        const { entry, found } = kept.planned;
        const rest: PlanRest = { batch: entry?.batch ?? null, found, at: located.get(found) ?? null };
        return {
          slug,
          key: kept.key,
          rest: serialize(rest),
          plan: entry === null ? null : serialize(entry.plan),
        };
      });
      const left = new Map<string, Left>();
      for (const output of outputs)
        for (const [path, written] of output?.listed ?? []) {
          const file = resolve(output!.folder, path);
          // What others have written is taken as it is: the printer keeps its own account of it.
          const now = written ?? leftAt(file);
          if (now !== null) left.set(file, now);
        }
      const bytes = serialize({ program, reads, plans, pages, files: left, whole } satisfies Stored);
      writeWholeSync(file, Buffer.concat([Buffer.from(sha256(bytes), 'hex'), bytes]));
      prune(cacheDir);
    },
  };
}

interface ReadValue {
  readonly read: BatchRead;
  readonly found: BatchEvidence | null;
}
interface PlanRest {
  readonly batch: Batch | null;
  readonly found: readonly Problem[];
  readonly at: Located | null;
}

/** A batch whose plan is unpacked when it is first looked at: most pages of other batches never do. */
function lazyEntry(batch: Batch, packed: Buffer) {
  let plan: Plan | null = null;
  return {
    batch,
    get plan(): Plan {
      plan ??= deserialize(packed) as Plan;
      return plan;
    },
  };
}

const HASH_BYTES = 32;

function readStored(file: string, program: string): Stored | null {
  try {
    const all = readFileSync(file);
    const bytes = all.subarray(HASH_BYTES);
    if (sha256(bytes) !== all.toString('hex', 0, HASH_BYTES)) return null;
    const stored = deserialize(bytes) as Stored;
    return stored.program === program ? stored : null;
  } catch {
    return null;
  }
}

/** Keeps the cache of the folders that were built last. */
function prune(folder: string): void {
  const found = readdirSync(folder)
    .filter((name) => name.endsWith('.build'))
    .map((name) => ({ path: join(folder, name), at: statSync(join(folder, name)).mtimeMs }))
    .sort((a, b) => b.at - a.at);
  for (const { path } of found.slice(MOST_KEPT)) rmSync(path, { force: true });
}
