import type { KeyPath, Problem } from '../units/problem.ts';

/** Collects what is wrong; `error` and `warn` take found, expected and mend in that order. */
export class Report {
  readonly problems: Problem[] = [];

  error(code: string, path: KeyPath, found: string, expected: string, mend: string): void {
    this.problems.push({ severity: 'error', code, path, found, expected, mend });
  }

  warn(code: string, path: KeyPath, found: string, expected: string, mend: string): void {
    this.problems.push({ severity: 'warning', code, path, found, expected, mend });
  }

  add(problems: readonly Problem[]): void {
    this.problems.push(...problems);
  }

  get failed(): boolean {
    return this.problems.some((problem) => problem.severity === 'error');
  }
}
