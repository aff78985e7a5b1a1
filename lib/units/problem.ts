/** What is wrong with something a brewer wrote, as data; `lib/archive` adds file, line and column. */

export type KeyPath = readonly (string | number)[];

/** What is said of one problem. */
export interface Said<Code extends string = string> {
  /** Permanent; the site lists every code under *Messages*. */
  readonly code: Code;
  readonly found: string;
  readonly expected: string;
  readonly mend: string;
}

export interface Problem extends Said {
  readonly severity: 'error' | 'warning';
  /** The key in the brewer's file, `['recipe', 'hops', 1, 'add']`. */
  readonly path: KeyPath;
}

/** Words with `{name}` for a fact, which each problem brings. Of several wordings the first is said whose facts are all known. */
type Words = string | readonly string[];
/** A code in words: what it means, then what is said of one. A fact that only tells wordings apart is an empty text. */
export type Row = readonly [means: string, found: Words, expected: Words, mend: Words];
/** Every code of a layer with its words. Codes are permanent. */
export type Catalogue = Readonly<Record<string, Row>>;

type Fact = string | number;
type Wording<W extends Words> = W extends readonly string[] ? W[number] : W;
type NameIn<W> = W extends `${string}{${infer Name}}${infer Rest}` ? Name | NameIn<Rest> : never;
type FactsIn<W> = W extends string ? Readonly<Record<NameIn<W>, Fact>> : never;
type FactsOf<R extends Row> = FactsIn<Wording<R[1]>> & FactsIn<Wording<R[2]>> & FactsIn<Wording<R[3]>>;
/** Of a code that may be one of several, the facts of each. */
type FactsOfEach<R extends Row> = (R extends Row ? (facts: FactsOf<R>) => void : never) extends (
  facts: infer Facts,
) => void
  ? Facts
  : never;
/** What a call gives beside the code: nothing where the row has no facts. */
export type Facts<R extends Row> = [NameIn<Wording<R[1] | R[2] | R[3]>>] extends [never]
  ? []
  : object extends FactsOfEach<R>
    ? [facts?: FactsOfEach<R>]
    : [facts: FactsOfEach<R>];

const FACT = /\{(\w+)\}/g;

/** The words of a code with the facts of one problem. */
export function say<R extends Catalogue, C extends keyof R & string>(
  rows: R,
  code: C,
  ...given: Facts<R[C]>
): Said<C> {
  const [facts = {}] = given as readonly Readonly<Record<string, Fact | undefined>>[];
  const isKnown = (words: string) =>
    [...words.matchAll(FACT)].every(([, name]) => facts[name!] !== undefined);
  // All facts at once: a brace in a brewer's own text is no fact.
  const said = (words: Words): string =>
    wordings(words)
      .find(isKnown)!
      .replace(FACT, (_, name: string) => String(facts[name]));
  const [, found, expected, mend] = rows[code]!;
  return { code, found: said(found), expected: said(expected), mend: said(mend) };
}

const wordings = (words: Words): readonly string[] => (typeof words === 'string' ? [words] : words);

/** What a code means, and the mend in general: "…" for a fact, nothing for an addition to a word or for little but a fact. */
export function inGeneral([meaning, , , mend]: Row): { readonly meaning: string; readonly mend: string } {
  const mends = wordings(mend).filter((words) => !/^(\w+ ){0,3}"?\{\w+\}"?$/.test(words));
  const general = (words: string) => words.replace(/\{\w+\}(?=\w)|(?<=\w)\{\w+\}/g, '').replace(FACT, '…');
  return { meaning, mend: mends.map(general).join('; or ') };
}

/** `recipe.hops[1].add`, as people read it. */
export function pathText(path: KeyPath): string {
  let text = '';
  for (const part of path) text += typeof part === 'number' ? `[${part}]` : text === '' ? part : `.${part}`;
  return text;
}

export const errorAt = (path: KeyPath, { code, found, expected, mend }: Said): Problem => ({
  severity: 'error',
  code,
  path,
  found,
  expected,
  mend,
});

export const warningAt = (path: KeyPath, said: Said): Problem => ({
  ...errorAt(path, said),
  severity: 'warning',
});

/** Collects what is wrong: the code, the key, then the facts. */
export class Findings<R extends Catalogue> {
  readonly problems: Problem[];
  /** The keys that every path begins with. */
  readonly root: KeyPath;
  readonly #rows: R;

  constructor(rows: R, root: KeyPath = [], problems: Problem[] = []) {
    this.#rows = rows;
    this.root = root;
    this.problems = problems;
  }

  error<C extends keyof R & string>(code: C, path: KeyPath, ...facts: Facts<R[C]>): void {
    this.problems.push(errorAt([...this.root, ...path], say(this.#rows, code, ...facts)));
  }

  warn<C extends keyof R & string>(code: C, path: KeyPath, ...facts: Facts<R[C]>): void {
    this.problems.push(warningAt([...this.root, ...path], say(this.#rows, code, ...facts)));
  }

  add(problems: readonly Problem[]): void {
    this.problems.push(...problems);
  }

  get failed(): boolean {
    return this.problems.some(({ severity }) => severity === 'error');
  }
}
