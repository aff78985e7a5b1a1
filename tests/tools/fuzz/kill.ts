/**
 * Work that is ended by force at any moment: what was there before, or all of what was to be, and nothing between.
 *
 * POSIX only: a command and its browser are a group of processes, and the group is killed.
 */
import { type ChildProcess, spawn } from 'node:child_process';
import {
  cpSync,
  existsSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { basename, dirname, join, relative } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { renderSheets } from '../../../lib/paper/engine/render-sheets.ts';
import { ROOT } from '../../../lib/site/paths.ts';
import type { Random } from './random.ts';

const JITI = join(ROOT, 'node_modules/jiti/lib/jiti-cli.mjs');
const SLUG = 'night-lock';
const OTHERS = ['first-water', 'lantern-wedding'];
const READING = 'original_gravity';
const ORDER = ['build', 'sheets', 'key-in'] as const;
type Command = (typeof ORDER)[number];
/** Of the time that a command takes here, so that some moments come after the end. */
const LONGEST = 1.15;
/** Mending takes as long as a dozen moments. */
const MEND_EVERY = 9;

export interface Killed {
  readonly moments: number;
  /** How many of them came before the work was done. */
  readonly early: number;
  readonly each: Readonly<Record<Command, number>>;
  readonly faults: readonly string[];
}

const batchText = (title: string): string =>
  `---
title: ${title}
setup: stove
brewed: 2026-02-14
recipe:
  into_fermenter: 10 L
  boil: 30 min
  extract:
    - { name: light dry extract, weight: 1.2 kg }
  hops:
    - { name: Fuggle, weight: 20 g, alpha: 4.6 %, add: 30 min }
  yeast:
    - { name: English ale, form: dry, amount: 11 g }
---
Notes of ${title}.
`;

/** Ends work at so many moments, each in another place of it; mends by running it once more, and looks at everything. */
export async function killAtMoments(moments: number, random: Random): Promise<Killed> {
  const dir = mkdtempSync(join(tmpdir(), 'kettleside-kill-'));
  try {
    const room = new Room(dir);
    let early = 0;
    const each = { build: 0, sheets: 0, 'key-in': 0 };
    const faults: string[] = [];
    const takes_ms = { build: 0, sheets: 0, 'key-in': 0 };
    for (const command of ORDER) {
      room.renew(`Night Lock, ${command} in peace`);
      takes_ms[command] = await room.timeOf(command);
    }
    for (let n = 0; n < moments; n += 1) {
      const command = ORDER[n % ORDER.length] ?? 'build';
      room.renew(`Night Lock ${n} of ${Math.floor(random.next() * 1e9)}`);
      const delay_ms = Math.round(random.next() * LONGEST * takes_ms[command]);
      each[command] += 1;
      const result = await room.killDuring(command, delay_ms);
      if (result.early) early += 1;
      for (const what of result.faults) faults.push(`${command} ended after ${delay_ms} ms: ${what}`);
      const last = n === moments - 1;
      if (last || (n + 1) % MEND_EVERY === 0)
        for (const what of await room.mend()) faults.push(`after moment ${n}: ${what}`);
    }
    return { moments, early, each, faults };
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

class Room {
  readonly #dir: string;
  readonly #content: string;
  readonly #file: string;
  #mended = 0;

  constructor(dir: string) {
    this.#dir = dir;
    this.#content = join(dir, 'content');
    this.#file = join(this.#content, `batches/${SLUG}.md`);
    mkdirSync(dirname(this.#file), { recursive: true });
    for (const name of ['brewery.yaml', 'setups.yaml', 'ingredients.yaml'])
      cpSync(join(ROOT, 'content', name), join(this.#content, name));
    for (const slug of OTHERS)
      cpSync(join(ROOT, `content/batches/${slug}.md`), join(this.#content, `batches/${slug}.md`));
  }

  /** A batch that no cache knows yet. */
  renew(title: string): void {
    writeFileSync(this.#file, batchText(title));
  }

  #folders(name: string): string[] {
    const folder = (kind: string) => join(this.#dir, `${name}-${kind}`);
    return ['--content', this.#content, '--output', folder('site'), '--private-output', folder('private')];
  }

  #start(command: Command, name = 'kept'): ChildProcess {
    const args = {
      build: this.#folders(name),
      sheets: [SLUG, ...this.#folders(name)],
      'key-in': [SLUG, '--content', this.#content, '--sure', '--set', `${READING}=1.045 @ 20 °C`],
    }[command];
    const own = Object.entries(process.env).filter(([key]) => !key.startsWith('npm_config_'));
    // A group of its own, so that its browser is ended with it, as by a power cut.
    return spawn(process.execPath, [JITI, `lib/commands/${command}.ts`, ...args], {
      cwd: ROOT,
      env: Object.fromEntries(own),
      detached: true,
      stdio: ['ignore', 'pipe', 'pipe'],
    });
  }

  /** How long a command takes here and now, ms. */
  async timeOf(command: Command): Promise<number> {
    const start = performance.now();
    const { code, said } = await ending(this.#start(command));
    if (code !== 0) throw new Error(`${command} fails before anything is killed: ${said.slice(0, 400)}`);
    return performance.now() - start;
  }

  async killDuring(command: Command, delay_ms: number): Promise<{ early: boolean; faults: string[] }> {
    const before = treeOf(this.#content);
    const child = this.#start(command);
    const ended = ending(child);
    const late = new AbortController();
    const kill = wait(delay_ms, null, { signal: late.signal }).then(
      () => killGroup(child),
      () => undefined,
    );
    const { code } = await ended;
    late.abort();
    await kill;
    return { early: code === null, faults: [...this.#contentFaults(command, before), ...this.#halfPages()] };
  }

  /** Pages that are not whole, also before anything is mended. */
  #halfPages(): string[] {
    return ['site', 'private'].flatMap((kind) => {
      const folder = join(this.#dir, `kept-${kind}`);
      const pages = [...(existsSync(folder) ? treeOf(folder) : [])].filter(
        ([path]) => path.endsWith('.html') && !basename(path).startsWith('.'),
      );
      const half = pages.filter(([, bytes]) => !bytes.toString('utf8').trimEnd().endsWith('</html>'));
      return half.map(([path]) => `${kind}/${path} is half a page`);
    });
  }

  #contentFaults(command: Command, before: ReadonlyMap<string, Buffer>): string[] {
    const after = treeOf(this.#content);
    const faults: string[] = [];
    for (const [path, bytes] of before) {
      const now = after.get(path);
      const keyed = command === 'key-in' && path.endsWith(`/${SLUG}.md`);
      const aside = command === 'key-in' && path.endsWith(`/.${SLUG}.md.before`);
      const old = aside ? before.get(join('batches', `${SLUG}.md`)) : undefined;
      // Taken away for the moment in which the new one comes: whoever reads finds it there.
      const taken =
        keyed && now === undefined && after.get(join('batches', `.${SLUG}.md.taken`))?.equals(bytes);
      const done = now !== undefined && ((keyed && isKeyedIn(bytes, now)) || old?.equals(now) === true);
      // A lock of before may be so old by now that it counts as left behind.
      const cleared = command === 'key-in' && now === undefined && LEFT.test(path);
      if (!cleared && !taken && !(now !== undefined && (now.equals(bytes) || done)))
        faults.push(`${path} is neither old nor new`);
    }
    for (const path of after.keys()) {
      const beside = command === 'key-in' && BESIDE.test(path);
      if (!before.has(path) && !beside) faults.push(`${path} was put among the brewer's files`);
    }
    return faults;
  }

  /** Runs everything once more, to the end, and compares with what a run in new folders makes. */
  async mend(): Promise<string[]> {
    const faults: string[] = [];
    // As if the time had passed after which a lock counts as left behind.
    for (const path of treeOf(this.#content).keys())
      if (LEFT.test(path)) utimesSync(join(this.#content, path), 0, 0);
    this.#mended += 1;
    const fresh = `fresh-${this.#mended}`;
    for (const [command, name] of [
      ['key-in', ''],
      ['build', 'kept'],
      ['build', fresh],
    ] as const) {
      const { code, said } = await ending(this.#start(command, name));
      if (code !== 0) faults.push(`${command} failed afterwards: ${said.slice(0, 400)}`);
    }
    const text = readFileSync(this.#file, 'utf8');
    if (!text.includes(`${READING}: `)) faults.push('a reading cannot be keyed in any more');
    const left = [...treeOf(this.#content).keys()].filter((path) => LEFT.test(path));
    if (left.length > 0) faults.push(`left among the brewer's files: ${left.join(', ')}`);
    for (const kind of ['site', 'private']) {
      const [kept, made] = [`kept-${kind}`, `${fresh}-${kind}`].map((name) => treeOf(join(this.#dir, name)));
      faults.push(...differences(made ?? new Map(), kept ?? new Map()).map((what) => `${kind}: ${what}`));
    }
    faults.push(...(await this.#printedAnew(fresh)));
    rmSync(join(this.#dir, `${fresh}-site`), { recursive: true });
    rmSync(join(this.#dir, `${fresh}-private`), { recursive: true });
    return faults;
  }

  /** Prints the sheets with a cache that is empty: what the commands' own cache gave must be the same. */
  async #printedAnew(fresh: string): Promise<string[]> {
    const folder = join(this.#dir, `${fresh}-site`, 'batches', SLUG);
    const jobs = ['kettle-sheet', 'cellar-sheet'].map((id) => ({
      id,
      htmlPath: join(folder, `${id}.html`),
      pdfPath: join(this.#dir, `${id}-anew.pdf`),
      paper: 'a4' as const,
    }));
    const { results } = await renderSheets(jobs, { cacheDir: join(this.#dir, `${fresh}-cache`) });
    const faults = results.flatMap(({ error }) => (error === undefined ? [] : [error.found]));
    for (const { id, pdfPath } of jobs) {
      const kept = readFileSync(join(this.#dir, 'kept-site', 'batches', SLUG, `${id}.pdf`));
      if (!kept.equals(readFileSync(pdfPath)))
        faults.push(`${id}.pdf is not what is printed without a cache`);
    }
    return faults;
  }
}

/** What keying in may leave beside a file when it is ended, and what of that the next keying in clears away. */
const OWN = String.raw`\d+-[0-9a-f]{12}`;
const LEFT = new RegExp(String.raw`/\.+${SLUG}\.md\.(?:taken|lock|lock\.${OWN}|(?:before\.)?${OWN}\.tmp)$`);
const BESIDE = new RegExp(String.raw`${LEFT.source}|/\.${SLUG}\.md\.before$`);

/** True where a text is the old one with the reading in it, and nothing else changed. */
function isKeyedIn(before: Buffer, after: Buffer): boolean {
  const lines = after.toString('utf8').split('\n');
  const rest = lines.filter((line) => line !== 'readings:' && !line.startsWith(`  ${READING}: `));
  return lines.length - rest.length === 2 && rest.join('\n') === before.toString('utf8');
}

function killGroup(child: ChildProcess): void {
  if (child.pid === undefined) return;
  try {
    process.kill(-child.pid, 'SIGKILL');
  } catch {
    // It has ended by itself.
  }
}

function ending(child: ChildProcess): Promise<{ code: number | null; said: string }> {
  let said = '';
  for (const stream of [child.stdout, child.stderr])
    stream?.on('data', (bytes) => {
      said += bytes;
    });
  return new Promise((resolve, reject) => {
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, said }));
  });
}

/** Every file below a folder with its bytes. */
function treeOf(folder: string): Map<string, Buffer> {
  const entries = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
  const paths = entries.map((entry) => join(entry.parentPath, entry.name)).sort();
  return new Map(paths.map((path) => [relative(folder, path), readFileSync(path)]));
}

function differences(wanted: ReadonlyMap<string, Buffer>, found: ReadonlyMap<string, Buffer>): string[] {
  const wrong: string[] = [];
  for (const [path, bytes] of wanted) {
    const other = found.get(path);
    if (other === undefined) wrong.push(`${path} is missing`);
    else if (!other.equals(bytes)) wrong.push(`${path} is another`);
  }
  for (const path of found.keys()) if (!wanted.has(path)) wrong.push(`${path} is too much`);
  return wrong;
}
