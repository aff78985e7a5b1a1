import {
  closeSync,
  existsSync,
  mkdirSync,
  openSync,
  readdirSync,
  readFileSync,
  readSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { rm, rmdir } from 'node:fs/promises';
import { dirname, join, relative } from 'node:path';
import { sweepUnfinished, writeWholeSync } from '../archive/write/write-whole.ts';
import { withSlashes } from './paths.ts';

/** Stands in every folder that is written to: whose it is, and the list of what may be taken away again. */
const MARK = '.kettleside';
const MARK_TEXT = 'Kettleside writes this folder. It takes away nothing but what this list names.\n';

/** What version control has in a folder that is otherwise empty. */
const VERSIONED = '.git';

/** A name in a folder that would be somebody else's; null where the folder is absent, empty or ours. */
export function notOurs(folder: string): string | null {
  if (!existsSync(folder) || existsSync(join(folder, MARK))) return null;
  return readdirSync(folder).find((name) => name !== VERSIONED) ?? null;
}

/** How a file was left: its size, and when its bytes and its name were last changed. The last of them nobody can set back. */
export type Left = readonly [size: number, written: number, changed: number];

export function leftAt(file: string): Left | null {
  const found = statSync(file, { throwIfNoEntry: false });
  return found === undefined || !found.isFile() ? null : [found.size, found.mtimeMs, found.ctimeMs];
}

/** A text, whole or in parts, one after the other. */
export type Text = string | readonly string[];
/** What a file is to hold. */
export type Content = Text | Uint8Array;

/** A folder that is written to: what it holds of us is listed before it is written, so that a later run can take it away. */
export interface Output {
  readonly folder: string;
  /** All that is listed, as this run has left it; null for what was written by others or is not there. */
  readonly listed: ReadonlyMap<string, Left | null>;
  /** What this run has written that was not there with the same bytes. */
  readonly changed: ReadonlySet<string>;
  /** The path below the folder of a file in it, with forward slashes. */
  pathOf(file: string): string;
  /** Lists files that belong to this run; called before any of them is written. */
  announce(paths: Iterable<string>): void;
  /** Writes a file of this run, whole; one of ours that is there with the same bytes is left as it is. True where it was written. */
  write(path: string, content: Content): boolean;
  /** Takes a file of this run as an earlier one has left it. */
  leave(path: string, left: Left): void;
  /** Takes away what is listed and does not belong to this run, but for what may stay, and what killed runs left half written. */
  removeOthers(mayStay?: (path: string) => boolean): Promise<void>;
}

/** A path that leads nowhere but down. */
const isBelow = (path: string): boolean =>
  path !== '' &&
  !/^[/\\]|^[A-Za-z]:|\\/.test(path) &&
  !path.split('/').some((part) => /^\.{0,2}$/.test(part));

function listed(folder: string): string[] {
  const mark = join(folder, MARK);
  if (!existsSync(mark)) return [];
  return readFileSync(mark, 'utf8').split('\n').slice(1).filter(isBelow);
}

/** Every folder that a path lies in, the innermost first. */
function foldersOf(path: string): string[] {
  const above = dirname(path);
  return above === '.' ? [] : [above, ...foldersOf(above)];
}

/** Room that one page after another is encoded in, or put together: taking and giving back as much for each costs more than that. */
const ROOM = Buffer.allocUnsafeSlow(1_000_000);
/** As much beside it, to compare with. */
const THERE = Buffer.allocUnsafeSlow(ROOM.length);
const MOST_BYTES_A_UNIT = 3;

/** A text as it is written; good until the next. */
const utf8 = (text: string): Uint8Array =>
  MOST_BYTES_A_UNIT * text.length > ROOM.length ? Buffer.from(text) : ROOM.subarray(0, ROOM.write(text));

/** The bytes of a content in pieces, each good until the next: of parts, as many as there is room for. */
function* pieces(content: Uint8Array | readonly string[]): Generator<Uint8Array> {
  if (content instanceof Uint8Array) return yield content;
  let used = 0;
  for (const part of content) {
    const most = MOST_BYTES_A_UNIT * part.length;
    if (used + most > ROOM.length) {
      yield ROOM.subarray(0, used);
      used = 0;
    }
    if (most > ROOM.length) yield Buffer.from(part);
    else used += ROOM.write(part, used);
  }
  yield ROOM.subarray(0, used);
}

/** Opens a folder to write to, made and marked where it is not there. Throws where it holds somebody else's files. */
export function openOutput(folder: string): Output {
  const other = notOurs(folder);
  if (other !== null) throw new Error(`${folder} holds files that were not made here, such as ${other}.`);
  mkdirSync(folder, { recursive: true });
  const before = new Set(listed(folder));
  const known = new Map<string, Left | null>([...before].map((path) => [path, null]));
  const changed = new Set<string>();
  const announced = new Set<string>();
  let swept = false;
  const save = (): void =>
    writeWholeSync(join(folder, MARK), `${MARK_TEXT}${[...known.keys()].sort().join('\n')}\n`);
  if (known.size === 0) save();
  const output: Output = {
    folder,
    listed: known,
    changed,
    pathOf: (file) => withSlashes(relative(folder, file)),
    announce(paths) {
      const { size } = known;
      for (const path of paths) {
        if (!isBelow(path)) throw new Error(`${JSON.stringify(path)} leads out of the folder.`);
        announced.add(path);
        if (!known.has(path)) known.set(path, null);
      }
      if (known.size > size) save();
    },
    write(path, content) {
      if (!announced.has(path)) output.announce([path]);
      const file = join(folder, path);
      const whole = typeof content === 'string' ? utf8(content) : content;
      const size =
        whole instanceof Uint8Array
          ? whole.length
          : whole.reduce((sum, part) => sum + Buffer.byteLength(part), 0);
      const isThere = before.has(path) || known.get(path) !== null;
      const same = isThere && leftAt(file)?.[0] === size && isSame(file, whole);
      if (!same) {
        writeWholeSync(file, (to) => {
          for (const piece of pieces(whole)) writeFileSync(to, piece);
        });
        changed.add(path);
      }
      known.set(path, leftAt(file));
      return !same;
    },
    leave(path, left) {
      if (!announced.has(path)) output.announce([path]);
      known.set(path, left);
    },
    async removeOthers(mayStay = () => false) {
      const gone = [...known.keys()].filter((path) => !announced.has(path) && !mayStay(path));
      const folders = swept ? [] : new Set([...known.keys()].map((path) => dirname(path)));
      for (const each of folders) sweepUnfinished(join(folder, each));
      swept = true;
      for (const path of gone) {
        await rm(join(folder, path), { force: true });
        known.delete(path);
      }
      // The innermost first; one that holds something else is not ours to take away.
      const left = [...new Set(gone.flatMap(foldersOf))].sort((a, b) => b.length - a.length);
      for (const each of left) await rmdir(join(folder, each)).catch(() => undefined);
      if (gone.length > 0) save();
    },
  };
  return output;
}

/** Whether a file of the same size holds the same. */
function isSame(file: string, content: Uint8Array | readonly string[]): boolean {
  try {
    if (content instanceof Uint8Array) return readFileSync(file).equals(content);
    const from = openSync(file, 'r');
    try {
      for (const piece of pieces(content)) {
        const there = piece.length > THERE.length ? Buffer.allocUnsafe(piece.length) : THERE;
        const read = readSync(from, there, 0, piece.length, null);
        if (!there.subarray(0, read).equals(piece)) return false;
      }
      return true;
    } finally {
      closeSync(from);
    }
  } catch {
    return false;
  }
}
