/** Bayes' rule for one figure of the setup: its own as the prior, each batch as an observation. */

import { type Estimate, type Learned, type Observed, OUTLIER_SIGMAS, type Point } from '../types/learning.ts';
import { inverse, type Vector, zeros } from '../uncertainty/cholesky.ts';

/** Fewer batches than this tell nothing of how far they differ from day to day. */
const LEAST_FOR_SCATTER = 4;
/** Where more than this share sticks out, the batches disagree among themselves and none of them is left out. */
const MOST_OUTLIERS = 1 / 3;

/** An observation as a row of the linear model: value = figure + Σ effect × shared doubt + own error. */
interface Row {
  readonly value: number;
  /** 1 for the figure, then the effects of the shared doubts. */
  readonly h: Vector;
  /** Variance of its own doubts, and of all. */
  readonly own: number;
  readonly all: number;
}

interface Fit {
  readonly estimate: Estimate;
  readonly covariance: readonly Vector[];
  /** Value less fit, by row. */
  readonly left: readonly number[];
  /** Σ residual²/variance + Σ shared doubt². */
  readonly misfit: number;
}

/**
 * The posterior of a figure given all its batches.
 *
 * Formula: the conjugate normal update. Figure θ ~ N(prior, u²), shared doubts z ~ N(0, 1), each batch
 *   xᵢ = θ + Σ sᵢₖ zₖ + eᵢ, eᵢ ~ N(0, rᵢ + scatter²); posterior precision = prior precision + Σ h hᵀ/r. Doubts that
 *   batches share do not average out. A batch further than three combined standard uncertainties from what the prior and all the
 *   others say is an outlier; the furthest is left out first, and the rest are judged again. Scatter from batch to batch
 *   is what brings the misfit down to its degrees of freedom.
 * Source: Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, 2.5 and 14.2 (from memory); leave-one-out residuals eᵢ/(1 − hᵢ)
 *   (Cook & Weisberg 1982, from memory); scatter by Paule & Mandel 1982, J. Res. NBS 87:377 (from memory).
 * Range: prior u above 0; no observation gives the prior.
 * Cases: tests/batch/learning/posterior.test.ts, tests/batch/learning/coverage.long.test.ts.
 */
export function learn(prior: Estimate, observed: readonly Observed[]): Learned {
  const rows = rowsOf(observed);
  let out: ReadonlySet<number> = new Set();
  for (let next = stickingOut(rows, out, prior); next !== null; next = stickingOut(rows, out, prior)) {
    out = new Set([...out, next]);
    // A single batch against the setup's figure can be named; of several, no more than a third.
    if (out.size > Math.max(1, Math.floor(rows.length * MOST_OUTLIERS))) {
      out = new Set();
      break;
    }
  }
  const scatter = scatterOf(rows.filter((_, i) => !out.has(i)));
  const found = conditioned(rows, out, prior, scatter);
  const points = observed.map((one, i): Point => {
    const residual = sigmasOff(rows, found, i, out, scatter);
    const { slug, brewed, value, u } = one;
    return { slug, brewed, value, u, residual, outlier: out.has(i) };
  });
  return {
    ...found.estimate,
    next_u: Math.hypot(found.estimate.u, scatter),
    scatter,
    prior,
    batches: rows.length - out.size,
    points,
    withOutliers: out.size === 0 ? null : conditioned(rows, new Set(), prior, scatterOf(rows)).estimate,
  };
}

/**
 * `learn` for a figure that is uncertain by shares rather than by amounts: a power, a time.
 *
 * Formula: the same update of the logarithms, u of a logarithm being u/value. On the plain scale a reading that is low by
 *   chance would also claim to be sharp, and the figure would lean low.
 * Source: as `learn`; the law of propagation for the logarithm (JCGM 100, 5.1.6, note).
 * Range: values above 0; others are left out.
 * Cases: tests/batch/learning/posterior.test.ts, tests/batch/learning/coverage.long.test.ts.
 */
export function learnByShares(prior: Estimate, observed: readonly Observed[]): Learned {
  const possible = observed.filter(({ value }) => value > 0);
  const logs = possible.map((one): Observed => {
    const doubts = one.doubts.map((doubt) => ({ ...doubt, effect: doubt.effect / one.value }));
    return { ...one, value: Math.log(one.value), u: one.u / one.value, doubts };
  });
  const learned = learn({ value: Math.log(prior.value), u: prior.u / prior.value }, logs);
  const back = ({ value, u }: Estimate): Estimate => ({ value: Math.exp(value), u: Math.exp(value) * u });
  const value = Math.exp(learned.value);
  return {
    ...learned,
    value,
    u: value * learned.u,
    next_u: value * learned.next_u,
    scatter: value * learned.scatter,
    prior,
    points: learned.points.map((point, i) => ({
      ...point,
      value: possible[i]!.value,
      u: possible[i]!.u,
    })),
    withOutliers: learned.withOutliers === null ? null : back(learned.withOutliers),
  };
}

/** A shared doubt below this share of the whole is counted as the batch's own: its covariance is below half a per cent. */
const LEAST_SHARED = 0.07;

function rowsOf(all: readonly Observed[]): Row[] {
  const observed = all.map(({ value, u, doubts }) => ({
    value,
    doubts: doubts.map((one) => ({
      ...one,
      shared: one.shared && Math.abs(one.effect) > LEAST_SHARED * u,
    })),
  }));
  const names = [
    ...new Set(observed.flatMap(({ doubts }) => doubts.filter((d) => d.shared).map((d) => d.input))),
  ];
  const index = new Map(names.map((name, k) => [name, k + 1]));
  return observed.map(({ value, doubts }) => {
    const h = zeros(names.length + 1);
    h[0] = 1;
    let own = 0;
    for (const { input, effect, shared } of doubts) {
      if (shared) h[index.get(input)!]! += effect;
      else own += effect * effect;
    }
    return { value, h, own, all: own + h.slice(1).reduce((sum, s) => sum + s * s, 0) };
  });
}

/** Smallest own variance, relative to the whole, so that a batch whose doubts are all shared stays a number. */
const LEAST_OWN = 1e-6;
const varianceOf = ({ own, all }: Row, scatter: number): number =>
  Math.max(own, LEAST_OWN * all) + scatter * scatter;

function conditioned(rows: readonly Row[], out: ReadonlySet<number>, prior: Estimate, scatter: number): Fit {
  const size = rows[0]?.h.length ?? 1;
  const precision = Array.from({ length: size }, (_, i) => {
    const line = zeros(size);
    line[i] = i === 0 ? 1 / prior.u ** 2 : 1;
    return line;
  });
  // Measured from the prior, so that its own term needs no right-hand side.
  const right = zeros(size);
  rows.forEach((row, r) => {
    if (out.has(r)) return;
    const weight = 1 / varianceOf(row, scatter);
    for (let i = 0; i < size; i++) {
      right[i]! += weight * row.h[i]! * (row.value - prior.value);
      for (let j = 0; j < size; j++) precision[i]![j]! += weight * row.h[i]! * row.h[j]!;
    }
  });
  const covariance = inverse(precision);
  const mean = covariance.map((line) => line.reduce((sum, p, j) => sum + p * right[j]!, 0));
  let misfit = 0;
  for (let k = 1; k < size; k++) misfit += mean[k]! ** 2;
  const left = rows.map(
    ({ value, h }) => value - prior.value - h.reduce((sum, s, i) => sum + s * mean[i]!, 0),
  );
  rows.forEach((row, r) => {
    if (!out.has(r)) misfit += (left[r]! * left[r]!) / varianceOf(row, scatter);
  });
  const estimate = { value: prior.value + mean[0]!, u: Math.sqrt(covariance[0]![0]!) };
  return { estimate, covariance, left, misfit };
}

/**
 * Distance of a batch from what the prior and all others that count say, in combined standard uncertainties: for one that
 * is in the fit by its leverage, as if it had been left out.
 */
function sigmasOff(
  rows: readonly Row[],
  { covariance, left }: Fit,
  i: number,
  out: ReadonlySet<number>,
  scatter: number,
): number {
  const row = rows[i]!;
  const variance = varianceOf(row, scatter);
  const leverage = quadratic(covariance, row.h) / variance;
  return left[i]! / Math.sqrt(variance * (out.has(i) ? 1 + leverage : Math.max(1 - leverage, 1e-12)));
}

/** The batch that is furthest off, where it is too far off; the scatter that it is held against is that of the others. */
function stickingOut(rows: readonly Row[], out: ReadonlySet<number>, prior: Estimate): number | null {
  const scatter = scatterOf(rows.filter((_, i) => !out.has(i)));
  const found = conditioned(rows, out, prior, scatter);
  const off = rows.map((_, i) => (out.has(i) ? 0 : Math.abs(sigmasOff(rows, found, i, out, scatter))));
  const furthest = Math.max(0, ...off);
  // Without scatter to inflate the spread, leaving it out could not bring it further off.
  if (scatter === 0 && furthest <= OUTLIER_SIGMAS) return null;
  const worst = off.indexOf(furthest);
  const without = new Set([...out, worst]);
  const others = scatterOf(rows.filter((_, i) => !without.has(i)));
  const alone = conditioned(rows, without, prior, others);
  return Math.abs(sigmasOff(rows, alone, worst, without, others)) > OUTLIER_SIGMAS ? worst : null;
}

/** A prior that says nothing, in terms of what the batches themselves spread over. */
function vague(rows: readonly Row[]): Estimate {
  const values = rows.map(({ value }) => value);
  const largest = Math.max(...rows.map((row) => Math.sqrt(varianceOf(row, 0))));
  const u = 1e3 * (Math.max(...values) - Math.min(...values) + largest);
  return { value: values[0]!, u };
}

function scatterOf(rows: readonly Row[]): number {
  if (rows.length < LEAST_FOR_SCATTER) return 0;
  const prior = vague(rows);
  const none: ReadonlySet<number> = new Set();
  const excess = (scatter: number) => conditioned(rows, none, prior, scatter).misfit - (rows.length - 1);
  if (excess(0) <= 0) return 0;
  let low = 0;
  let high = prior.u / 1e3;
  // The misfit falls as the scatter grows; sixteen halvings settle it below any figure printed.
  for (let step = 0; step < 16; step++) {
    const middle = (low + high) / 2;
    if (excess(middle) > 0) low = middle;
    else high = middle;
  }
  return high;
}

function quadratic(matrix: readonly Vector[], h: Vector): number {
  let sum = 0;
  for (let i = 0; i < h.length; i++) for (let j = 0; j < h.length; j++) sum += h[i]! * matrix[i]![j]! * h[j]!;
  return sum;
}
