/** What is wrong with something a brewer wrote, as data; `lib/archive` adds file, line and column. */

export type KeyPath = readonly (string | number)[];

export interface Problem {
  readonly severity: 'error' | 'warning';
  /** Permanent; the site lists every code under *Messages*. */
  readonly code: string;
  /** The key in the brewer's file, `['recipe', 'hops', 1, 'add']`. */
  readonly path: KeyPath;
  readonly found: string;
  readonly expected: string;
  readonly mend: string;
}

/** `recipe.hops[1].add`, as people read it. */
export function pathText(path: KeyPath): string {
  let text = '';
  for (const part of path) text += typeof part === 'number' ? `[${part}]` : text === '' ? part : `.${part}`;
  return text;
}

export const errorAt = (
  code: string,
  path: KeyPath,
  found: string,
  expected: string,
  mend: string,
): Problem => ({ severity: 'error', code, path, found, expected, mend });

/** Collects what is wrong: the code, the key, then found, expected and mend. */
export class Findings<Code extends string = string> {
  readonly problems: Problem[];
  /** The keys that every path begins with. */
  readonly root: KeyPath;

  constructor(root: KeyPath = [], problems: Problem[] = []) {
    this.root = root;
    this.problems = problems;
  }

  error(code: Code, path: KeyPath, found: string, expected: string, mend: string): void {
    this.problems.push(errorAt(code, [...this.root, ...path], found, expected, mend));
  }

  warn(code: Code, path: KeyPath, found: string, expected: string, mend: string): void {
    const problem = errorAt(code, [...this.root, ...path], found, expected, mend);
    this.problems.push({ ...problem, severity: 'warning' });
  }

  add(problems: readonly Problem[]): void {
    this.problems.push(...problems);
  }

  get failed(): boolean {
    return this.problems.some(({ severity }) => severity === 'error');
  }
}
