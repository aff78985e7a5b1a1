import { randomBytes } from 'node:crypto';
import { mkdir, open, rename, rm, stat } from 'node:fs/promises';
import { basename, dirname, join } from 'node:path';

/**
 * Writes a file so that a reader finds the old content or the new, never half of it: a file beside it is written,
 * flushed to the disk and moved into its place. The mode of a file that is there is kept; on failure the old file
 * stands and nothing is left behind. Throws what the file system throws.
 */
export async function writeAtomic(path: string, content: string | Uint8Array): Promise<void> {
  const folder = dirname(path);
  await mkdir(folder, { recursive: true });
  const beside = join(folder, `.${basename(path)}.${randomBytes(6).toString('hex')}.tmp`);
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
    await rename(beside, path);
  } catch (error) {
    await rm(beside, { force: true });
    throw error;
  }
}
