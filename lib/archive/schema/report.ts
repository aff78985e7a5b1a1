import { quoted } from '../../units/parse/parsed.ts';
import type { KeyPath, Problem } from '../../units/problem.ts';
import { example } from './examples.ts';
import type { Bounds } from './possible.ts';
import type { Units } from './quantities.ts';

/** Collects what is wrong; `error` and `warn` take found, expected and mend in that order. */
export class Report {
  readonly problems: Problem[] = [];
  readonly units: Units;

  constructor(units: Units) {
    this.units = units;
  }

  /** Words of ours with a figure in them, in the brewer's units. */
  example(metric: string): string {
    return example(this.units, metric);
  }

  error(code: string, path: KeyPath, found: string, expected: string, mend: string): void {
    this.problems.push({ severity: 'error', code, path, found, expected, mend });
  }

  warn(code: string, path: KeyPath, found: string, expected: string, mend: string): void {
    this.problems.push({ severity: 'warning', code, path, found, expected, mend });
  }

  /** A figure that is possible and most unlikely. */
  unusual(
    given: { readonly value: number; readonly written: string } | null | undefined,
    usual: Bounds,
    path: KeyPath,
  ): void {
    if (!given || (given.value >= usual.low && given.value <= usual.high)) return;
    const found = quoted(given.written);
    this.warn('out-of-range', path, found, usual.text[this.units], 'check the figure and its unit');
  }

  add(problems: readonly Problem[]): void {
    this.problems.push(...problems);
  }

  get failed(): boolean {
    return this.problems.some((problem) => problem.severity === 'error');
  }
}
