import { constants, copyFile, link, rm } from 'node:fs/promises';
import { writeAtomic } from '../../archive/write/atomic-write.ts';
import { UsageError } from './usage-error.ts';

/** Writes a file that is not there yet, whole or not at all; throws a `UsageError` where there is one of that name. */
export async function writeNew(path: string, text: string): Promise<void> {
  const part = `${path}.${process.pid}.tmp`;
  try {
    await writeAtomic(part, text);
    // Not every file system has links: there a copy is the next best.
    await link(part, path).catch((thrown: NodeJS.ErrnoException) =>
      thrown.code === 'EEXIST' ? Promise.reject(thrown) : copyFile(part, path, constants.COPYFILE_EXCL),
    );
  } catch (thrown) {
    if ((thrown as NodeJS.ErrnoException).code !== 'EEXIST') throw thrown;
    throw new UsageError(`${path} is there already and stays as it is.`);
  } finally {
    await rm(part, { force: true });
  }
}
