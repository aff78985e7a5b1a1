import { constants, copyFile, link, mkdir } from 'node:fs/promises';
import { dirname } from 'node:path';
import { DISK, withPart } from '../../archive/write/write-whole.ts';
import { UsageError } from './usage-error.ts';

/** Writes a file that is not there yet, whole or not at all; throws a `UsageError` where there is one of that name. */
export async function writeNew(path: string, text: string): Promise<void> {
  await mkdir(dirname(path), { recursive: true });
  const inPlace = (part: string): Promise<void> =>
    // Not every file system has links: there a copy is the next best.
    link(part, path).catch((thrown: NodeJS.ErrnoException) => {
      if (thrown.code === 'EEXIST') throw new UsageError(`${path} is there already and stays as it is.`);
      return copyFile(part, path, constants.COPYFILE_EXCL);
    });
  await withPart(path, (part) => DISK.fill(part, Buffer.from(text)), inPlace);
}
