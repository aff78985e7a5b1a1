/** Bottles against the planned carbonation. */
import { formatVolumes } from '../../units/format/format.ts';
import type { KeyPath } from '../../units/problem.ts';
import { warmestAfterFermentation } from '../model/build-model-input.ts';
import type { Batch } from '../types/batch.ts';
import type { Targets } from '../types/plan.ts';
import type { BatchFindings } from '../types/problem.ts';
import { plannedGas } from './judge-bottles.ts';

/** Bottles against the upper end of the planned gas, in a beer that ends as expected. */
export function checkBottles(batch: Batch, targets: Targets, ambient_kPa: number, out: BatchFindings): void {
  const several = batch.recipe.packaging.length > 1;
  const residual = targets.residual_co2_vol?.value ?? 0;
  batch.recipe.packaging.forEach((step, i) => {
    const { carbonation_vol: asked, limit } = step;
    const path: KeyPath = [...['recipe', 'package'], ...(several ? [i] : []), 'carbonation'];
    if (asked.value < residual && step.sugar)
      out.warn('gas-already-there', path, { written: asked.written, gas: `${residual.toFixed(1)} vol` });
    if (step.into !== 'bottles') return;
    const { at_most_vol, limit_vol } = plannedGas(step, ambient_kPa, warmestAfterFermentation(batch.recipe));
    if (at_most_vol <= limit_vol) return;
    out.warn('bottle-too-weak', path, {
      written: asked.written,
      gas: formatVolumes(at_most_vol),
      most: formatVolumes(limit_vol),
      limit: `${limit.written}${limit.assumed ? ' (assumed)' : ''}`,
    });
  });
}
