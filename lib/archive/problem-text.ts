import { pathText } from '../units/problem.ts';
import type { LocatedProblem } from './yaml/located.ts';

/** Signs that a terminal obeys instead of showing them, and signs that turn the direction of writing. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const OBEYED = /[\u0000-\u0009\u000b-\u001f\u007f-\u009f\u202a-\u202e\u2066-\u2069]/g;

/** A text from a file or of its name, with its unseen signs named: `<U+202E>`. */
export function visible(text: string): string {
  return text.replace(
    OBEYED,
    (sign) => `<U+${sign.charCodeAt(0).toString(16).toUpperCase().padStart(4, '0')}>`,
  );
}

const LONGEST_KEY = 120;

/** A key path of a sane file is short; a pasted book in the place of a key is not repeated. */
const cut = (key: string): string => (key.length > LONGEST_KEY ? `${key.slice(0, LONGEST_KEY)}…` : key);

/** A problem as it is printed: place, key and code, then what was found, what was expected, and the mend. */
export function formatProblem(problem: LocatedProblem): string {
  const key = cut(pathText(problem.path));
  const head = [`${problem.file}:${problem.line}:${problem.column}`, key, `[${problem.code}]`];
  if (problem.severity === 'warning') head.push('warning');
  const text = [
    head.filter((part) => part !== '').join('  '),
    `  found     ${problem.found}`,
    `  expected  ${problem.expected}`,
    `  mend      ${problem.mend}`,
  ].join('\n');
  return visible(text);
}
