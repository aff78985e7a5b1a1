import { createHash } from 'node:crypto';
import { planBatch } from '../batch/plan/plan-batch.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Brewery } from '../batch/types/brewery.ts';
import type { UsedFigure } from '../batch/types/learning.ts';
import type { Problem } from '../units/problem.ts';
import type { SiteEntry } from './site.ts';

/** A batch as it was planned: what goes on the site, or nothing, and what was found. */
export interface Planned {
  readonly entry: SiteEntry | null;
  readonly found: readonly Problem[];
}

export type Planner = (
  batch: Batch,
  used: readonly UsedFigure[],
  brewery: Brewery,
  today: string | null,
) => Planned;

/** A plan, and a key of all that it was made from. */
export interface KeptPlan {
  readonly key: string;
  readonly planned: Planned;
}

/** What is kept of plans: of a batch that is what it was, the very same objects come back, with all that is kept by object. */
export interface PlanMemory {
  /** By slug. */
  readonly known: Map<string, KeptPlan>;
  readonly plan: Planner;
  /** A batch as it was read, or the very same object as before where it is equal to that. */
  same(batch: Batch): Batch;
  /** Forgets all batches but these. */
  keepOnly(slugs: ReadonlySet<string>): void;
}

/** Plans a batch, whatever came before. */
export const planAnew: Planner = (batch, used, brewery, today) => {
  const result = planBatch(batch, brewery, today);
  if (!result.ok) return { entry: null, found: result.problems };
  const learned = used.length === 0 ? {} : { learned: used };
  return { entry: { batch, plan: { ...result.plan, ...learned } }, found: result.warnings };
};

/** A memory for one archive, empty or with what was kept of an earlier one. */
export function createPlanMemory(known = new Map<string, KeptPlan>()): PlanMemory {
  const read = new Map<string, Batch>();
  const plan: Planner = (batch, used, brewery, today) => {
    const key = keyOf([batch, used, brewery, today]);
    const last = known.get(batch.slug);
    if (last?.key === key) return last.planned;
    const planned = planAnew(batch, used, brewery, today);
    known.set(batch.slug, { key, planned });
    return planned;
  };
  const same = (batch: Batch): Batch => {
    const last = read.get(batch.slug);
    if (last !== undefined && (last === batch || text(last) === text(batch))) return last;
    read.set(batch.slug, batch);
    return batch;
  };
  const keepOnly = (slugs: ReadonlySet<string>): void => {
    for (const kept of [read, known]) for (const slug of kept.keys()) if (!slugs.has(slug)) kept.delete(slug);
  };
  return { known, plan, same, keepOnly };
}

const text = (value: unknown): string => JSON.stringify(value);
const keyOf = (value: unknown): string => createHash('sha256').update(text(value)).digest('hex');
