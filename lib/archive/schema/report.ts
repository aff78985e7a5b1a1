import type { Units } from '../../units/dimension.ts';
import { quoted } from '../../units/parse/parsed.ts';
import { Findings, type KeyPath } from '../../units/problem.ts';
import { example } from './examples.ts';
import type { Bounds } from './possible.ts';

export class Report extends Findings {
  readonly units: Units;

  constructor(units: Units) {
    super();
    this.units = units;
  }

  /** Words of ours with a figure in them, in the brewer's units. */
  example(metric: string): string {
    return example(this.units, metric);
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
}
