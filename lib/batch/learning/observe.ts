/** What a batch's readings say of the setup that it was brewed with, worked back one figure at a time. */

import { inRange } from '../../formulas/range.ts';
import { judgeDay } from '../judgment/judge-day.ts';
import { DAY_INPUTS } from '../judgment/odd-readings.ts';
import { buildCase } from '../model/build-model-input.ts';
import { designBoil } from '../model/design.ts';
import { type Detail, runModel } from '../model/model.ts';
import type { Outcome } from '../model/target-vector.ts';
import { byWeight } from '../readings/as-brewed.ts';
import { boiledCase } from '../readings/boil-clock.ts';
import { observations } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import { LEARNED_KEYS, type LearnedKey, type Observed } from '../types/learning.ts';
import { allFigures } from '../uncertainty/figures.ts';
import { type Input, uncertainInputs } from '../uncertainty/inputs.ts';
import { type Propagation, propagate } from '../uncertainty/propagate.ts';
import { attenuationOf } from './beer.ts';
import type { Evidence } from './evidence.ts';
import { chilledTo, chillMinutes, heatPower } from './heat.ts';
import { boilOff, efficiency, fermenterLoss, hopAbsorption, kettleLoss } from './kettle.ts';
import type { Measured } from './measure.ts';

export interface BatchEvidence {
  readonly kit: Readonly<Partial<Record<LearnedKey, Observed>>>;
  /** Apparent attenuation of the batch's only yeast, 0 to 1, as it would be in all-malt wort. */
  readonly attenuation: (Observed & { readonly yeast: string }) | null;
}

const NOTHING: BatchEvidence = { kit: {}, attenuation: null };

/**
 * Everything that a batch's readings tell of its setup and its yeast; nothing where it was not brewed, or given up. It costs about
 * as much as a plan.
 *
 * Never throws for what was read: readings that physics forbids give no observation.
 */
export function evidenceOf(batch: Batch): BatchEvidence {
  const { brewed, readings } = batch;
  if (brewed === null || readings.abandoned !== undefined || Object.keys(readings).length === 0)
    return NOTHING;
  return workedBack(batch, brewed);
}

function workedBack(batch: Batch, brewed: string): BatchEvidence {
  const evidence = gather(batch);
  if (evidence === null) return NOTHING;
  const observed = (found: Measured | null): Observed | null =>
    found === null ? null : { slug: batch.slug, brewed, ...found };
  const results: Readonly<Record<LearnedKey, (from: Evidence) => Measured | null>> = {
    heat: heatPower,
    steep_efficiency: (from) => efficiency(from, 'steep'),
    mash_efficiency: (from) => efficiency(from, 'mash'),
    boil_off: boilOff,
    'chill.to': chilledTo,
    'chill.in': chillMinutes,
    kettle_loss: kettleLoss,
    hop_absorption: hopAbsorption,
    fermenter_loss: fermenterLoss,
  };
  const kit: Partial<Record<LearnedKey, Observed>> = {};
  for (const key of LEARNED_KEYS) {
    const found = observed(results[key](evidence));
    if (found !== null) kit[key] = found;
  }
  const [yeast, ...others] = batch.recipe.yeast;
  const attenuation = yeast && others.length === 0 ? observed(attenuationOf(evidence)) : null;
  return { kit, attenuation: attenuation && yeast ? { ...attenuation, yeast: yeast.name } : null };
}

/** Figures that are to be learned: how far off they are is no reason to doubt what tells it. */
const OF_THE_KIT: ReadonlySet<Input['key']> = new Set<Input['key']>([
  'boilOff_L_per_h',
  'kettleLoss_L',
  'hopAbsorption_L_per_kg',
  'grainAbsorption_L_per_kg',
  'steepEfficiency',
  'mashEfficiency',
  'fermenterLoss_L',
]);
/** So many times what the setup takes them to be uncertain by. */
const KIT_OPEN = 6;

function withKitOpen(propagation: Propagation, inputs: readonly Input[]): Propagation {
  const contributions = propagation.contributions.map((row, i) =>
    OF_THE_KIT.has(inputs[i]!.key) ? row.map((effect) => KIT_OPEN * effect) : row,
  );
  return { ...propagation, contributions };
}

/** The batch designed as it was planned, with its readings reduced, without those that are doubted; null where the plan itself is impossible. */
function gather(batch: Batch): Evidence | null {
  return inRange(() => {
    const design = designBoil(buildCase(batch));
    const planned = runModel(design);
    const { c } = boiledCase(batch, design, planned.detail);
    const { outcome, detail }: { outcome: Outcome; detail: Detail } = c === design ? planned : runModel(c);
    const inputs = uncertainInputs(batch, c);
    const readings = observations(batch, planned.outcome, planned.detail);
    const ofDay = inputs.filter(({ key }) => DAY_INPUTS.has(key));
    const propagation = withKitOpen(propagate(c, ofDay), ofDay);
    const targets = allFigures(propagation, ofDay, batch.setup);
    const { doubted } = judgeDay({
      batch,
      c,
      inputs: ofDay,
      propagation,
      targets,
      readings,
      planned: planned.detail,
    });
    const read = new Map(
      byWeight(readings, doubted).flatMap((one) =>
        one.value === null ? [] : [[one.key, { value: one.value, u: one.u }] as const],
      ),
    );
    return { batch, c, outcome, detail, read, inputs };
  });
}
