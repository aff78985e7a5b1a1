import { randomBytes } from 'node:crypto';
import { mkdir, open, readdir, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';
import { setTimeout as wait } from 'node:timers/promises';

/**
 * Writes a file so that a reader finds the old content or the new, never half of it: a file beside it is written,
 * flushed to the disk and moved into its place. The mode of a file that is there is kept; on failure the old file
 * stands and nothing is left behind. Throws what the file system throws.
 */
export async function writeAtomic(path: string, content: string | Uint8Array): Promise<void> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true });
  const beside = join(folder, `.${basename(path)}.${process.pid}-${randomBytes(6).toString('hex')}.tmp`);
  const mode = await stat(path).then(
    (found) => found.mode & 0o777,
    () => 0o666,
  );
  try {
    const handle = await open(beside, 'wx', mode);
    try {
      await handle.writeFile(content);
      await handle.sync();
    } finally {
      await handle.close();
    }
    await renameInto(beside, path);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
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
      const code = thrown instanceof Error && 'code' in thrown ? String(thrown.code) : '';
      if (system.platform !== 'win32' || !HELD.has(code) || tried === TRIES) throw thrown;
      await wait(PAUSE_MS);
    }
  }
}

const UNFINISHED = /^\..+\.(\d+)-[0-9a-f]{12}\.tmp$/;

/** Takes away what a process that was killed while it wrote has left beside the files of a folder. */
export async function sweepUnfinished(folder: string): Promise<void> {
  for (const name of await readdir(folder).catch(() => [])) {
    const pid = UNFINISHED.exec(name)?.[1];
    if (pid !== undefined && !isRunning(Number(pid))) await rm(join(folder, name), { force: true });
  }
}

/** Whether a process of this number runs; one of another user counts too. */
function isRunning(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (thrown) {
    return thrown instanceof Error && 'code' in thrown && thrown.code === 'EPERM';
  }
}
