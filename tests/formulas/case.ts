/** The shape of the tables of check values. */

/** How far a published figure can be traced. */
export type Provenance =
  | 'opened'
  | 'coefficients seen in two transcriptions'
  | 'from memory'
  | 'common practice, no source'
  | 'derived';

export interface Case<Input> {
  readonly input: Input;
  readonly expected: number;
  readonly tolerance: number;
  /** Where the expected figure is from: a publication, or a program that knows nothing of this one. */
  readonly source: string;
  readonly provenance: Provenance;
  /** Why the tolerance is what it is. */
  readonly reason: string;
}

/** One row after it was computed. */
export interface Outcome {
  readonly label: string;
  readonly expected: number;
  readonly found: number;
  readonly tolerance: number;
  readonly source: string;
  readonly provenance: Provenance;
  readonly reason: string;
}

/** The check values of one formula, ready to be run. */
export interface CaseTable {
  /** What a brewer would call it. */
  readonly name: string;
  /** The function or functions in `lib/formulas`. */
  readonly formula: string;
  readonly publication: string;
  readonly range: string;
  readonly unit: string;
  /** What a brewer may expect of it in practice; a table that says so stands in the README's short list. */
  readonly practice?: string;
  readonly outcomes: () => readonly Outcome[];
}

type Shared = Pick<Case<unknown>, 'source' | 'provenance' | 'tolerance' | 'reason'>;

/** Rows that share source, tolerance and reason: pairs of input and expected figure. */
export function rows<Input>(
  shared: Shared,
  pairs: readonly (readonly [Input, number])[],
): readonly Case<Input>[] {
  return pairs.map(([input, expected]) => ({ input, expected, ...shared }));
}

/** A table of cases of one formula; `compute` is what is under test. */
export function table<Input>(of: {
  name: string;
  formula: string;
  publication: string;
  range: string;
  unit: string;
  practice?: string;
  compute: (input: Input) => number;
  cases: readonly Case<Input>[];
}): CaseTable {
  const { compute, cases, ...about } = of;
  return {
    ...about,
    outcomes: () =>
      cases.map(({ input, ...rest }) => ({
        label: `${of.formula} ${JSON.stringify(input)}`,
        found: compute(input),
        ...rest,
      })),
  };
}
