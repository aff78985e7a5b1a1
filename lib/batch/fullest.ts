import { thermalVolumeRatio } from '../formulas/shrinkage.ts';
import type { Case } from './case.ts';
import { ASSUMED_GRAIN_DISPLACEMENT_L_per_kg } from './defaults.ts';
import type { KettleRun } from './kettle.ts';

/** The fullest moment of the kettle, L, hot: the soak with its grain, or any minute of the boil. */
export function fullestMoment(c: Case, kettle: KettleRun, hotRatio: number): number {
  let most = 0;
  for (const volume of kettle.volume_L) if (volume > most) most = volume;
  most *= hotRatio;
  const grain = (kg: number) => kg * c.scale * ASSUMED_GRAIN_DISPLACEMENT_L_per_kg;
  if (c.steep) {
    const hot = thermalVolumeRatio({ plato_P: 0, from_C: 20, to_C: c.steep.target_C });
    const water_L = Number.isNaN(c.steep.water_L)
      ? c.waterToHeat_L - c.mashGrain_kg * c.scale * c.grainAbsorption_L_per_kg
      : c.steep.water_L;
    most = Math.max(most, water_L * hot + grain(c.steepGrain_kg));
  }
  if (c.mash) {
    const hot = thermalVolumeRatio({ plato_P: 0, from_C: 20, to_C: c.mash.target_C });
    most = Math.max(most, c.mash.water_L * hot + grain(c.mashGrain_kg));
  }
  return most;
}
