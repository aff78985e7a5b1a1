import type { Detail } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import type { Outcome } from '../model/target-vector.ts';
import type { Batch } from '../types/batch.ts';
import type { Input } from '../uncertainty/inputs.ts';
import type { ReadingInput } from './measure.ts';

/** A brewed batch as learning looks at it. */
export interface Evidence {
  readonly batch: Batch;
  /** As planned with the setup's own figures. */
  readonly c: Case;
  readonly outcome: Outcome;
  readonly detail: Detail;
  /** Reduced readings by their key, those that were taken. */
  readonly read: ReadonlyMap<string, { readonly value: number; readonly u: number }>;
  readonly inputs: readonly Input[];
}

/** A reading as an input of a result; null where it was not taken. */
export function reading({ read }: Evidence, key: string): ReadingInput | null {
  const found = read.get(key);
  return found === undefined ? null : { name: key, ...found };
}

/** The case's inputs of these keys: what a result may depend on besides the readings. */
export const inputsOf = ({ inputs }: Evidence, ...keys: readonly Input['key'][]): readonly Input[] =>
  inputs.filter(({ key }) => keys.includes(key));
