/** Heating, resting, chilling and topping up: energy balances of one run. */
import { HIGHEST_EXTRACT_P } from '../formulas/density.ts';
import { wortHeatCapacity_kJ_per_kgK } from '../formulas/heat.ts';
import { waterTemperatureForGrain } from '../formulas/mixing.ts';
import type { Case } from './case.ts';
import { extractOf, type KettleRun, platoOf, WATER_KG_PER_L, waterHeldByGrain } from './kettle.ts';
import { type Outcome, TARGET_INDEX as T } from './outcome.ts';

/** What the timetable needs besides the targets, minutes. */
export interface Thermal {
  /** From the tap to the strike temperature; NaN without a mash. */
  readonly minutesToStrike: number;
  /** Pauses of the countdown: index in `Case.times_min` and minutes until it boils again. */
  readonly pauses: readonly { readonly timeIndex: number; readonly minutes: number }[];
}

const WATER_CP = wortHeatCapacity_kJ_per_kgK(0, 20);

/** Minutes that the burner takes for an energy. */
const minutes = (energy_kJ: number, c: Case) => Math.max(0, energy_kJ) / c.heat_kW / 60;

export function heatAndCold(
  c: Case,
  out: Outcome,
  run: { kettle: KettleRun; boil_C: number; share: number; topUp_kg: number },
): Thermal {
  const water_kg = c.waterToHeat_L * WATER_KG_PER_L;
  let minutesToStrike = Number.NaN;
  /** Liquid in the kettle and its temperature, followed from the tap to the boil. */
  let liquid_kg = 0;
  let liquid_C = c.water_C;
  let spare_kg = water_kg;

  if (c.mash) {
    const mash_kg = c.mash.water_L * WATER_KG_PER_L;
    const strike_C = waterTemperatureForGrain({
      water_kg: mash_kg,
      grain_kg: c.mashGrain_kg * c.scale,
      grain_C: c.room_C,
      target_C: c.mash.target_C,
      grainHeatCapacity_kJ_per_kgK: c.maltHeat_kJ_per_kgK,
    });
    out[T.strike_water_c] = strike_C + c.thermometer_K;
    minutesToStrike = minutes(mash_kg * WATER_CP * (strike_C - c.water_C), c);
    const held_kg = c.mashGrain_kg * c.scale * c.grainAbsorption_L_per_kg * WATER_KG_PER_L;
    // The rinse is poured at the mash's own temperature: it leaves with the wort.
    liquid_kg = mash_kg + c.rinse_L * WATER_KG_PER_L - held_kg;
    liquid_C = c.mash.target_C;
    spare_kg -= mash_kg + c.rinse_L * WATER_KG_PER_L;
  }

  if (c.steep) {
    const own_kg = Number.isNaN(c.steep.water_L) ? spare_kg : c.steep.water_L * WATER_KG_PER_L;
    const soak_kg = liquid_kg + own_kg;
    const from_C = (liquid_kg * liquid_C + own_kg * c.water_C) / soak_kg;
    const steep_C = waterTemperatureForGrain({
      water_kg: soak_kg,
      grain_kg: c.steepGrain_kg * c.scale,
      grain_C: c.room_C,
      target_C: c.steep.target_C,
      grainHeatCapacity_kJ_per_kgK: c.maltHeat_kJ_per_kgK,
    });
    out[T.steep_water_c] = steep_C + c.thermometer_K;
    out[T.minutes_to_steep] = minutes(soak_kg * WATER_CP * (steep_C - from_C), c);
    const held_kg = c.steepGrain_kg * c.scale * c.grainAbsorption_L_per_kg * WATER_KG_PER_L;
    liquid_kg = soak_kg - held_kg;
    liquid_C = c.steep.target_C;
    spare_kg -= own_kg;
  }

  const rest_kg = Math.max(0, spare_kg);
  const all_kg = liquid_kg + rest_kg;
  const mix_C = all_kg > 0 ? (liquid_kg * liquid_C + rest_kg * c.water_C) / all_kg : c.water_C;
  let grain_kg = 0;
  for (const part of c.parts) if (part.kind === 'grain') grain_kg += extractOf(part, c);
  const liquor_P = platoOf({ extract_kg: grain_kg, water_kg: water_kg - waterHeldByGrain(c) });
  if (c.boil_min > 0) {
    const cp = wortHeatCapacity_kJ_per_kgK(liquor_P, (mix_C + run.boil_C) / 2);
    out[T.minutes_to_boil] = minutes((all_kg + grain_kg) * cp * (run.boil_C - mix_C), c);
  }

  // Extract and sugar go in cold with the flame off; the burner then brings them to the boil.
  const energies = new Map<number, number>();
  for (const part of c.parts) {
    if (part.kind === 'grain' || c.boil_min <= 0) continue;
    if (part.stage !== 'before' && part.stage !== 'boil') continue;
    const cp = wortHeatCapacity_kJ_per_kgK(
      Math.min(100 * part.yield, HIGHEST_EXTRACT_P),
      (c.room_C + run.boil_C) / 2,
    );
    const index = part.stage === 'before' ? 0 : part.timeIndex;
    const energy_kJ = part.weight_kg * c.scale * cp * (run.boil_C - c.room_C);
    energies.set(index, (energies.get(index) ?? 0) + energy_kJ);
  }
  const pauses = [...energies]
    .sort(([a], [b]) => a - b)
    .map(([timeIndex, energy_kJ]) => ({ timeIndex, minutes: minutes(energy_kJ, c) }));
  if (pauses[0]) out[T.minutes_back_to_boil] = pauses[0].minutes;

  topUp(c, out, run);
  return { minutesToStrike, pauses };
}

/** How far to chill, and how warm the top-up has to be for the mix to land at pitching temperature. */
function topUp(c: Case, out: Outcome, run: { kettle: KettleRun; share: number; topUp_kg: number }): void {
  if (c.boil_min <= 0 && run.topUp_kg < 0.05) return;
  const wort = run.kettle.chilled;
  const wort_kg = (wort.extract_kg + wort.water_kg) * run.share;
  const cpWort = wortHeatCapacity_kJ_per_kgK(platoOf(wort), c.pitch_C);
  const hot = wort_kg * cpWort;
  const cold = run.topUp_kg * WATER_CP;
  if (run.topUp_kg < 0.05 || hot <= 0) {
    out[T.chill_to_c] = c.pitch_C + c.thermometer_K;
    return;
  }
  /** Wort as warm as this lands at pitching temperature with top-up water as cold as there is. */
  const needed_C = c.pitch_C + (cold * (c.pitch_C - c.topUp_C)) / hot;
  const chill_C = Math.min(c.chillTo_C, needed_C);
  out[T.chill_to_c] = chill_C + c.thermometer_K;
  out[T.top_up_c] = c.pitch_C - (hot * (chill_C - c.pitch_C)) / cold + c.thermometer_K;
}
