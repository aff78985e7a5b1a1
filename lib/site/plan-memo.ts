import { createHash } from 'node:crypto';
import { sameName } from '../batch/learning/archive.ts';
import { type BatchEvidence, evidenceOf } from '../batch/learning/observe.ts';
import { isShown } from '../batch/learning/use.ts';
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

/** A batch as it is to be planned. */
export interface ToPlan {
  readonly batch: Batch;
  readonly used: readonly UsedFigure[];
}

/** A plan, and keys of all that it was made from: as it was asked for, and as it was planned with what was learned. */
export interface KeptPlan {
  readonly asked: string;
  readonly key: string;
  readonly planned: Planned;
  /** Takes in how the same is planned again, where the plan itself was not kept. */
  readonly again?: (plan: () => Planned) => void;
}

/** A batch as its file has it, and how it is to be planned. */
export interface Asked {
  readonly batch: Batch;
  /** A key of all that may be learned for it. */
  readonly learnedFrom: string;
  readonly learn: () => ToPlan;
  readonly brewery: Brewery;
  readonly today: string | null;
}

/** What is kept of plans: of a batch that is what it was, the very same objects come back, with all that is kept by object. */
export interface PlanMemory {
  /** By slug. */
  readonly known: Map<string, KeptPlan>;
  plan(asked: Asked): Planned;
  /** A batch as it was read, or the very same object as before where it is equal to that. */
  same(batch: Batch): Batch;
  /** Forgets all batches but these. */
  keepOnly(slugs: ReadonlySet<string>): void;
}

/** Plans a batch, whatever came before. */
export function planAnew({ batch, used }: ToPlan, brewery: Brewery, today: string | null): Planned {
  const result = planBatch(batch, brewery, today);
  if (!result.ok) return { entry: null, found: result.problems };
  const learned = used.length === 0 ? {} : { learned: used };
  return { entry: { batch, plan: { ...result.plan, ...learned } }, found: result.warnings };
}

/** Only the next reading of a beer in the fermenter depends on the day: all else stays as it was planned. */
const isUnderWay = ({ readings }: Batch): boolean =>
  readings.abandoned === undefined &&
  (readings.packaged === undefined || readings.packaged === 'not taken') &&
  (readings.pitched ?? readings.original_gravity ?? readings.fermentation) !== undefined;

/** A memory for one archive, empty or with what was kept of an earlier one. */
export function createPlanMemory(known = new Map<string, KeptPlan>()): PlanMemory {
  const read = new Map<string, Batch>();
  return {
    known,
    plan({ batch, learnedFrom, learn, brewery, today }) {
      const day = isUnderWay(batch) ? today : null;
      const asked = keyOf([textKey(batch), learnedFrom, brewery, day]);
      const last = known.get(batch.slug);
      last?.again?.(() => planAnew(learn(), brewery, today));
      if (last?.asked === asked) return last.planned;
      const toPlan = learn();
      const key = keyOf([textKey(toPlan.batch), toPlan.used, brewery, day]);
      const kept =
        last?.key === key ? { ...last, asked } : { asked, key, planned: planAnew(toPlan, brewery, today) };
      known.set(batch.slug, kept);
      return kept.planned;
    },
    same(batch) {
      const last = read.get(batch.slug);
      if (last !== undefined && (last === batch || textKey(last) === textKey(batch))) return last;
      read.set(batch.slug, batch);
      return batch;
    },
    keepOnly(slugs) {
      for (const kept of [read, known])
        for (const slug of kept.keys()) if (!slugs.has(slug)) kept.delete(slug);
    },
  };
}

/** What batches of a setup or with a yeast tell, as a key that goes on from one to the next by their day. */
interface Told {
  readonly day: string;
  readonly before: string;
  readonly now: string;
}

/** For each batch a key of what it may learn from: what those before its day tell of its setup and its yeasts. */
export function learnedFrom(batches: readonly Batch[]): (batch: Batch) => string {
  const keys = new Map<Batch, string>();
  const told = new Map<string, Told>();
  const namesOf = ({ setup, recipe }: Batch): string[] => [
    `setup ${setup.key}`,
    ...recipe.yeast.map(({ name }) => `yeast ${sameName(name)}`),
  ];
  const learns = ({ setup }: Batch): boolean => setup.learned === 'use';
  const wanted = new Set(batches.filter(learns).flatMap(namesOf));
  const dated = batches.flatMap((batch) => (batch.brewed === null ? [] : [{ batch, day: batch.brewed }]));
  for (const { batch, day } of dated.sort((a, b) => a.day.localeCompare(b.day, 'en'))) {
    const names = namesOf(batch);
    const before = (one: Told | undefined) => (one?.day === day ? one.before : one?.now);
    if (learns(batch)) keys.set(batch, keyOf(names.map((name) => before(told.get(name)) ?? '')));
    // It tells of its setup and of its first yeast.
    for (const name of names.slice(0, 2).filter((each) => wanted.has(each))) {
      const last = told.get(name);
      const now = keyOf([last?.now, batch.slug, isShown(batch), tellsOf(batch)]);
      told.set(name, { day, before: before(last) ?? '', now });
    }
  }
  return (batch) => keys.get(batch) ?? '';
}

/** What batches tell of their setup and yeast, each worked back once; kept between runs with the batch. */
export const evidence = new WeakMap<Batch, BatchEvidence>();

export function tellsOf(batch: Batch): BatchEvidence {
  const told = evidence.get(batch) ?? evidenceOf(batch);
  evidence.set(batch, told);
  return told;
}

/** Keys of batches as texts; code that keeps batches between runs may keep this with them. */
export const textKeys = new WeakMap<Batch, string>();

function textKey(batch: Batch): string {
  const key = textKeys.get(batch) ?? keyOf(batch);
  textKeys.set(batch, key);
  return key;
}

const keyOf = (value: unknown): string => createHash('sha256').update(JSON.stringify(value)).digest('hex');
