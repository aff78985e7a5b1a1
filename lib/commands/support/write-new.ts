import { constants, copyFile, link, mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { DISK, withPart } from '../../archive/write/write-whole.ts';
import { UsageError } from './usage-error.ts';

/** Writes a file that is not there yet, whole or not at all; throws a `UsageError` where there is one of that name. */
export async function writeNew(path: string, text: string): Promise<void> {
  try {
    await mkdir(dirname(path), { recursive: true });
    await withPart(
      path,
      (part) => DISK.fill(part, Buffer.from(text)),
      (part) =>
        // Not every file system has links: there a copy is the next best.
        link(part, path).catch((thrown: NodeJS.ErrnoException) =>
          thrown.code === 'EEXIST' ? Promise.reject(thrown) : copyFile(part, path, constants.COPYFILE_EXCL),
        ),
    );
  } catch (thrown) {
    if ((thrown as NodeJS.ErrnoException).code !== 'EEXIST') throw thrown;
    throw new UsageError(`${path} is there already and stays as it is.`);
  }
}
