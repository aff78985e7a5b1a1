import { OutOfRange } from './range.ts';

/** Far more rounds than any equation here needs: to meet it is a slip of the program. */
const MOST_ROUNDS = 100;

/**
 * Repeats a step from a start until it moves by no more than `within`, and gives where it has come to.
 *
 * For a step that nears its goal, as Newton's does. The goal, the start and `within` are in one unit. Throws
 * OutOfRange where a hundred rounds do not settle it, NaN and the infinities included.
 */
export function settle(start: number, within: number, step: (from: number) => number): number {
  let from = start;
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const to = step(from);
    if (Math.abs(to - from) <= within) return to;
    from = to;
  }
  throw new OutOfRange(`no solution after ${MOST_ROUNDS} rounds from ${start}`);
}
