import type { Dimension, Units } from '../../units/dimension.ts';
import { formatSample } from '../../units/format/format.ts';
import { quoted } from '../../units/parse/parsed.ts';
import type { Bounds } from '../../units/parse/possible.ts';
import { Findings, type KeyPath, type Problem } from '../../units/problem.ts';
import { SCHEMA_PROBLEMS } from './codes.ts';

/** What is wrong with a file, or with what is below one of its keys. */
export class Report extends Findings<typeof SCHEMA_PROBLEMS> {
  readonly units: Units;

  constructor(units: Units, root?: KeyPath, problems?: Problem[]) {
    super(SCHEMA_PROBLEMS, root, problems);
    this.units = units;
  }

  /** The same report for what is below a key; paths then begin there. */
  below(...path: KeyPath): Report {
    return new Report(this.units, [...this.root, ...path], this.problems);
  }

  /** A sample of ours in the brewer's units. */
  text(value: number, dimension: Dimension): string {
    return formatSample(value, dimension, this.units);
  }

  /** A figure that is possible and most unlikely. */
  unusual(
    given: { readonly value: number; readonly written: string } | null | undefined,
    usual: Bounds,
    ...path: KeyPath
  ): void {
    if (!given || (given.value >= usual.low && given.value <= usual.high)) return;
    const facts = { text: quoted(given.written), possible: usual.text[this.units] };
    this.warn('out-of-range', path, { ...facts, figure: 'figure and its unit' });
  }
}
