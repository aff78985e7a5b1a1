import type { Ingredient } from '../batch/types/ingredient.ts';
import { hashOf } from './open-batch.ts';
import type { Surroundings } from './schema/check-batch.ts';

export interface KeptFile<Made> {
  /** Of its bytes. */
  readonly hash: string;
  /** Of the surroundings. */
  readonly key: string;
  readonly made: Made;
}

/** What one reading of an archive leaves for the next: of files that are the same, what was made of them. */
export interface ReadMemory<Made> {
  readonly files: Map<string, KeptFile<Made>>;
  /** What was made of the shared tables, by a hash of their bytes; a table with a problem is read again. */
  readonly tables: Map<string, readonly Ingredient[]>;
  /** The surroundings of before, where these are equal to them; what is kept of batches from now on holds for these alone. */
  around(now: Surroundings): Surroundings;
  /** What was made of a file of this path with these bytes; made now where there is none. */
  file(path: string, bytes: Uint8Array, make: () => Made): Made;
  keepOnly(paths: ReadonlySet<string>): void;
}

const keyOf = ({ setups, tables, ...said }: Surroundings): string =>
  hashOf(JSON.stringify([said, [...setups], tables.rows]));

/** A memory for one content folder, empty or with what was kept of an earlier one. */
export function createReadMemory<Made>(
  files = new Map<string, KeptFile<Made>>(),
  tables: ReadMemory<Made>['tables'] = new Map(),
): ReadMemory<Made> {
  let last: { readonly key: string; readonly around: Surroundings } | null = null;
  return {
    files,
    tables,
    around(now) {
      const key = keyOf(now);
      if (last?.key !== key) last = { key, around: now };
      return last.around;
    },
    file(path, bytes, make) {
      const key = last?.key ?? '';
      const hash = hashOf(bytes);
      const known = files.get(path);
      if (known?.key === key && known.hash === hash) return known.made;
      const made = make();
      files.set(path, { hash, key, made });
      return made;
    },
    keepOnly(paths) {
      for (const path of files.keys()) if (!paths.has(path)) files.delete(path);
    },
  };
}
