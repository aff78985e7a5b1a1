import { thermalVolumeRatio } from '../../formulas/shrinkage.ts';
import { platoOf, volumeOf, WATER_KG_PER_L } from '../../formulas/wort.ts';
import { ASSUMED_GRAIN_DISPLACEMENT_L_per_kg } from './defaults.ts';
import { extractOf, type KettleMasses } from './kettle.ts';
import type { Case } from './model-input.ts';

/**
 * The fullest moment of the kettle, L as it is then: a soak with its grain, or any minute from the boil's start to
 * the end of the stand at boiling point.
 *
 * Wet grain takes 0.7 L/kg (common practice, no source); liquids expand as `thermalVolumeRatio` says. A recipe
 * without a boil is taken at 20 °C once its grain is out. Boiling point in °C, 85 to 105.
 */
export function fullestMoment(c: Case, kettle: KettleMasses, boil_C: number): number {
  let most_L = Math.max(0, kettle.most_L);
  if (c.boil_min > 0) {
    most_L *= thermalVolumeRatio({ plato_P: platoOf(kettle.start), from_C: 20, to_C: boil_C });
  }
  const room = (grain_kg: number) => grain_kg * c.scale * ASSUMED_GRAIN_DISPLACEMENT_L_per_kg;
  if (c.mash) {
    const hot = thermalVolumeRatio({ plato_P: 0, from_C: 20, to_C: c.mash.target_C });
    most_L = Math.max(most_L, c.mash.water_L * hot + room(c.mashGrain_kg));
  }
  if (c.steep) {
    const liquor = steepLiquor(c);
    const hot = thermalVolumeRatio({ plato_P: platoOf(liquor), from_C: 20, to_C: c.steep.target_C });
    most_L = Math.max(most_L, volumeOf(liquor) * hot + room(c.steepGrain_kg));
  }
  return most_L;
}

/** What the steeped grain goes into: the mash's wort, where there is one, and the steep's own water. */
export function steepLiquor(c: Case): { extract_kg: number; water_kg: number } {
  let extract_kg = 0;
  for (const part of c.parts) if (part.efficiency === 'mash') extract_kg += extractOf(part, c);
  const held_L = c.mashGrain_kg * c.scale * c.grainAbsorption_L_per_kg;
  const drained_L = c.mash ? c.mash.water_L + c.rinse_L - held_L : 0;
  const own_L = steepWater_L(c);
  return { extract_kg, water_kg: Math.max(0, drained_L + own_L) * WATER_KG_PER_L };
}

/** Water that is heated for the steep, L at 20 °C: as the recipe has it, else all that no other soak or rinse takes. */
export function steepWater_L(c: Case): number {
  if (c.steep && c.steep.water_L !== null) return c.steep.water_L;
  return Math.max(0, c.waterToHeat_L - (c.mash?.water_L ?? 0) - c.rinse_L);
}
