/** Repeating a step until it moves no more. */
import { describe, expect, it, vi } from 'vitest';
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
    const half = vi.fn((x: number) => x / 2);
    expect(settle(8, 1, half)).toBe(1);
    expect(half.mock.calls).toEqual([[8], [4], [2]]);
  });

  it('takes a move down for as large as one up', () => {
    expect(settle(-8, 1, (x) => x / 2)).toBe(-1);
  });

  it('gives up after a hundred rounds, and says so', () => {
    const up = vi.fn((x: number) => x + 1);
    expect(() => settle(7, 0.5, up)).toThrow(new RangeError('no solution after 100 rounds from 7'));
    expect(up).toHaveBeenCalledTimes(100);
    expect(() => settle(7, 0.5, () => Number.NaN)).toThrow(RangeError);
    expect(() => settle(7, 0.5, (x) => x * 1e10)).toThrow(RangeError);
  });
});
