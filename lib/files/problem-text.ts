import { pathText } from '../units/problem.ts';
import type { LocatedProblem } from './located.ts';

/** A problem as it is printed: place, key and code, then what was found, what was expected, and the mend. */
export function formatProblem(problem: LocatedProblem): string {
  const key = pathText(problem.path);
  const head = [`${problem.file}:${problem.line}:${problem.column}`, key, `[${problem.code}]`];
  if (problem.severity === 'warning') head.push('warning');
  return [
    head.filter((part) => part !== '').join('  '),
    `  found     ${problem.found}`,
    `  expected  ${problem.expected}`,
    `  mend      ${problem.mend}`,
  ].join('\n');
}
