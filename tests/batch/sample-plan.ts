import type { TimetableRow } from '../../lib/batch/types/acts.ts';
import type { TargetKey } from '../../lib/batch/types/targets.ts';
/** Plans of hand-built batches, and the model's own run of them. */

import { buildCase } from '../../lib/batch/model/build-model-input.ts';
import { designBoil } from '../../lib/batch/model/design.ts';
import { type Detail, runModel } from '../../lib/batch/model/model.ts';
import type { Case } from '../../lib/batch/model/model-input.ts';
import { type Outcome, TARGET_INDEX } from '../../lib/batch/model/target-vector.ts';
import { planBatch } from '../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { Brewery } from '../../lib/batch/types/brewery.ts';
import type { Plan } from '../../lib/batch/types/plan.ts';
import type { Recipe } from '../../lib/batch/types/recipe.ts';
import type { Setup, SetupFigure } from '../../lib/batch/types/setup.ts';
import { rowParts } from '../../lib/words/words.ts';
import { given, sampleBatch, sampleRecipe, sampleSetup } from './sample.ts';

export const brewery: Brewery = {
  name: 'Test',
  units: 'metric',
  paper: 'a4',
  author: null,
  url: null,
  language: 'en',
};

export const own = (value: number, u = 0): SetupFigure => ({
  value,
  u,
  written: String(value),
  assumed: false,
});

/** Rows as `plan.json` says them: thing and amount in words, items by their paths. */
export const worded = (rows: readonly TimetableRow[], units: Brewery['units'] = 'metric') =>
  rows.map((row) => ({
    ...row,
    ...rowParts(row, { ...brewery, units }),
    items: row.items.map(({ path }) => path),
  }));

export function planOf(batch: Batch, units: Brewery['units'] = 'metric'): Plan {
  const result = planBatch(batch, { ...brewery, units });
  if (!result.ok) throw new Error(JSON.stringify(result.problems));
  return result.plan;
}

export interface ModelRun {
  readonly c: Case;
  readonly outcome: Outcome;
  readonly detail: Detail;
  readonly get: (key: TargetKey) => number;
}

/** One run of the model without uncertainties; unstated parts as in the sample batch. */
export function modelOf(recipe: Partial<Recipe>, setup: Partial<Setup> = {}): ModelRun {
  const c = designBoil(buildCase(sampleBatch({ recipe: sampleRecipe(recipe), setup: sampleSetup(setup) })));
  const { outcome, detail } = runModel(c);
  return { c, outcome, detail, get: (key) => outcome[TARGET_INDEX[key]]! };
}

/** A kettle that loses nothing. */
export const tight: Partial<Setup> = {
  kettleLoss_L: own(0),
  hopAbsorption_L_per_kg: own(0),
  grainAbsorption_L_per_kg: own(0),
  boilOff_L_per_h: own(0),
  altitude_m: own(0),
};

export const steepAt = (t_C: number, water_L: number | null = null): NonNullable<Recipe['steep']> => ({
  temperature_C: given(t_C, `${t_C} °C`),
  time_min: given(20, '20 min'),
  water_L: water_L === null ? null : given(water_L, `${water_L} L`),
});

export const mashAt = (t_C: number, ratio: number): NonNullable<Recipe['mash']> => ({
  temperature_C: given(t_C, `${t_C} °C`),
  time_min: given(60, '60 min'),
  ratio_L_per_kg: given(ratio, `${ratio} L/kg`),
});
