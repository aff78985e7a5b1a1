/** Files that are either whole under their name or not there at all. */
import { randomBytes } from 'node:crypto';
import { closeSync, mkdirSync, openSync, readdirSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { errorCode } from '../safe-read.ts';

/** The steps of a whole write; tests put a failing one in the place of the real one. */
export interface WriteSteps {
  /** Writes all bytes to a new file of this mode and waits until they are on the disk. */
  readonly fill: (path: string, bytes: Uint8Array, mode?: number) => Promise<void>;
  readonly rename: (from: string, to: string) => Promise<void>;
}

export const DISK: WriteSteps = {
  async fill(path, bytes, mode) {
    const file = await open(path, 'wx', mode);
    try {
      await file.writeFile(bytes);
      // What a process may give a new file is cut down by its mask, not what an old one had.
      if (mode !== undefined) await file.chmod(mode);
      await file.sync();
    } finally {
      await file.close();
    }
  },
  rename: renameInto,
};

/** Parts that are being written, in case the process has to end meanwhile. */
const unfinished = new Set<string>();
let watched = false;

function removeOnExit(part: string): void {
  unfinished.add(part);
  if (watched) return;
  watched = true;
  process.once('exit', () => {
    for (const path of unfinished) rmSync(path, { force: true });
  });
}

/** A name beside a file that only this process uses, and that `sweepUnfinished` knows again. */
const partOf = (path: string): string => {
  parts = (parts + 1) % 2 ** 48;
  return join(dirname(path), `.${basename(path)}.${process.pid}-${parts.toString(16).padStart(12, '0')}.tmp`);
};
let parts = randomBytes(6).readUIntBE(0, 6);

/** Fills and flushes a new file beside another and hands it to `use`, which may move it; nothing of it is left behind. */
export async function withPart<T>(
  path: string,
  fill: (part: string) => Promise<void>,
  use: (part: string) => Promise<T>,
): Promise<T> {
  const part = partOf(path);
  removeOnExit(part);
  try {
    await fill(part);
    return await use(part);
  } finally {
    await rm(part, { force: true });
    unfinished.delete(part);
  }
}

/**
 * Writes a file so that a reader finds the old content or the new, never half of it: a file beside it is written,
 * flushed to the disk and moved into its place. The mode of a file that is there is kept; on failure the old file
 * stays and nothing is left behind. Throws what the file system throws.
 */
export async function writeWhole(
  path: string,
  content: string | Uint8Array,
  steps: WriteSteps = DISK,
): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const mode = await modeOf(path);
  await withPart(
    path,
    (part) => steps.fill(part, Buffer.from(content), mode),
    (part) => steps.rename(part, path),
  );
}

/** The rights that a file has; undefined where there is none. */
export const modeOf = (path: string): Promise<number | undefined> =>
  stat(path).then(
    (found) => found.mode & 0o777,
    () => undefined,
  );

/**
 * The same at once and without waiting for the disk, for the thousands of pages of a site: after a kill each is the old one or
 * the new one; after a power cut a build makes them again.
 */
export function writeWholeSync(path: string, content: string | Uint8Array | ((file: number) => void)): void {
  const part = partOf(path);
  removeOnExit(part);
  try {
    const file = opened(part);
    try {
      if (typeof content === 'function') content(file);
      else writeFileSync(file, content);
    } finally {
      closeSync(file);
    }
    renameSync(part, path);
  } catch (thrown) {
    rmSync(part, { force: true });
    throw thrown;
  } finally {
    unfinished.delete(part);
  }
}

/** Opens a new file; its folder is made only where it is not there, since most of a site's are. */
function opened(path: string): number {
  try {
    return openSync(path, 'wx');
  } catch (thrown) {
    if (errorCode(thrown) !== 'ENOENT') throw thrown;
    mkdirSync(dirname(path), { recursive: true });
    return openSync(path, 'wx');
  }
}

/** What Windows answers while a virus scanner, a cloud's sync or a viewer holds the file for a moment. */
const HELD = new Set(['EPERM', 'EACCES', 'EBUSY']);
const TRIES = 10;
const PAUSE_MS = 50;

/** Moves a file into the place of another; on Windows again and again for half a second where it is held. */
export async function renameInto(
  from: string,
  to: string,
  system: { readonly platform: NodeJS.Platform; readonly rename: typeof rename } = {
    platform: process.platform,
    rename,
  },
): Promise<void> {
  for (let tried = 1; ; tried += 1) {
    try {
      return await system.rename(from, to);
    } catch (thrown) {
      const code = errorCode(thrown);
      if (system.platform !== 'win32' || !HELD.has(code) || tried === TRIES) throw thrown;
      await wait(PAUSE_MS);
    }
  }
}

const UNFINISHED = /^\..+\.(\d+)-(?:[0-9a-f]{12}\.tmp|\d+\.part)$/;

/** Takes away what a process that was killed while it wrote has left beside the files of a folder. */
export function sweepUnfinished(folder: string): void {
  let names: readonly string[] = [];
  try {
    names = readdirSync(folder);
  } catch {
    // What cannot be listed cannot be swept.
  }
  for (const name of names) {
    const pid = UNFINISHED.exec(name)?.[1];
    if (pid !== undefined && !isAlive(Number(pid))) rmSync(join(folder, name), { force: true });
  }
}

/** Whether a process of this number runs; one of another user counts too. */
export function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (thrown) {
    return thrown instanceof Error && 'code' in thrown && thrown.code === 'EPERM';
  }
}
