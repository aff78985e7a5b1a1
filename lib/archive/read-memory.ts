import type { Surroundings } from './schema/check-batch.ts';

/** What one reading of an archive leaves for the next: of files that are the same, what was made of them. */
export interface ReadMemory<Made> {
  /** The surroundings of before, where these are equal to them: what is kept of batches holds for them alone. */
  around(now: Surroundings): Surroundings;
  /** What was made of a file of this path with these bytes and in these surroundings; made now where there is none. */
  file(path: string, bytes: Uint8Array, around: Surroundings, make: () => Made): Made;
  /** Forgets all files but these. */
  keepOnly(paths: ReadonlySet<string>): void;
}

/** Surroundings as a text that differs wherever they do. */
const keyOf = ({ units, setups, tables }: Surroundings): string =>
  JSON.stringify([units, [...setups], tables.rows]);

/** An empty memory, for one content folder. */
export function createReadMemory<Made>(): ReadMemory<Made> {
  let last: { readonly key: string; readonly around: Surroundings } | null = null;
  const files = new Map<
    string,
    { readonly bytes: Uint8Array; readonly around: Surroundings; readonly made: Made }
  >();
  return {
    around(now) {
      const key = keyOf(now);
      if (last?.key !== key) last = { key, around: now };
      return last.around;
    },
    file(path, bytes, around, make) {
      const known = files.get(path);
      if (known?.around === around && Buffer.compare(known.bytes, bytes) === 0) return known.made;
      const made = make();
      files.set(path, { bytes, around, made });
      return made;
    },
    keepOnly(paths) {
      for (const path of files.keys()) if (!paths.has(path)) files.delete(path);
    },
  };
}
