/** How often our own predictions held: readings against the range that was printed before them. */
import type { Plan } from '../types/plan.ts';
import type { TargetKey } from '../types/targets.ts';

export interface Held {
  readonly target: TargetKey;
  readonly inside: number;
  readonly readings: number;
  /** 90 % interval of the share that falls inside in the long run. */
  readonly low: number;
  readonly high: number;
}

export interface Calibration {
  readonly inside: number;
  readonly readings: number;
  /** With a reading that counts. */
  readonly batches: number;
  readonly low: number;
  readonly high: number;
  /** Targets that were read, most often read first. */
  readonly targets: readonly Held[];
}

/** Two-sided 90 %: the 95th percentile of the normal distribution. */
const Z_90 = 1.6448536269514722;
/** *fine between* is ± 2 standard uncertainties, rounded outward: so many readings of a hundred at the least. */
export const PROMISED_SHARE = 0.95;

/**
 * Interval of a share from counts.
 *
 * Formula: (p + z²/2n ± z √(p(1 − p)/n + z²/4n²)) / (1 + z²/n).
 * Source: Wilson 1927, J. Am. Stat. Assoc. 22:209 (from memory).
 * Range: 0 ≤ hits ≤ n; n = 0 gives 0 to 1.
 * Uncertainty: covers within about two per cent of its nominal 90 % from n = 10 on.
 * Cases: tests/batch/learning/calibration.test.ts.
 */
export function shareInterval(hits: number, n: number): { readonly low: number; readonly high: number } {
  if (n === 0) return { low: 0, high: 1 };
  const p = hits / n;
  const z2 = Z_90 * Z_90;
  const middle = p + z2 / (2 * n);
  const half = Z_90 * Math.sqrt((p * (1 - p)) / n + z2 / (4 * n * n));
  return {
    low: Math.max(0, (middle - half) / (1 + z2 / n)),
    high: Math.min(1, (middle + half) / (1 + z2 / n)),
  };
}

const total = (counts: ReadonlyMap<TargetKey, { readonly readings: number }>): number =>
  [...counts.values()].reduce((sum, { readings }) => sum + readings, 0);

/** Counts, over plans with readings, how many fell inside *fine between*; a reading that was not taken counts in none. */
export function calibration(plans: readonly Plan[]): Calibration {
  const counts = new Map<TargetKey, { inside: number; readings: number }>();
  let batches = 0;
  for (const plan of plans) {
    const before = total(counts);
    for (const { target, verdict } of Object.values(plan.readings)) {
      if (target === null || verdict === null || verdict === 'not_taken') continue;
      const count = counts.get(target) ?? { inside: 0, readings: 0 };
      count.readings++;
      if (verdict === 'fine') count.inside++;
      counts.set(target, count);
    }
    if (total(counts) > before) batches++;
  }
  const targets = [...counts]
    .map(([target, count]): Held => ({ target, ...count, ...shareInterval(count.inside, count.readings) }))
    .sort((a, b) => b.readings - a.readings || a.target.localeCompare(b.target, 'en'));
  const inside = targets.reduce((sum, one) => sum + one.inside, 0);
  const readings = targets.reduce((sum, one) => sum + one.readings, 0);
  return { inside, readings, batches, ...shareInterval(inside, readings), targets };
}
