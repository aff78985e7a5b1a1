/** How often the place of each mutant was passed. */
export type Passes = Readonly<Record<string, number>>;

/** What the tests do when nothing is changed in the code. */
export interface DryRun {
  readonly kind: 'dry-run';
  readonly tests: readonly {
    readonly name: string;
    readonly file: number;
    readonly time_ms: number;
    readonly failure: string | null;
  }[];
  /** What is passed while the code itself is loaded. */
  readonly whileLoading: Passes;
  /** What is passed by a test, under its index, or by the body of a test file, under `file` and its place. */
  readonly by: Readonly<Record<string, Passes>>;
}

/** One mutant to try. */
export interface Order {
  readonly kind: 'order';
  readonly mutant: string;
  /** The tests that pass its place, the likeliest to notice it first. */
  readonly tests: readonly number[];
  /** The test files to load anew with the mutant on, should those find nothing: their bodies pass its place. */
  readonly files: readonly number[];
  /** Of those files' tests the ones to run. */
  readonly testsOfFiles: readonly number[];
  /** More passes than this are taken for a loop that does not end. */
  readonly hitLimit: number;
}

/** What became of it. */
export interface Outcome {
  readonly kind: 'outcome';
  readonly killed: boolean;
  /** A test failed without the mutant as well: something was kept from an earlier one, and the process is spoilt. */
  readonly spoilt: boolean;
}
