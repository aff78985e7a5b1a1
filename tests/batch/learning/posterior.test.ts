import { inv, type Matrix, matrix, multiply, transpose } from 'mathjs';
import { describe, expect, it } from 'vitest';
import { learn, learnByShares } from '../../../lib/batch/learning/posterior.ts';
import type { Doubt, Observed } from '../../../lib/batch/types/learning.ts';
import { randomFrom } from './random.ts';

const own = (u: number): Doubt => ({ input: 'mark', effect: u, shared: false });
const shared = (input: string, effect: number): Doubt => ({ input, effect, shared: true });
const observed = (value: number, ...doubts: readonly Doubt[]): Observed => ({
  slug: `at-${value}`,
  brewed: '2026-01-01',
  value,
  u: Math.hypot(...doubts.map(({ effect }) => effect)),
  doubts,
});

/** Generalised least squares with a prior, written out with another library's matrices. */
function byMatrices(
  prior: { value: number; u: number },
  all: readonly Observed[],
): { value: number; u: number } {
  const v = all.map((a, i) =>
    all.map((b, j) => {
      let sum = 0;
      for (const x of a.doubts) {
        if (i === j && !x.shared) sum += x.effect ** 2;
        for (const y of b.doubts) if (x.shared && y.shared && x.input === y.input) sum += x.effect * y.effect;
      }
      return sum;
    }),
  );
  const ones = matrix(all.map(() => [1]));
  const weighted: Matrix = multiply(transpose(ones), inv(matrix(v)));
  const precision = multiply(weighted, ones).get([0, 0]) + 1 / prior.u ** 2;
  const right =
    multiply(weighted, matrix(all.map(({ value }) => [value]))).get([0, 0]) + prior.value / prior.u ** 2;
  return { value: right / precision, u: Math.sqrt(1 / precision) };
}

const PRIOR = { value: 2.5, u: 0.4 };

describe('the posterior', () => {
  it('is the prior where no batch tells anything', () => {
    const learned = learn(PRIOR, []);
    expect(learned).toMatchObject({ ...PRIOR, batches: 0, scatter: 0, withOutliers: null, points: [] });
  });

  it('is the mean weighted by precision for one batch (Gelman et al. 2013, 2.5)', () => {
    const learned = learn(PRIOR, [observed(3, own(0.3))]);
    // (2.5/0.16 + 3/0.09) / (1/0.16 + 1/0.09) and its precision, by hand.
    expect(learned.value).toBeCloseTo(48.9583 / 17.3611, 4);
    expect(learned.u).toBeCloseTo(Math.sqrt(1 / 17.3611), 4);
  });

  it('agrees with matrices of another library, shared doubts and all', () => {
    const all = [
      observed(2.9, own(0.3), shared('scale', 0.1), shared('tin', 0.05)),
      observed(2.4, own(0.25), shared('scale', 0.12)),
      observed(2.7, own(0.4), shared('scale', -0.08), shared('tin', 0.2)),
    ];
    const learned = learn(PRIOR, all);
    const wanted = byMatrices(PRIOR, all);
    // Rounding of two ways to invert the same small matrix.
    expect(learned.value).toBeCloseTo(wanted.value, 8);
    expect(learned.u).toBeCloseTo(wanted.u, 8);
  });

  it('never gets surer than what all batches are out by together', () => {
    const same = Array.from({ length: 40 }, (_, i) =>
      observed(2.5 + 0.001 * i, own(0.2), shared('scale', 0.1)),
    );
    const alone = Array.from({ length: 40 }, (_, i) => observed(2.5 + 0.001 * i, own(0.2)));
    // 1/u² = 1/0.4² + 1/(0.1² + 0.2²/40): the shared doubt stays whole.
    expect(learn(PRIOR, same).u).toBeCloseTo(1 / Math.sqrt(1 / 0.16 + 1 / (0.01 + 0.001)), 3);
    expect(learn(PRIOR, alone).u).toBeLessThan(0.04);
  });
});

describe('an outlier', () => {
  const good = [2.9, 3.1, 3, 2.8, 3.2, 3.05].map((value) => observed(value, own(0.2)));
  const learned = learn(PRIOR, [...good, observed(6, own(0.2))]);

  it('is named, kept in sight, and the figure is shown with and without it', () => {
    expect(learned.points.filter(({ outlier }) => outlier).map(({ value }) => value)).toEqual([6]);
    expect(Math.abs(learned.points.at(-1)!.residual)).toBeGreaterThan(3);
    expect(learned.batches).toBe(6);
    expect(learned.points).toHaveLength(7);
    expect(learned.value).toBeCloseTo(learn(PRIOR, good).value, 12);
    // With it in, the batches scatter so much that they say less, and the setup's figure more.
    expect(Math.abs(learned.withOutliers!.value - learned.value)).toBeGreaterThan(0.05);
    expect(learned.withOutliers!.u).toBeGreaterThan(2 * learned.u);
  });

  it('is one batch that contradicts the setup, too, and then the setup stands', () => {
    const alone = learn(PRIOR, [observed(6, own(0.2))]);
    expect(alone).toMatchObject({ batches: 0, value: PRIOR.value });
    expect(alone.points[0]!.outlier).toBe(true);
  });

  it('is not what several batches say against the setup: they win', () => {
    const all = [4.4, 4.5, 4.6, 4.5].map((value) => observed(value, own(0.2)));
    const moved = learn(PRIOR, all);
    expect(moved.batches).toBe(4);
    expect(moved.value).toBeGreaterThan(4);
  });

  it('is none of a crowd that disagrees among itself: then all count, and the spread is told', () => {
    const crowd = [1, 1.05, 3, 3.05, 5, 5.05].map((value) => observed(value, own(0.05)));
    const spread = learn({ value: 3, u: 3 }, crowd);
    expect(spread.batches).toBe(6);
    expect(spread.scatter).toBeGreaterThan(1);
  });
});

describe('scatter from batch to batch', () => {
  it('is found where there is some, and widens what the next brew may do', () => {
    const random = randomFrom(7);
    const all = Array.from({ length: 40 }, () => observed(random.normal(3, 0.5), own(0.1)));
    const learned = learn(PRIOR, all);
    // 0.5 drawn, known to 1/√(2·39) = 11 % from forty: within three of these.
    expect(learned.scatter).toBeGreaterThan(0.33);
    expect(learned.scatter).toBeLessThan(0.67);
    expect(learned.next_u).toBeGreaterThan(4 * learned.u);
  });

  it('leaves intervals honest: 85 to 95 of a hundred hold the mean', () => {
    let inside = 0;
    for (let seed = 0; seed < 500; seed++) {
      const random = randomFrom(9000 + seed);
      const truth = random.normal(PRIOR.value, PRIOR.u);
      const all = Array.from({ length: 10 }, () =>
        observed(random.normal(random.normal(truth, 0.2), 0.3), own(0.3)),
      );
      const learned = learn(PRIOR, all);
      if (Math.abs(learned.value - truth) <= 1.645 * learned.u) inside++;
    }
    expect(inside / 500).toBeGreaterThanOrEqual(0.85);
    expect(inside / 500).toBeLessThanOrEqual(0.95);
  });
});

describe('learning by shares', () => {
  it('takes the geometric mean: twice and half as much cancel', () => {
    const half = (value: number) => observed(value, own(0.5 * value));
    const learned = learnByShares({ value: 2, u: 20 }, [half(1), half(4)]);
    // ln 1 and ln 4 are as far from ln 2, each with the same share: the middle is 2.
    expect(learned.value).toBeCloseTo(2, 2);
    expect(learned.points.map(({ value }) => value)).toEqual([1, 4]);
  });

  it('leaves out what no time and no power can be', () => {
    expect(learnByShares({ value: 2, u: 1 }, [observed(-1, own(0.1))])).toMatchObject({
      batches: 0,
      value: 2,
    });
  });
});
