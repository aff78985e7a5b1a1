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
import { hashOf } from '../archive/open-batch.ts';
import type { ArchiveMemory, BatchMade } from '../archive/read-batches.ts';
import type { KeptFile } from '../archive/read-memory.ts';
import { writeWholeSync } from '../archive/write/write-whole.ts';
import type { BatchEvidence } from '../batch/learning/observe.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { Problem } from '../units/problem.ts';
import { createSiteMemory, type LoadedSite, type Located, located, type SiteMemory } from './archive.ts';
import { type Left, leftAt, type Output } from './output.ts';
import { cacheFolder, ROOT } from './paths.ts';
import { photographsKey } from './pictures.ts';
import { evidence, type KeptPlan, type Planned, textKeys } from './plan-memo.ts';
import { keptLate, type SiteEntry, workedOutOf } from './site.ts';

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

/** Where in the pack the bytes of something lie. */
interface Place {
  readonly at: number;
  readonly size: number;
  readonly hash: string;
}

/** What every build looks at of a batch file: how it was read and planned, and what pages of many batches show of it. */
interface Digest {
  readonly path: string;
  readonly kept: KeptFile<BatchMade>;
  readonly tells: BatchEvidence | null;
  readonly text: string | null;
  readonly planned: PlannedDigest | null;
}

/** All of a plan but the plan itself. */
interface PlannedDigest extends Omit<KeptPlan, 'planned' | 'again'> {
  readonly found: readonly Problem[];
  readonly where: Located | null;
  readonly entry: { readonly batch: Batch; readonly workedOut: ReadonlyMap<string, unknown> } | null;
}

/** Where all that is kept of a batch file lies: the plan, where it is kept, and what is worked out late are unpacked only when they are asked for. */
type Places = { readonly [P in (typeof PARTS)[number]]: Place };
const PARTS = ['digest', 'plan', 'late'] as const;

/** What is kept, but for what lies in the pack. */
interface Stored {
  readonly program: string;
  readonly tables: ArchiveMemory['tables'];
  readonly batches: readonly Places[];
  /** By batch, and by the path of a list: a key of all that its pages depend on. */
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
  /** How the last build left a file, by its absolute path, where it is still so; null where it is not. */
  asLeft(file: string): Left | null;
  /** The key with which the pages of a batch, or a list, were made. */
  keyOf(batchOrPath: string): string | undefined;
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

/**
 * Opens what an earlier build of the same folders has left; nothing where there is none, or of another version.
 *
 * @param withPlans for a build that looks at every plan each time, as one that prints does; without, only those that every build
 *   looks at are kept, and the few that a changed page needs are made again
 */
export function openBuildCache(
  folders: readonly string[],
  { cacheDir = FOLDER, withPlans = false } = {},
): BuildCache {
  const program = programKey();
  const file = join(cacheDir, `${sha256(...folders.map((folder) => resolve(folder)))}.build`);
  const index = readIndex(file, program);
  const pack = openPack(packBeside(file));
  const digests = (index?.batches ?? []).map(({ digest }) => pack.read(digest) as Digest | undefined);
  const stored = digests.includes(undefined) ? null : index;
  const files = new Map<string, KeptFile<BatchMade>>();
  const known = new Map<string, KeptPlan>();
  /** By path: what a digest was made of, and where it lies. */
  const digested = new Map<string, { readonly of: readonly unknown[]; readonly place: Place }>();
  const placesOf = new WeakMap<SiteEntry, Places>();
  for (const [at, places] of (stored?.batches ?? []).entries()) {
    const { path, kept, tells, text, planned } = digests[at]!;
    const { batch, slug } = kept.made;
    if (batch !== null && tells !== null) evidence.set(batch, tells);
    if (batch !== null && text !== null) textKeys.set(batch, text);
    files.set(path, kept);
    if (planned !== null) known.set(slug, unpacked(planned, places));
    digested.set(path, { of: digestedOf(kept, known.get(slug)), place: places.digest });
  }
  function unpacked({ asked, key, found, where, entry }: PlannedDigest, places: Places): KeptPlan {
    if (where !== null) located.set(found, where);
    if (entry === null) return { asked, key, planned: { entry, found } };
    const lazy = new LateEntry(entry.batch, () => pack.read(places.plan) as Plan | null | undefined);
    placesOf.set(lazy, places);
    for (const [name, value] of entry.workedOut) workedOutOf(lazy).set(name, value);
    keptLate.set(lazy, () => pack.read(places.late) as ReadonlyMap<string, unknown> | undefined);
    const again = (plan: () => Planned) => {
      lazy.again = plan;
    };
    return { asked, key, planned: { entry: lazy, found }, again };
  }
  const memory = createSiteMemory({ files, tables: stored?.tables ?? new Map() }, known);
  const asLeft = (path: string): Left | null => {
    const left = stored?.files.get(path);
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
    keyOf: (batchOrPath) => stored?.pages.get(batchOrPath),
    keep(pages, outputs, whole) {
      const left = new Map<string, Left>();
      for (const output of outputs)
        for (const [path, written] of output?.listed ?? []) {
          const file = resolve(output!.folder, path);
          // What others have written is taken as it is: the printer keeps its own account of it.
          const now = written ?? leftAt(file);
          if (now !== null) left.set(file, now);
        }
      try {
        const parts = [...memory.reads.files].map(([path, kept]): Parts => {
          const plan = memory.plans.known.get(kept.made.slug);
          const entry = plan?.planned.entry ?? null;
          const of = digestedOf(kept, plan);
          const last = digested.get(path);
          const same = last?.of.every((part, i) => part === of[i]) ? last.place : undefined;
          const places = entry === null ? undefined : placesOf.get(entry);
          return {
            digest: { place: same, make: () => digestOf(path, kept, plan) },
            plan: { place: places?.plan, make: () => (withPlans || isAlone(entry) ? entry?.plan : null) },
            late: { place: places?.late, make: () => entry && workedOutOf(entry, true) },
          };
        });
        const batches = pack.keep(parts);
        const { tables } = memory.reads;
        writeIndex(file, { program, tables, batches, pages, files: left, whole });
        prune(cacheDir);
        return null;
      } catch (thrown) {
        return thrown instanceof Error ? thrown.message : String(thrown);
      }
    },
  };
}

/** The plan of a recipe without its batch is looked at in every build: its altitude is made rough. */
const isAlone = (entry: SiteEntry | null): boolean => entry?.batch.publish === 'recipe';

/** What a digest is made of, without making it: where all of this is the same, the digest is. */
function digestedOf(kept: KeptFile<BatchMade>, plan: KeptPlan | undefined): readonly unknown[] {
  const { tells, text, planned } = digestOf('', kept, plan);
  return [kept, plan, tells, text, planned?.where, planned?.entry?.workedOut.size];
}

function digestOf(path: string, kept: KeptFile<BatchMade>, plan: KeptPlan | undefined): Digest {
  const { batch } = kept.made;
  const of = <V>(all: WeakMap<Batch, V>): V | null => (batch === null ? null : (all.get(batch) ?? null));
  const about = { path, kept, tells: of(evidence), text: of(textKeys) };
  if (plan === undefined) return { ...about, planned: null };
  const { asked, key, planned } = plan;
  const { entry, found } = planned;
  const packed = entry === null ? null : { batch: entry.batch, workedOut: workedOutOf(entry) };
  return { ...about, planned: { asked, key, found, where: located.get(found) ?? null, entry: packed } };
}

/** A batch whose plan is unpacked when it is first looked at, or planned again where it was not kept or its bytes are damaged. */
class LateEntry implements SiteEntry {
  again: (() => Planned) | null = null;
  private known: Plan | undefined;
  constructor(
    readonly batch: Batch,
    private readonly read: () => Plan | null | undefined,
  ) {}
  get plan(): Plan {
    this.known ??= this.read() ?? this.again?.().entry?.plan;
    if (this.known === undefined) throw new Error(`Nothing says how to plan ${this.batch.slug} again.`);
    return this.known;
  }
}

/** What was kept, behind its hash; null where there is nothing, it is damaged, or another version of the program has kept it. */
function readIndex(path: string, program: string): Stored | null {
  try {
    const bytes = readFileSync(path);
    const kept = bytes.subarray(HASH_BYTES);
    if (hashOf(kept) !== bytes.toString('hex', 0, HASH_BYTES)) return null;
    const stored = deserialize(kept) as Stored;
    return stored.program === program ? stored : null;
  } catch {
    return null;
  }
}

function writeIndex(path: string, stored: Stored): void {
  const bytes = serialize(stored);
  writeWholeSync(path, (file) => {
    writeFileSync(file, Buffer.from(hashOf(bytes), 'hex'));
    writeFileSync(file, bytes);
  });
}
const HASH_BYTES = 32;

const packBeside = (file: string): string => `${file}.pack`;

/** What is to be in the pack, made only where it has no place there yet. */
type Parts = {
  readonly [P in keyof Places]: { readonly place: Place | undefined; readonly make: () => unknown };
};

interface Pack {
  /** What lies there; undefined where its bytes are not what was put in. */
  read(place: Place): unknown;
  /** Puts in what has no place yet, and says where all lies; then nothing can be read any more. */
  keep(batches: readonly Parts[]): readonly Places[];
}

/** Opens the pack, to which parts are added until most of what it holds is old. */
function openPack(path: string): Pack {
  let file: number | null = existsSync(path) ? openSync(path, 'r') : null;
  let closed = false;
  /** What was read last, and some way on from there or back: what lies together is mostly asked for together. */
  let window = { at: 0, bytes: Buffer.alloc(0) };
  /** Room for it, used again: nothing that is unpacked keeps its bytes, and new memory costs more than reading. */
  const room = Buffer.allocUnsafeSlow(WINDOW_BYTES);
  const bytesAt = ({ at, size, hash }: Place): Buffer | null => {
    if (closed) throw new Error('Something was unpacked after all was kept; ask for it before.');
    if (file === null) return null;
    if (at < window.at || at + size > window.at + window.bytes.length) {
      const bytes = size > room.length ? Buffer.allocUnsafeSlow(size) : room;
      const from = at < window.at ? Math.max(0, at + size - bytes.length) : at;
      window = { at: from, bytes: bytes.subarray(0, readSync(file, bytes, 0, bytes.length, from)) };
    }
    const bytes = window.bytes.subarray(at - window.at, at - window.at + size);
    return bytes.length === size && hashOf(bytes) === hash ? bytes : null;
  };
  return {
    read(place) {
      const bytes = bytesAt(place);
      return bytes === null ? undefined : deserialize(bytes);
    },
    keep(batches) {
      const before = file === null ? 0 : fstatSync(file).size;
      const size = (parts: Parts) => PARTS.reduce((sum, name) => sum + (parts[name].place?.size ?? 0), 0);
      const live = batches.reduce((sum, parts) => sum + size(parts), 0);
      const whole = before === 0 || before > 2 * live + SLACK_BYTES;
      const places = batches.map(() => ({}) as Record<keyof Places, Place>);
      const add = (to: number, start: number): void => {
        let at = start;
        const put = ({ place, make }: Parts[keyof Places]): Place => {
          if (place !== undefined && !whole) return place;
          const bytes = (place && bytesAt(place)) ?? serialize(make());
          writeFileSync(to, bytes);
          at += bytes.length;
          return { at: at - bytes.length, size: bytes.length, hash: hashOf(bytes) };
        };
        // All of a kind lie together, as they are read.
        for (const name of PARTS)
          for (const [i, parts] of batches.entries()) places[i]![name] = put(parts[name]);
        closed = true;
        if (file !== null) closeSync(file);
        file = null;
      };
      if (whole) writeWholeSync(path, (to) => add(to, 0));
      else {
        const to = openSync(path, 'a');
        try {
          add(to, before);
        } finally {
          closeSync(to);
        }
      }
      return places;
    },
  };
}
const SLACK_BYTES = 1_000_000;
const WINDOW_BYTES = 250_000;

/** Keeps the cache of the folders that were built last; `.plans` is what an earlier version wrote. */
function prune(folder: string): void {
  const names = readdirSync(folder).map((name) => join(folder, name));
  const newest = names
    .filter((name) => name.endsWith('.build'))
    .map((path) => ({ path, at: statSync(path).mtimeMs }))
    .sort((a, b) => b.at - a.at)
    .slice(0, MOST_KEPT);
  const kept = new Set(newest.flatMap(({ path }) => [path, packBeside(path)]));
  // What another build is writing at this moment has another ending.
  const ours = names.filter((name) => /\.build(\.pack|\.plans)?$/.test(name));
  for (const name of ours) if (!kept.has(name)) rmSync(name, { force: true });
}
