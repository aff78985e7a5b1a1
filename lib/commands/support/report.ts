import { formatProblem } from '../../archive/problem-text.ts';
import type { LocatedProblem } from '../../archive/yaml/located.ts';
import type { LoadedSite } from '../../site/archive.ts';

/** `1 warning`, `3 warnings`. */
export const counted = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** Prints every problem: errors first, then warnings in the same form, each by file and line. */
export function printProblems(problems: readonly LocatedProblem[]): void {
  for (const severity of ['error', 'warning'] as const) {
    for (const problem of problems)
      if (problem.severity === severity) console.log(`${formatProblem(problem)}\n`);
  }
}

export const hasErrors = (problems: readonly LocatedProblem[]): boolean =>
  problems.some(({ severity }) => severity === 'error');

/** `19 batch files: 17 fine, 2 with errors, 3 warnings`. */
export function summary({ content, failed, problems }: LoadedSite): string {
  const fine = content.entries.length;
  const parts = [`${fine} fine`];
  if (failed.length > 0) parts.push(`${failed.length} with errors`);
  const batches = problems.filter(({ severity }) => severity === 'error').filter(isInBatch).length;
  const elsewhere = problems.filter(({ severity }) => severity === 'error').length - batches;
  if (elsewhere > 0) parts.push(`${counted(elsewhere, 'error')} in other files`);
  const warnings = problems.filter(({ severity }) => severity === 'warning').length;
  if (warnings > 0) parts.push(counted(warnings, 'warning'));
  return `${counted(fine + failed.length, 'batch file')}: ${parts.join(', ')}`;
}

const isInBatch = ({ file }: LocatedProblem): boolean => /(^|\/)batches\/[^/]+\.md$/i.test(file);
