/** Whatever a brewer writes gives a plan of finite figures, or problems that say where; it never gives a stack. */
import { describe, expect, it } from 'vitest';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Brewery } from '../../../lib/batch/types/brewery.ts';
import { BATCH_PROBLEMS } from '../../../lib/batch/types/problem.ts';
import { randomBatch } from '../random.ts';

const brewery: Brewery = {
  name: 'Test',
  units: 'metric',
  paper: 'a4',
  author: null,
  url: null,
  language: 'en',
};

/** Path of the first number that JSON would turn into null, or of a text that shows one. */
function firstBad(value: unknown, path: string): string | null {
  if (typeof value === 'number') return Number.isFinite(value) ? null : `${path}: ${value}`;
  if (typeof value === 'string') return /NaN|Infinity|undefined/.test(value) ? `${path}: ${value}` : null;
  if (value === undefined) return `${path}: undefined`;
  if (typeof value !== 'object' || value === null) return null;
  for (const [key, inner] of Object.entries(value)) {
    const bad = firstBad(inner, `${path}.${key}`);
    if (bad) return bad;
  }
  return null;
}

/** Plans the recipes of the first seeds. */
export function tryRandomPlans(count: number): void {
  describe(`${count} recipes at random`, () => {
    const results = { plans: 0, refused: 0, read: 0 };
    const faults: string[] = [];

    it('never throws, and gives a plan or located problems', () => {
      for (let seed = 1; seed <= count; seed++) {
        const { batch } = randomBatch(seed);
        const result = planBatch(batch, seed % 2 === 0 ? { ...brewery, units: 'us' } : brewery);
        if (!result.ok) {
          results.refused++;
          if (result.problems.length === 0) faults.push(`${seed}: refused without a problem`);
          for (const { code, path, found, expected, mend } of result.problems) {
            if (!(code in BATCH_PROBLEMS) || path.length === 0)
              faults.push(`${seed}: ${code} at ${path.join('.')}`);
            const bad = firstBad([found, expected, mend], code);
            if (bad) faults.push(`${seed}: ${bad}`);
          }
          continue;
        }
        results.plans++;
        if (result.plan.as_brewed) results.read++;
        const { plan } = result;
        const bad = firstBad(plan, 'plan');
        if (bad) faults.push(`${seed}: ${bad}`);
        for (const [key, figure] of Object.entries(plan.targets)) {
          if (!figure) continue;
          if (/_l$|_kg$|_g$|bottles|packs/.test(key) && figure.printed.low < 0)
            faults.push(`${seed}: ${key} below 0`);
          if (figure.printed.low > figure.value + 1e-9 && figure.value >= 0)
            faults.push(`${seed}: ${key} printed above`);
          if (figure.printed.high < figure.value - 1e-9) faults.push(`${seed}: ${key} printed below`);
          if (!(figure.low <= figure.value && figure.value <= figure.high))
            faults.push(`${seed}: ${key} out of order`);
        }
        for (const { volume_l } of plan.kettle)
          if (!(volume_l > 0)) faults.push(`${seed}: kettle row of ${volume_l} L`);
      }
      expect(faults.slice(0, 20)).toEqual([]);
    });

    it('plans most ordinary recipes and refuses some, so that both ways are tried', () => {
      expect(results.plans + results.refused).toBe(count);
      expect(results.plans).toBeGreaterThan(count / 4);
      expect(results.refused).toBeGreaterThan(count / 10);
      expect(results.read).toBeGreaterThan(count / 20);
    });
  });
}
