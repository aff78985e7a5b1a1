import type { Batch } from '../batch/types/batch.ts';
import type { Brewery } from '../batch/types/brewery.ts';
import type { Setup } from '../batch/types/setup.ts';
import type { Tables } from './schema/names.ts';
import type { LocatedProblem } from './yaml/located.ts';
import type { Source } from './yaml/source.ts';

/** Where a batch came from: enough to locate what is found wrong with it later, and to tell whether it changed. */
export interface BatchSource extends Source {
  readonly slug: string;
  /** Absolute. */
  readonly path: string;
  /** SHA-256 of the file's bytes, hexadecimal. */
  readonly hash: string;
}

/** Everything in the content folder, read and checked. */
export interface Archive {
  readonly brewery: Brewery;
  readonly setups: ReadonlyMap<string, Setup>;
  readonly tables: Tables;
  /** Batches without an error, by slug. */
  readonly batches: readonly Batch[];
  /** All errors and warnings of all files, by file and line. */
  readonly problems: readonly LocatedProblem[];
  /** Source of every batch in `batches`, by slug. */
  readonly files: ReadonlyMap<string, BatchSource>;
  /** Batches that were left out because of an error in them or in what they need. */
  readonly failed: readonly string[];
}
