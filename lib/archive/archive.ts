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
  readonly hash: string;
}

export interface Archive {
  readonly brewery: Brewery;
  readonly setups: ReadonlyMap<string, Setup>;
  readonly tables: Tables;
  readonly batches: readonly Batch[];
  /** All errors and warnings of all files, by file and line. */
  readonly problems: readonly LocatedProblem[];
  readonly files: ReadonlyMap<string, BatchSource>;
  /** Batches that were left out because of an error in them or in what they need. */
  readonly failed: readonly string[];
}
