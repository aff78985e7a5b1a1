/** Files that are either whole under their name or not there at all. */

import { rmSync } from 'node:fs';
import { mkdir, open, readdir, rename, rm } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';
import { systemCode } from './faults.ts';

/** The steps of a whole write; tests put a failing one in the place of the real one. */
export interface WriteSteps {
  /** Writes all bytes to a new file and waits until they are on the disk. */
  readonly fill: (path: string, bytes: Uint8Array) => Promise<void>;
  readonly rename: (from: string, to: string) => Promise<void>;
}

export const DISK: WriteSteps = {
  async fill(path, bytes) {
    const file = await open(path, 'wx');
    try {
      await file.writeFile(bytes);
      await file.sync();
    } finally {
      await file.close();
    }
  },
  rename: renameInto,
};

// The printing engine imports nothing of the project, so it has its own of what lib/archive does for content files.
/** What Windows answers while a viewer, a virus scanner or a cloud's sync holds the file for a moment. */
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
      if (system.platform !== 'win32' || !HELD.has(systemCode(thrown)) || tried === TRIES) throw thrown;
      await wait(PAUSE_MS);
    }
  }
}

/** Parts that are being written, for the case that the process is told to end meanwhile. */
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

const PART = /^\..+\.(\d+)-\d+\.part$/;
let count = 0;

/** Writes a file so that its name never shows a half of it; throws the system's error and leaves nothing. */
export async function writeWhole(path: string, bytes: Uint8Array, steps: WriteSteps = DISK): Promise<void> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true });
  count += 1;
  const part = join(folder, `.${basename(path)}.${process.pid}-${count}.part`);
  removeOnExit(part);
  try {
    await steps.fill(part, bytes);
    await steps.rename(part, path);
  } catch (thrown) {
    await rm(part, { force: true });
    throw thrown;
  } finally {
    unfinished.delete(part);
  }
}

/** Removes parts that a killed process left in a folder. */
export async function sweepParts(folder: string): Promise<void> {
  const names = await readdir(folder).catch(() => []);
  for (const name of names) {
    const pid = PART.exec(name)?.[1];
    if (pid !== undefined && !isAlive(Number(pid))) await rm(join(folder, name), { force: true });
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
