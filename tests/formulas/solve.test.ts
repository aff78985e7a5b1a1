/** Repeating a step until it moves no more. */
import { describe, expect, it } from 'vitest';
import { settle } from '../../lib/formulas/solve.ts';

describe('settle', () => {
  it('finds where a number is its own cosine: 0.7390851332 (a known constant)', () => {
    expect(settle(1, 1e-12, Math.cos)).toBeCloseTo(0.7390851332, 10);
  });

  it('finds a square root by Newton’s method, from above and from below', () => {
    const newton = (x: number) => x - (x * x - 2) / (2 * x);
    expect(settle(100, 1e-12, newton)).toBeCloseTo(Math.SQRT2, 12);
    expect(settle(0.01, 1e-12, newton)).toBeCloseTo(Math.SQRT2, 12);
  });

  it('ends with the first move that is no larger than asked, and gives where that move led', () => {
    // From 8 by halves: 4, 2, 1; the move from 2 to 1 is the first of at most 1.
    const asked: number[] = [];
    const half = (x: number) => {
      asked.push(x);
      return x / 2;
    };
    expect(settle(8, 1, half)).toBe(1);
    expect(asked).toEqual([8, 4, 2]);
  });

  it('takes a move down for as large as one up', () => {
    expect(settle(-8, 1, (x) => x / 2)).toBe(-1);
  });

  it('gives up after a hundred rounds, and says so', () => {
    let rounds = 0;
    const up = (x: number) => {
      rounds++;
      return x + 1;
    };
    expect(() => settle(7, 0.5, up)).toThrow('no solution after 100 rounds from 7');
    expect(rounds).toBe(100);
    expect(() => settle(7, 0.5, () => Number.NaN)).toThrow(RangeError);
    expect(() => settle(7, 0.5, (x) => x * 1e10)).toThrow(RangeError);
  });
});
