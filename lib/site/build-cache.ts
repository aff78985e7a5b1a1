/** What one build leaves for the next: what was read and planned, and which pages are as they should be. Safe to delete. */
import { createHash } from 'node:crypto';
import {
  closeSync,
  existsSync,
  fstatSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { createRequire } from 'node:module';
import { join, resolve } from 'node:path';
import { deserialize, serialize } from 'node:v8';
import type { ArchiveMemory, BatchRead } from '../archive/read-batches.ts';
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
import { type KeptPlan, type Planned, textKeys } from './plan-memo.ts';
import { type SiteEntry, workedOutOf } from './site.ts';

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

/** What was read of a batch file, and what is known of its batch. */
interface ReadRecord {
  readonly path: string;
  readonly kept: KeptFile<BatchRead>;
  readonly tells: BatchEvidence | null;
  readonly text: string | null;
}

/** Where in the file of plans the bytes of one lie. */
interface Place {
  readonly at: number;
  readonly size: number;
  readonly hash: string;
}

/** All of a plan but the plan itself: what pages of many batches show is there without it. */
interface PlanRecord extends Omit<KeptPlan, 'planned' | 'mend'> {
  readonly slug: string;
  readonly found: readonly Problem[];
  readonly where: Located | null;
  readonly entry: {
    readonly batch: Batch;
    readonly workedOut: ReadonlyMap<string, unknown>;
    readonly plan: Place;
  } | null;
}

/** What is kept but for the plans, which lie in a file of their own. */
interface Stored {
  readonly program: string;
  readonly tables: ArchiveMemory['tables'];
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
  /**
   * Keeps what this build has made; `whole` is null where something went wrong. Gives why nothing can be kept, else null: then
   * the next build costs more, and that is all.
   */
  keep(
    pages: ReadonlyMap<string, string>,
    outputs: readonly (Output | null)[],
    whole: string | null,
  ): string | null;
}

/** Opens what an earlier build of the same folders has left; nothing where there is none, or of another version. */
export function openBuildCache(folders: readonly string[], cacheDir = FOLDER): BuildCache {
  const program = programKey();
  const file = join(cacheDir, `${sha256(...folders.map((folder) => resolve(folder)))}.build`);
  const index = readIndex(file);
  const stored = index?.program === program ? index : null;
  const packed = openPlans(plansBeside(file), stored === null);
  const files = new Map<string, KeptFile<BatchRead>>();
  for (const { path, kept, tells, text } of stored?.reads ?? []) {
    const { batch } = kept.made;
    if (batch !== null && tells !== null) evidence.set(batch, tells);
    if (batch !== null && text !== null) textKeys.set(batch, text);
    files.set(path, kept);
  }
  const known = new Map<string, KeptPlan>();
  const places = new WeakMap<SiteEntry, Place>();
  for (const { slug, asked, key, found, where, entry } of stored?.plans ?? []) {
    if (where !== null) located.set(found, where);
    if (entry === null) {
      known.set(slug, { asked, key, planned: { entry, found } });
      continue;
    }
    const lazy = new PackedEntry(entry.batch, () => packed.read(entry.plan), entry.plan.hash);
    places.set(lazy, entry.plan);
    for (const [name, value] of entry.workedOut) workedOutOf(lazy).set(name, value);
    const mend = (again: () => Planned) => {
      lazy.again = again;
    };
    known.set(slug, { asked, key, planned: { entry: lazy, found }, mend });
  }
  const memory = createSiteMemory({ files, tables: stored?.tables ?? new Map() }, known);
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
        ...[...memory.reads.files].flatMap(([path, { key, hash }]) => [path, key, hash]),
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
        const { batch } = kept.made;
        const of = <V>(all: WeakMap<Batch, V>): V | null =>
          batch === null ? null : (all.get(batch) ?? null);
        return { path, kept, tells: of(evidence), text: of(textKeys) };
      });
      const left = new Map<string, Left>();
      for (const output of outputs)
        for (const [path, written] of output?.listed ?? []) {
          const file = resolve(output!.folder, path);
          // What others have written is taken as it is: the printer keeps its own account of it.
          const now = written ?? leftAt(file);
          if (now !== null) left.set(file, now);
        }
      try {
        const entries = [...memory.plans.known.values()].flatMap(({ planned: { entry } }) => entry ?? []);
        packed.keep(entries, places);
        const plans = [...memory.plans.known].map(([slug, { asked, key, planned }]): PlanRecord => {
          const { entry, found } = planned;
          const record = { slug, asked, key, found, where: located.get(found) ?? null };
          if (entry === null) return { ...record, entry };
          const [workedOut, plan] = [workedOutOf(entry), places.get(entry)!];
          return { ...record, entry: { batch: entry.batch, workedOut, plan } };
        });
        const { tables } = memory.reads;
        writeIndex(file, { program, tables, reads, plans, pages, files: left, whole });
        prune(cacheDir);
        return null;
      } catch (thrown) {
        return thrown instanceof Error ? thrown.message : String(thrown);
      }
    },
  };
}

/** A batch whose plan is unpacked when it is first looked at, and planned again where its bytes are damaged. */
class PackedEntry implements SiteEntry {
  again: (() => Planned) | null = null;
  private unpacked: Plan | null = null;
  constructor(
    readonly batch: Batch,
    private readonly read: () => Uint8Array | null,
    private readonly hash: string,
  ) {}
  get plan(): Plan {
    if (this.unpacked === null) {
      const bytes = this.read();
      const good = bytes !== null && sha256(bytes) === this.hash;
      const plan = good ? (deserialize(bytes) as Plan) : this.again?.().entry?.plan;
      if (plan === undefined) throw new Error(`What was kept of ${this.batch.slug} is damaged.`);
      this.unpacked = plan;
    }
    return this.unpacked;
  }
}

/** What was kept, behind its hash; null where there is nothing, or it is damaged. */
function readIndex(path: string): Stored | null {
  try {
    const bytes = readFileSync(path);
    const kept = bytes.subarray(HASH_BYTES);
    return sha256(kept) === bytes.toString('hex', 0, HASH_BYTES) ? (deserialize(kept) as Stored) : null;
  } catch {
    return null;
  }
}

function writeIndex(path: string, stored: Stored): void {
  const bytes = serialize(stored);
  writeWholeSync(path, (file) => {
    writeFileSync(file, Buffer.from(sha256(bytes), 'hex'));
    writeFileSync(file, bytes);
  });
}
const HASH_BYTES = 32;

const plansBeside = (file: string): string => `${file}.plans`;

interface Plans {
  /** The bytes of a plan, which may be damaged; null where there are none. */
  read(place: Place): Uint8Array | null;
  /** Adds the plans that are not there yet, and says where; then none can be read any more. */
  keep(entries: readonly SiteEntry[], places: WeakMap<SiteEntry, Place>): void;
}

/** Opens the file of plans, to which new ones are added until most of what it holds is old. */
function openPlans(path: string, anew: boolean): Plans {
  let file: number | null = anew || !existsSync(path) ? null : openSync(path, 'r');
  let closed = false;
  const read = ({ at, size }: Place): Buffer | null => {
    if (closed) throw new Error('A plan was asked for after all was kept; ask for it before.');
    if (file === null) return null;
    const bytes = Buffer.allocUnsafe(size);
    return readSync(file, bytes, 0, size, at) === size ? bytes : null;
  };
  return {
    read,
    keep(entries, places) {
      const before = file === null ? 0 : fstatSync(file).size;
      const live = entries.reduce((sum, entry) => sum + (places.get(entry)?.size ?? 0), 0);
      const whole = before === 0 || before > 2 * live + SLACK_BYTES;
      const add = (to: number, start: number): void => {
        let at = start;
        for (const entry of entries) {
          const last = places.get(entry);
          if (last !== undefined && !whole) continue;
          // Bytes that are damaged stay known as such, by the hash that they had.
          const kept = last === undefined ? null : read(last);
          const bytes = kept ?? serialize(entry.plan);
          writeFileSync(to, bytes);
          places.set(entry, { at, size: bytes.length, hash: kept === null ? sha256(bytes) : last!.hash });
          at += bytes.length;
        }
        closed = true;
        if (file !== null) closeSync(file);
        file = null;
      };
      if (whole) return writeWholeSync(path, (to) => add(to, 0));
      const to = openSync(path, 'a');
      try {
        add(to, before);
      } finally {
        closeSync(to);
      }
    },
  };
}
const SLACK_BYTES = 1_000_000;

/** Keeps the cache of the folders that were built last. */
function prune(folder: string): void {
  const found = readdirSync(folder)
    .filter((name) => name.endsWith('.build'))
    .map((name) => ({ path: join(folder, name), at: statSync(join(folder, name)).mtimeMs }))
    .sort((a, b) => b.at - a.at);
  for (const { path } of found.slice(MOST_KEPT))
    for (const each of [path, plansBeside(path)]) rmSync(each, { force: true });
}
