import type { z } from 'zod';
import type { Problem } from '../../units/problem.ts';
import type { TimetableRow } from './acts.ts';
import type { Judgment } from './judgment.ts';
import type { planSchema } from './plan-schema.ts';
import type { TargetKey } from './targets.ts';

type DeepReadonly<T> = T extends object ? { readonly [K in keyof T]: DeepReadonly<T[K]> } : T;

/** Everything computed for a batch, in SI-based units: the shape of `plan.json`, which `plan-schema.ts` describes key by key. */
export type PublishedPlan = DeepReadonly<z.output<typeof planSchema>>;

/** The same with what is done as acts and amounts, and what is said of readings as codes and facts, which words are made of once. */
export type Plan = Omit<PublishedPlan, 'timetable' | 'judgments'> & {
  readonly timetable: readonly TimetableRow[];
  readonly judgments: readonly Judgment[];
};

/** A target: value unrounded; low and high = value ∓ 2u, the reading instrument's own u included where it will be read. */
export type Figure = NonNullable<Plan['targets'][TargetKey]>;
export type Targets = Plan['targets'];
export type BitternessRow = Plan['bitterness'][number];
export type KettleRow = Plan['kettle'][number];
export type CorrectionRow = Plan['corrections'][number];
export type SampleCorrection = Plan['sample_corrections'][number];
export type PrimingTable = NonNullable<Plan['priming']>;
export type ReadingVerdict = Plan['readings'][string];
export type VerdictWord = NonNullable<ReadingVerdict['verdict']>;
/** When a beer counts as finished: the boxes of the cellar sheet. */
export type Finish = NonNullable<Plan['finish']>;
export type Fermentation = NonNullable<Plan['fermentation']>;
/** A curve fitted to the log: what to expect. Only `Fermentation` says whether it is finished. */
export type FermentationCurve = NonNullable<Plan['fermentation_curve']>;

export type PlanResult =
  | { readonly ok: true; readonly plan: Plan; readonly warnings: readonly Problem[] }
  | { readonly ok: false; readonly problems: readonly Problem[] };

/** What readings are held against: what was printed, where that is known. */
export function printedTargets({ targets, printed }: Pick<Plan, 'targets' | 'printed'>): Targets {
  const kept = Object.entries(printed?.targets ?? {}).map(([key, figure]) => [
    key,
    { ...figure, contributors: [] },
  ]);
  return { ...targets, ...Object.fromEntries(kept) };
}

/** What a bottled part holds; volumes of carbon dioxide. */
export type BottleJudgment = NonNullable<Plan['bottles']>[number];
