import { expect, it } from 'vitest';
import { formatProblem } from '../../lib/archive/problem-text.ts';

it('no sign from a file reaches a terminal that would obey it, and the mend names the sign', () => {
  const text = formatProblem({
    severity: 'error',
    code: 'bad-slug',
    path: ['title'],
    found: '"\u001b[2J"',
    expected: 'a word',
    mend: 'leave out "\u202e"',
    file: 'batches/\u009bb.md',
    line: 1,
    column: 1,
  });
  expect(text).toBe(
    [
      'batches/<U+009B>b.md:1:1  title  [bad-slug]',
      '  found     "<U+001B>[2J"',
      '  expected  a word',
      '  mend      leave out "<U+202E>"',
    ].join('\n'),
  );
});
