/** Bottles against the planned carbonation. */
import { co2Pressure_kPa_gauge } from '../../formulas/co2.ts';
import { formatPressure, formatTemperature } from '../../units/format/format.ts';
import type { KeyPath, Problem } from '../../units/problem.ts';
import type { PackedPart } from '../model/packaging.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { Targets } from '../types/plan.ts';
import { problem } from '../types/problem.ts';
import { limitOf, WARMEST_BOTTLE_C } from './bottle-safety.ts';

/** Bottles against the unsafe end of the planned pressure: no head space, 30 °C. */
export function checkBottles(
  batch: Batch,
  brewery: Brewery,
  targets: Targets,
  packed: readonly PackedPart[],
  ambient_kPa: number,
): Problem[] {
  const out: Problem[] = [];
  const several = batch.recipe.packaging.length > 1;
  const residual = targets.residual_co2_vol?.value ?? 0;
  batch.recipe.packaging.forEach((step, i) => {
    const path: KeyPath = several ? ['recipe', 'package', i] : ['recipe', 'package'];
    if (step.carbonation_vol.value < residual && step.sugar) {
      out.push(
        problem(
          'warning',
          'gas-already-there',
          [...path, 'carbonation'],
          `${step.carbonation_vol.written}, less than the ${residual.toFixed(1)} vol that stay from fermentation`,
          `more than ${residual.toFixed(1)} vol`,
          'no sugar is needed; ask for more carbonation if it should be livelier',
        ),
      );
    }
    const highest_kPa = step.into === 'bottles' ? upperPressure(targets, packed[i]!, ambient_kPa) : null;
    if (highest_kPa === null) return;
    const limit_kPa = limitOf(step, ambient_kPa);
    if (highest_kPa > limit_kPa) {
      const degrees = formatTemperature(WARMEST_BOTTLE_C, brewery.units, { decimals: 0 });
      out.push(
        problem(
          'warning',
          'bottle-too-weak',
          [...path, 'carbonation'],
          `up to ${formatPressure(highest_kPa, brewery.units)} at ${degrees} with ${step.carbonation_vol.written}`,
          `at most ${formatPressure(limit_kPa, brewery.units)}, what bottles for ${step.limit.written} stand${step.limit.assumed ? ' (assumed)' : ''}`,
          'ask for less carbonation, or use bottles made for more pressure',
        ),
      );
    }
  });
  return out;
}

/** Upper bound of one part's pressure at 30 °C: the target is the liveliest part's, and its spread is shared in proportion. */
function upperPressure(targets: Targets, part: PackedPart, ambient_kPa: number): number | null {
  const target = targets.bottle_pressure_30c_kpa;
  if (!target || !(target.value > 0)) return target?.high ?? null;
  const volumes = Math.min(20, Math.max(0, part.volumes));
  const own_kPa = co2Pressure_kPa_gauge({ volumes, t_C: WARMEST_BOTTLE_C, ambient_kPa });
  return own_kPa + (target.high - target.value) * Math.min(1, own_kPa / target.value);
}
