import type { Batch } from '../batch/batch.ts';
import type { Brewery } from '../batch/brewery.ts';
import type { UsedFigure } from '../batch/learning.ts';
import { planBatch } from '../batch/plan-batch.ts';
import type { Problem } from '../units/problem.ts';
import type { SiteEntry } from './site.ts';

/** A batch as it was planned: what goes on the site, or nothing, and what was found. */
export interface Planned {
  readonly entry: SiteEntry | null;
  readonly found: readonly Problem[];
}

export interface Planner {
  (batch: Batch, used: readonly UsedFigure[], brewery: Brewery): Planned;
  /** A batch as it was read, or the very same object as before where it is equal to that. */
  readonly same?: (batch: Batch) => Batch;
}

/** Plans a batch, whatever came before. */
export const planAnew: Planner = (batch, used, brewery) => {
  const result = planBatch(batch, brewery);
  if (!result.ok) return { entry: null, found: result.problems };
  const learned = used.length === 0 ? {} : { learned: used };
  return { entry: { batch, plan: { ...result.plan, ...learned } }, found: result.warnings };
};

/**
 * A planner for looking on while files are written: of a batch that is what it was, the very same objects come back, and with
 * them all that is kept by object.
 */
export function createPlanner(): Planner {
  const read = new Map<string, { readonly key: string; readonly batch: Batch }>();
  const known = new Map<string, { readonly key: string; readonly planned: Planned }>();
  const plan: Planner = (batch, used, brewery) => {
    const key = JSON.stringify([batch, used, brewery]);
    const last = known.get(batch.slug);
    if (last?.key === key) return last.planned;
    const planned = planAnew(batch, used, brewery);
    known.set(batch.slug, { key, planned });
    return planned;
  };
  const same = (batch: Batch): Batch => {
    const key = JSON.stringify(batch);
    const last = read.get(batch.slug);
    if (last?.key === key) return last.batch;
    read.set(batch.slug, { key, batch });
    return batch;
  };
  return Object.assign(plan, { same });
}
