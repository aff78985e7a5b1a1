import { randomBytes } from 'node:crypto';
import { open, readdir, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { besideOf } from './sibling-path.ts';

/** Writing takes milliseconds: a lock of this age was left behind by a process that was killed. */
const STALE_MS = 15_000;
/** A holder that was stopped for so long, as by a computer that slept, no longer counts on its lock. */
const SURE_MS = 10_000;
const WAIT_MS = 20_000;
const PAUSE_MS = 20;

/**
 * Does one piece of work on a file while no other process does the same, such as the same command in another window.
 *
 * The lock is a file beside the one concerned, which only one process can make. A lock that was left behind is taken away
 * by one process alone: a process that wants to makes a claim under a name that no other ever has, and goes on only where it
 * then sees no other claim. `held` says whether the work may still count on the lock. Throws where the lock stays taken
 * for longer than anybody writes.
 */
export async function locked<T>(path: string, work: (held: () => boolean) => Promise<T>): Promise<T> {
  const lock = besideOf(path, 'lock');
  const until = Date.now() + WAIT_MS;
  for (;;) {
    const taken = await takeLock(lock);
    if (taken === null) break;
    if (await isStale(lock)) await takeAwayStale(path, lock);
    else if (Date.now() > until) throw taken;
    await wait(PAUSE_MS * Math.random());
  }
  const since = Date.now();
  const held = () => Date.now() - since < SURE_MS;
  try {
    return await work(held);
  } finally {
    // After too long it may be another's by now; if it is not, it is taken away as one that was left behind.
    if (held()) await rm(lock, { force: true });
    // Claims that were left behind do no harm, and are cleared away with the next work.
    await otherClaims(path, null).catch(() => false);
  }
}

/** Null once the lock is ours, else what says that it is not. */
async function takeLock(lock: string): Promise<Error | null> {
  try {
    await (await open(lock, 'wx')).close();
    return null;
  } catch (error) {
    if (error instanceof Error && saysTaken(error)) return error;
    throw error;
  }
}

/** On Windows a lock that is just being taken away is refused, not said to be there. */
export function saysTaken(error: Error, platform: NodeJS.Platform = process.platform): boolean {
  const code = 'code' in error ? error.code : null;
  return code === 'EEXIST' || (platform === 'win32' && (code === 'EPERM' || code === 'EBUSY'));
}

/** True for a file that is there and older than anybody writes, or from a time that has not come yet. */
async function isStale(file: string): Promise<boolean> {
  try {
    return Math.abs(Date.now() - (await stat(file)).mtimeMs) > STALE_MS;
  } catch {
    return false;
  }
}

/**
 * Takes a lock away that was left behind, if this process is the only one that is about to. Of two that each make a claim
 * and then look, at least one sees the other's; who sees one steps back. While there is one claim nobody else takes a
 * lock away, and none is made before this one is gone.
 */
async function takeAwayStale(path: string, lock: string): Promise<void> {
  const claim = besideOf(path, `lock.${process.pid}-${randomBytes(6).toString('hex')}`);
  await (await open(claim, 'wx')).close();
  const since = Date.now();
  try {
    const alone = !(await otherClaims(path, claim));
    if (alone && (await isStale(lock)) && Date.now() - since < SURE_MS) await rm(lock, { force: true });
  } finally {
    await rm(claim, { force: true });
  }
}

/** Whether another process has a claim; those that were left behind are taken away, since their names never come again. */
async function otherClaims(path: string, own: string | null): Promise<boolean> {
  const folder = dirname(path);
  const start = `${basename(besideOf(path, 'lock'))}.`;
  let found = false;
  for (const name of await readdir(folder)) {
    const claim = join(folder, name);
    if (!name.startsWith(start) || claim === own) continue;
    if (await isStale(claim)) await rm(claim, { force: true });
    else found = true;
  }
  return found;
}
