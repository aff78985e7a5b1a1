/** Putting new bytes in the place of a file that an editor may save at the very same moment, so that no text is lost. */
import { existsSync } from 'node:fs';
import { link, open, readdir, readFile, readlink, realpath, rm, stat } from 'node:fs/promises';
import { dirname, join, relative, resolve } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { errorCode, isNames, listBelow } from '../safe-read.ts';
import { locked } from './lock.ts';
import { besideOf, takenFrom, takenOf } from './sibling-path.ts';
import { DISK, modeOf, renameInto, withPart } from './write-whole.ts';

/** What is done to files, step by step; tests let an editor save between any two. */
export interface ReplaceSteps {
  move(from: string, to: string): Promise<void>;
  /** Gives a file a second name; throws `EEXIST` where that name is taken. */
  link(from: string, to: string): Promise<void>;
  read(path: string): Promise<Uint8Array>;
  remove(path: string): Promise<void>;
}

const STEPS: ReplaceSteps = {
  move: renameInto,
  link,
  read: readFile,
  remove: (path) => rm(path, { force: true }),
};

/** An editor that writes in place has opened the file shortly before; this long after it is looked once more. */
const GRACE_MS = 25;

/**
 * Puts `bytes` in the place of a file that held `old`, and keeps `old` beside it as `.<name>.before`. False where an editor
 * has saved meanwhile: then its text stays and nothing else was changed.
 *
 * The file is never written over. It is taken away under another name; only if it is then what was read does the new one come
 * into the place, which fails where an editor has put one there. An editor that had the old one open has written into that, and
 * so it goes back. The caller holds the lock of the file. Throws what the file system throws.
 */
export async function replaceFile(
  path: string,
  old: Uint8Array,
  bytes: Uint8Array,
  steps: ReplaceSteps = STEPS,
): Promise<boolean> {
  const taken = takenOf(path);
  const holds = async (file: string, expected: Uint8Array): Promise<boolean> =>
    steps.read(file).then(
      (found) => Buffer.compare(found, expected) === 0,
      () => false,
    );
  const mode = await modeOf(path);
  return withPart(
    path,
    (part) => DISK.fill(part, bytes, mode),
    async (part) => {
      await steps.move(path, taken);
      if (!(await holds(taken, old))) {
        await putBack(taken, path, steps);
        return false;
      }
      const placed = await linked(part, path, steps);
      if (!placed) {
        await setAside(taken, path, steps);
        return false;
      }
      await steps.remove(part);
      await flushFolder(dirname(path));
      await wait(GRACE_MS);
      if (!(await holds(taken, old))) {
        await undo(path, (file) => holds(file, bytes), steps);
        return false;
      }
      await setAside(taken, path, steps);
      return holds(path, bytes);
    },
  );
}

/** Takes the new file away again and puts back the one that an editor has written into. */
async function undo(
  path: string,
  isOurs: (file: string) => Promise<boolean>,
  steps: ReplaceSteps,
): Promise<void> {
  const before = besideOf(path, 'before');
  if (!(await setAside(path, path, steps))) return putBack(takenOf(path), path, steps);
  const ours = await isOurs(before);
  // What an editor has put in the place of ours is newer than what it wrote into the old one.
  if (!ours) await putBack(before, path, steps);
  await putBack(takenOf(path), path, steps);
  if (ours) await steps.remove(before);
}

/** Moves a file back into its place; where there is another, that one is newer, and this one is kept beside it. */
async function putBack(from: string, path: string, steps: ReplaceSteps): Promise<void> {
  if (await linked(from, path, steps)) await steps.remove(from);
  else await setAside(from, path, steps);
}

/** Where there are no second names, as on some sticks, the nearest to it: a look, and then a move. */
const NO_LINKS = new Set(['EPERM', 'ENOTSUP', 'EOPNOTSUPP', 'ENOSYS', 'EMLINK']);

/** Puts a file into a place that is empty; false where it is not. */
async function linked(from: string, to: string, steps: ReplaceSteps): Promise<boolean> {
  try {
    await steps.link(from, to);
    return true;
  } catch (thrown) {
    if (errorCode(thrown) === 'EEXIST') return false;
    if (!NO_LINKS.has(errorCode(thrown))) throw thrown;
  }
  if ((await factsOf(to)) !== null) return false;
  await steps.move(from, to);
  return true;
}

/** Makes a file the version before of the one at `path`; false where it is gone. */
async function setAside(file: string, path: string, steps: ReplaceSteps): Promise<boolean> {
  const before = besideOf(path, 'before');
  const last = await factsOf(before);
  // Moving a file changes only when it was changed last, writing also when it was written: an editor still had this one open.
  if (last !== null && last.mtimeNs >= last.ctimeNs) await steps.move(before, besideOf(path, 'late'));
  try {
    await steps.move(file, before);
    return true;
  } catch (thrown) {
    if (errorCode(thrown) !== 'ENOENT') throw thrown;
    return false;
  }
}

const factsOf = (path: string) => stat(path, { bigint: true }).catch(() => null);

/** Undoes what a process that was killed while it replaced a file has left; the caller holds the lock of the file. */
export async function recover(path: string): Promise<void> {
  const taken = takenOf(path);
  const [left, there] = [await factsOf(taken), await factsOf(path)];
  if (left === null) return;
  if (there?.ino === left.ino && there.dev === left.dev) await STEPS.remove(taken);
  else await putBack(taken, path, STEPS);
}

/** Puts every batch file back that a killed process has taken away. What cannot be put back is read where it is. */
export async function recoverAll(contentDir: string): Promise<void> {
  const root = await realpath(contentDir);
  const folder = join(root, 'batches');
  if (!isNames(listBelow(folder, root) ?? [])) return;
  for (const entry of await readdir(folder, { withFileTypes: true }).catch(() => [])) {
    const name = entry.isSymbolicLink() ? await readlink(join(folder, entry.name)) : takenFrom(entry.name);
    const path = resolve(folder, name ?? '');
    if (name === null || relative(root, path).startsWith('..') || !existsSync(takenOf(path))) continue;
    await locked(path, () => recover(path)).catch(() => null);
  }
}

/** After a move the folder itself has to reach the disk; some systems cannot be asked for it. */
async function flushFolder(folder: string): Promise<void> {
  try {
    const handle = await open(folder, 'r');
    await handle.sync().finally(() => handle.close());
  } catch {
    // The file is whole either way: the old one or the new one.
  }
}
