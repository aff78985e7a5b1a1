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

/** What looking on keeps of plans: of a batch that is what it was, the very same objects come back, with all that is kept by object. */
export interface PlanMemory {
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

/** An empty memory, for one archive. */
export function createPlanMemory(): PlanMemory {
  const read = new Map<string, Batch>();
  const known = new Map<string, Known>();
  const plan: Planner = (batch, used, brewery, today) => {
    const last = known.get(batch.slug);
    if (last !== undefined && isSame(last, { batch, used, brewery, today })) return last.planned;
    const planned = planAnew(batch, used, brewery, today);
    known.set(batch.slug, { batch, used, brewery, today, planned });
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
  return { plan, same, keepOnly };
}

/** What a plan is made from. */
interface From {
  readonly batch: Batch;
  readonly used: readonly UsedFigure[];
  readonly brewery: Brewery;
  readonly today: string | null;
}
type Known = From & { readonly planned: Planned };

const text = (value: unknown): string => JSON.stringify(value);

/** Whether a plan would come out the same. A batch with learned figures is made anew each time, of the same parts. */
function isSame(last: From, now: From): boolean {
  if (last.brewery !== now.brewery && text(last.brewery) !== text(now.brewery)) return false;
  if (last.today !== now.today) return false;
  if (last.batch === now.batch) return true;
  return text([last.batch, last.used]) === text([now.batch, now.used]);
}
