/** The posterior of a figure in cases small enough for pencil and paper: what is left out, what scatters, what is shared. */
import { describe, expect, it } from 'vitest';
import { learn, learnByShares } from '../../../lib/batch/learning/posterior.ts';
import type { Doubt, Observed } from '../../../lib/batch/types/learning.ts';

const own = (u: number): Doubt => ({ input: 'mark', effect: u, shared: false });
const together = (effect: number, input = 'scale'): Doubt => ({ input, effect, shared: true });
const observed = (value: number, ...doubts: readonly Doubt[]): Observed => ({
  slug: `at-${value}`,
  brewed: '2026-01-01',
  value,
  u: Math.hypot(...doubts.map(({ effect }) => effect)),
  doubts,
});
const each = (u: number, ...values: readonly number[]) => values.map((value) => observed(value, own(u)));
/** A prior so wide that it says nothing: a millionth of a batch. */
const OPEN = { value: 5, u: 1000 };
const outliers = (of: ReturnType<typeof learn>) =>
  of.points.filter(({ outlier }) => outlier).map(({ value }) => value);

describe('scatter from batch to batch', () => {
  it('is what the batches spread beyond their own doubts: 3, 4.5, 5.5, 7 with ± 1 each', () => {
    const found = learn(OPEN, each(1, 3, 4.5, 5.5, 7));
    // Of equal doubts Paule and Mandel’s is s² − u²: 8.5/3 − 1.
    expect(found.scatter).toBeCloseTo(Math.sqrt(8.5 / 3 - 1), 3);
    // The mean of four is known to s/2.
    expect(found.value).toBeCloseTo(5, 4);
    expect(found.u).toBeCloseTo(Math.sqrt(8.5 / 3) / 2, 3);
    expect(found.next_u).toBeCloseTo(Math.hypot(Math.sqrt(8.5 / 3) / 2, Math.sqrt(8.5 / 3 - 1)), 3);
  });

  it('is not told by three batches', () => {
    const found = learn(OPEN, each(1, 2, 4, 6));
    expect(found.scatter).toBe(0);
    expect(found.next_u).toBe(found.u);
  });

  it('is what is left after the doubt that they share: 3, 3, 7, 7 with ± 0.5 each, moved −1, −1, 1, 1', () => {
    // Half the gap is 2 z of it; 4 (2 − z)² / v + z² is least at 16 / (4 + v), and comes down to 3 at v = 4/3.
    const found = learn(OPEN, [
      observed(3, own(0.5), together(-1)),
      observed(3, own(0.5), together(-1)),
      observed(7, own(0.5), together(1)),
      observed(7, own(0.5), together(1)),
    ]);
    expect(found.scatter).toBeCloseTo(Math.sqrt(4 / 3 - 1 / 4), 3);
  });

  it('keeps a batch in that is far off, but no further than they scatter: 9.5 beside 3, 4.5, 5.5, 7', () => {
    // The four have s = 1.68 about 5: 4.5 is 2.4 of √(1 + 1/4) of that, where ± 1 alone would make it 4.
    expect(outliers(learn(OPEN, each(1, 3, 4.5, 5.5, 7, 9.5)))).toEqual([]);
  });

  it('is none where the batches agree better than they must: 4, 5, 5, 6 with ± 1', () => {
    // s² = 2/3 is below 1.
    const found = learn(OPEN, each(1, 4, 5, 5, 6));
    expect(found.scatter).toBe(0);
    expect(found.u).toBeCloseTo(0.5, 6);
  });
});

describe('how far off a batch is', () => {
  it('is told against the mean of the others: 4 and 6 with ± 1 each are 2 apart, known to √2', () => {
    const found = learn(OPEN, each(1, 4, 6));
    expect(found.points.map(({ residual }) => residual)).toEqual([
      expect.closeTo(-Math.SQRT2, 4),
      expect.closeTo(Math.SQRT2, 4),
    ]);
  });

  it('counts the prior among the others: 3 ± 1 against 1 ± 1', () => {
    const found = learn({ value: 1, u: 1 }, each(1, 3));
    expect(found.value).toBeCloseTo(2, 12);
    expect(found.u).toBeCloseTo(Math.SQRT1_2, 12);
    expect(found.points[0]!.residual).toBeCloseTo(Math.SQRT2, 12);
  });

  it('is told of an outlier too, by the same measure', () => {
    const found = learn({ value: 1, u: 1 }, each(1, 6));
    expect(found.points).toEqual([
      {
        slug: 'at-6',
        brewed: '2026-01-01',
        value: 6,
        u: 1,
        residual: expect.closeTo(5 / Math.SQRT2, 12),
        outlier: true,
      },
    ]);
    expect(found).toMatchObject({ value: 1, u: 1, batches: 0 });
    // With it in, the middle of the two.
    expect(found.withOutliers).toEqual({
      value: expect.closeTo(3.5, 12),
      u: expect.closeTo(Math.SQRT1_2, 12),
    });
  });
});

describe('a batch is left out', () => {
  // Two batches of ± 1: u of the difference is √2 and three of them 4.243.
  it.each([
    [5.24, []],
    [5.25, [5.25]],
  ])('beyond three standard uncertainties from the prior: %f against 1', (value, out) => {
    expect(outliers(learn({ value: 1, u: 1 }, each(1, value)))).toEqual(out);
  });

  it.each([
    [-3.24, []],
    [-3.25, [-3.25]],
  ])('below as well as above: %f against 1', (value, out) => {
    expect(outliers(learn({ value: 1, u: 1 }, each(1, value)))).toEqual(out);
  });

  it('one of five, not two: a third of five is one', () => {
    expect(outliers(learn(OPEN, each(0.1, 5, 5.01, 4.99, 5, 9)))).toEqual([9]);
    // 9 would go first, 7 next.
    expect(outliers(learn(OPEN, each(0.1, 5, 5.01, 4.99, 9, 7)))).toEqual([]);
  });

  it('two of six: a third of six is two', () => {
    const found = learn(OPEN, each(0.1, 5, 5.01, 4.99, 5, 9, 7));
    expect(outliers(found)).toEqual([9, 7]);
    expect(found.batches).toBe(4);
    expect(found.value).toBeCloseTo(5, 4);
    // What was left out does not make the rest scatter.
    expect(found.scatter).toBe(0);
  });

  it('of two, one that the prior contradicts', () => {
    const found = learn({ value: 5, u: 0.5 }, each(0.1, 5, 9));
    expect(outliers(found)).toEqual([9]);
  });
});

describe('a doubt that batches share', () => {
  it('does not average out: of 40 batches with ± 0.1 each and 0.3 in common 0.3 stays', () => {
    const all = Array.from({ length: 40 }, () => observed(5, own(0.1), together(0.3)));
    expect(learn(OPEN, all).u).toBeCloseTo(Math.hypot(0.3, 0.1 / Math.sqrt(40)), 4);
  });

  it('that is below seven hundredths of the whole is taken for the batch’s own', () => {
    const with_ = (effect: number) =>
      learn(
        OPEN,
        Array.from({ length: 40 }, () => observed(5, own(1), together(effect))),
      ).u;
    // 0.069 of ± 1.0024, and 0.071 of ± 1.0025.
    expect(with_(0.069)).toBeCloseTo(Math.hypot(1, 0.069) / Math.sqrt(40), 5);
    expect(with_(-0.071)).toBeCloseTo(Math.hypot(1 / Math.sqrt(40), 0.071), 5);
  });

  it('cancels where it moves two batches against each other', () => {
    // 4 + z and 6 − z: their mean is 5 whatever z is.
    const found = learn(OPEN, [observed(4, own(0.1), together(1)), observed(6, own(0.1), together(-1))]);
    expect(found.value).toBeCloseTo(5, 6);
    expect(found.u).toBeCloseTo(0.1 / Math.SQRT2, 3);
  });

  it('counts by what each cause moves: a tin and a scale are two', () => {
    const found = learn(OPEN, [
      observed(5, own(0.1), together(0.3, 'scale')),
      observed(5, own(0.1), together(0.3, 'tin')),
    ]);
    expect(found.u).toBeCloseTo(Math.hypot(0.1, 0.3) / Math.SQRT2, 4);
  });

  it('of one cause twice in a batch adds up before it is squared', () => {
    const found = learn(OPEN, [observed(5, own(0.4), together(0.2), together(0.1))]);
    expect(found.u).toBeCloseTo(Math.hypot(0.4, 0.3), 4);
  });

  it('alone still leaves a number', () => {
    const found = learn({ value: 5, u: 1 }, [observed(6, together(1))]);
    // The mean of two that are known alike; a millionth is its own.
    expect(found.value).toBeCloseTo(5.5, 5);
    expect(found.u).toBeCloseTo(Math.SQRT1_2, 5);
  });
});

describe('by shares', () => {
  it('a factor is known as its logarithm: 2 ± 10 % and 3 ± 10 %', () => {
    const found = learnByShares({ value: 2, u: 0.2 }, [observed(3, own(0.3))]);
    const value = Math.sqrt(6);
    expect(found.value).toBeCloseTo(value, 12);
    expect(found.u).toBeCloseTo((value * 0.1) / Math.SQRT2, 12);
    expect(found.next_u).toBeCloseTo(found.u, 12);
    expect(found.prior).toEqual({ value: 2, u: 0.2 });
    expect(found.points[0]).toMatchObject({
      value: 3,
      u: 0.3,
      residual: expect.closeTo(Math.log(1.5) / Math.hypot(0.1, 0.1), 12),
    });
    expect(found.withOutliers).toBeNull();
  });

  it('a doubt that is shared is a share too', () => {
    const found = learnByShares({ value: 4, u: 4000 }, [
      observed(4, own(0.4), together(0.8)),
      observed(4, own(0.4), together(0.8)),
    ]);
    expect(found.u).toBeCloseTo(4 * Math.hypot(0.1 / Math.SQRT2, 0.2), 4);
  });

  it('the scatter and the figure with its outlier come back in the figure’s own unit', () => {
    const share = (value: number) => observed(value, own(0.01 * value));
    const spread = [-0.3, -0.1, 0.1, 0.3].map((x) => share(2 * Math.exp(x)));
    const found = learnByShares({ value: 2, u: 2000 }, spread);
    // s² of the logarithms is 0.2/3; the doubt of each is 0.01.
    const scatter = Math.sqrt(0.2 / 3 - 1e-4);
    expect(found.scatter).toBeCloseTo(2 * scatter, 3);
    expect(found.next_u).toBeCloseTo(2 * Math.hypot(scatter, Math.sqrt(0.2 / 3) / 2), 3);
    const alone = learnByShares({ value: 1, u: 0.1 }, [observed(2, own(0.2))]);
    expect(alone.points[0]!.outlier).toBe(true);
    expect(alone.withOutliers).toEqual({
      value: expect.closeTo(Math.SQRT2, 12),
      u: expect.closeTo((Math.SQRT2 * 0.1) / Math.SQRT2, 12),
    });
  });

  it('a value of nothing is left out, as no logarithm has it', () => {
    const found = learnByShares({ value: 2, u: 0.2 }, [observed(0, own(0.1)), observed(2, own(0.2))]);
    expect(found.points.map(({ value }) => value)).toEqual([2]);
    expect(found.batches).toBe(1);
  });
});
