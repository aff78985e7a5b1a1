/**
 * How near the formulas come to what is published, worked out from the tables of cases.
 *
 * Pure: it runs the cases and returns rows and text; it writes nothing.
 */
import { caseFiles } from './all-cases.ts';
import type { CaseTable, Outcome } from './case.ts';

/** One formula against one source. */
export interface AccuracyRow {
  readonly name: string;
  readonly formula: string;
  /** What the formula is from. */
  readonly publication: string;
  readonly range: string;
  readonly unit: string;
  readonly largestError: number;
  /** What it was checked against, how far that can be traced, and by how many figures. */
  readonly against: string;
  readonly provenance: string;
  readonly checks: number;
  /** What a brewer may expect in practice; null where the table says nothing of it. */
  readonly practice: string | null;
}

function rowsOf(table: CaseTable): readonly AccuracyRow[] {
  const bySource = new Map<string, Outcome[]>();
  for (const outcome of table.outcomes()) {
    const others = bySource.get(outcome.source);
    if (others === undefined) bySource.set(outcome.source, [outcome]);
    else others.push(outcome);
  }
  return [...bySource].map(([against, outcomes]) => ({
    name: table.name,
    formula: table.formula,
    publication: table.publication,
    range: table.range,
    unit: table.unit,
    largestError: Math.max(...outcomes.map(({ found, expected }) => Math.abs(found - expected))),
    against,
    provenance: outcomes[0]!.provenance,
    checks: outcomes.length,
    practice: table.practice ?? null,
  }));
}

/** Every formula against every source that it is checked by, in the order of a brew day. */
export function accuracyRows(): readonly AccuracyRow[] {
  return Object.values(caseFiles).flatMap((tables) => tables.flatMap(rowsOf));
}

/** An error with two digits, rounded up so that it never looks smaller; below a billionth it is 0. */
export function errorText(error: number): string {
  if (error < 1e-9) return '0';
  const step = 10 ** (Math.floor(Math.log10(error)) - 1);
  const rounded = Math.ceil(error / step - 1e-9) * step;
  const decimals = Math.max(0, -Math.floor(Math.log10(rounded)) + 1);
  return rounded.toFixed(decimals);
}

/** The rows that a README has room for: the formulas that a brewer meets. */
export function accuracyHeadlines(): readonly AccuracyRow[] {
  return accuracyRows().filter(({ practice }) => practice !== null);
}

function lineOf(row: AccuracyRow): string {
  const figures = row.checks === 1 ? 'one figure' : `${row.checks} figures`;
  const cells = [
    row.name,
    row.publication,
    row.range,
    `${errorText(row.largestError)} ${row.unit}`,
    `${figures}: ${row.against} [${row.provenance}]`,
    row.practice ?? '',
  ];
  return `| ${cells.map((text) => text.replaceAll('|', '\\|')).join(' | ')} |`;
}

/** Rows as a Markdown table; all of them where none are given. */
export function accuracyMarkdown(rows: readonly AccuracyRow[] = accuracyRows()): string {
  return [
    '| Formula | From | Range | Largest error found | Checked against | In practice |',
    '| --- | --- | --- | --- | --- | --- |',
    ...rows.map(lineOf),
    '',
  ].join('\n');
}
