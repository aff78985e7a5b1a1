import type { Mutant } from './bundle-tests.ts';

export interface Result {
  readonly mutant: Mutant;
  readonly state: 'killed' | 'timed-out' | 'survived' | 'not-covered';
}

export const caught = ({ state }: Result): boolean => state === 'killed' || state === 'timed-out';

export const percent = (part: number, whole: number): string =>
  whole === 0 ? '-' : `${((100 * part) / whole).toFixed(1)} %`;

const short = (text: string): string => text.replace(/\s+/g, ' ').slice(0, 90);

/** A line for each file with its score, and under it each mutant that no test noticed; the sum last. */
export function report(results: readonly Result[]): string {
  const files = new Map<string, Result[]>();
  for (const result of results) {
    const { file } = result.mutant;
    files.set(file, [...(files.get(file) ?? []), result]);
  }
  const lines: string[] = [];
  for (const [file, own] of [...files].sort(([a], [b]) => (a < b ? -1 : 1))) {
    const missed = own.filter((result) => !caught(result));
    lines.push(`${file}: ${percent(own.length - missed.length, own.length)} of ${own.length}`);
    for (const { mutant, state } of missed.sort((a, b) => a.mutant.line - b.mutant.line)) {
      const { line, column, original, replacement } = mutant;
      lines.push(`  ${line}:${column} ${state}: ${short(original)}  →  ${short(replacement)}`);
    }
  }
  const killed = results.filter(caught).length;
  lines.push(`All: ${percent(killed, results.length)} of ${results.length} mutants killed`);
  return `${lines.join('\n')}\n`;
}
