import { basename, dirname, join } from 'node:path';

/** A name beside a file that neither the archive nor the watcher takes for a batch. */
export const besideOf = (path: string, ending: string): string =>
  join(dirname(path), `.${basename(path)}.${ending}`);
