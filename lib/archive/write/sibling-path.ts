import { basename, dirname, join } from 'node:path';

/** A name beside a file that neither the archive nor the watcher takes for a batch. */
export const besideOf = (path: string, ending: string): string =>
  join(dirname(path), `.${basename(path)}.${ending}`);

/** Where a file lies for the moment in which another is put in its place. */
export const takenOf = (path: string): string => besideOf(path, 'taken');

/** The name of the file that lies under such a name; null for any other. */
export const takenFrom = (name: string): string | null => /^\.(.+)\.taken$/.exec(name)?.[1] ?? null;
