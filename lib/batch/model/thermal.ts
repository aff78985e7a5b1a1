/** Heating, resting, chilling and topping up: energy balances of one run. */
import { HIGHEST_EXTRACT_P } from '../../formulas/density.ts';
import { heatingTime_min, wortHeatCapacity_kJ_per_kgK } from '../../formulas/heat.ts';
import { mixTemperature_C, temperatureForMix_C, waterTemperatureForGrain } from '../../formulas/mixing.ts';
import { platoOf, WATER_KG_PER_L } from '../../formulas/wort.ts';
import { extractOf, type KettleRun } from './kettle.ts';
import type { Case } from './model-input.ts';
import { steepWater_L } from './peak-volume.ts';
import { type Outcome, TARGET_INDEX } from './target-vector.ts';

/** What the timetable needs besides the targets, minutes. */
export interface Thermal {
  /** From the tap to the strike temperature; null without a mash. */
  readonly minutesToStrike: number | null;
  /** Pauses of the countdown: index in `Case.times_min` and minutes until it boils again. */
  readonly pauses: readonly { readonly timeIndex: number; readonly minutes: number }[];
}

// Names of this module: an imported one is looked up again at each use, and this runs some hundred times a plan.
const T = TARGET_INDEX;
const heatCapacity = wortHeatCapacity_kJ_per_kgK;
const KG_PER_L = WATER_KG_PER_L;
const WATER_CP = wortHeatCapacity_kJ_per_kgK(0, 20);

/** A burner that brings in less than this never boils a kettle: keeps times finite while the heat is nudged. */
const LEAST_HEAT_kW = 0.01;
/** Less wort than this has no temperature. */
const NOTHING_KG = 1e-3;
/** Less top-up than this is not worth a jug. */
export const LEAST_TOP_UP_L = 0.05;
/** Tap water that is nudged below it stays water. */
const FREEZING_C = 0;
/** Colder than this no bath in a kitchen brings a wort. Common practice, no source. */
const COLDEST_WORT_C = 4;

/** Hotter wort is not poured into a plastic fermenter, nor onto cold glass. Common practice, no source. */
const HOTTEST_POURED_C = 40;

const minutes = (energy_kJ: number, c: Case) =>
  heatingTime_min({ energy_kJ: Math.max(0, energy_kJ), power_kW: Math.max(LEAST_HEAT_kW, c.heat_kW) });

interface Liquid {
  kJ_per_K: number;
  t_C: number;
}

/**
 * Temperatures to heat to and minutes that it takes, from the tap to the boil, and the chill after it.
 *
 * Energies: mass × heat capacity × rise, wort's by `wortHeatCapacity_kJ_per_kgK`; time = energy / `heat`. Grain is at
 * room temperature and so is extract; what the kettle loses to the room is in `heat`, which is what reaches the liquid. A
 * rinse is poured at the temperature of the soak that it follows. Temperatures are as this kitchen's thermometer shows them.
 */
export function heatAndCold(
  c: Case,
  out: Outcome,
  run: { kettle: KettleRun; boil_C: number; share: number; topUp_kg: number },
): Thermal {
  let minutesToStrike: number | null = null;
  const liquid: Liquid = { kJ_per_K: 0, t_C: c.water_C };
  let spare_kg = c.waterToHeat_L * KG_PER_L;

  if (c.mash) {
    pour(liquid, c.mash.water_L * KG_PER_L, c.water_C);
    const strike_C = soakTemperature(c, liquid, c.mashGrain_kg, c.mash.target_C);
    out[T.strike_water_c] = strike_C + c.thermometer_K;
    minutesToStrike = minutes(liquid.kJ_per_K * (strike_C - liquid.t_C), c);
    lift(c, liquid, 'mash', c.mashGrain_kg, c.mash.target_C, c.rinse_L);
    spare_kg -= (c.mash.water_L + c.rinse_L) * KG_PER_L;
  }
  if (c.steep) {
    const own_kg = steepWater_L(c) * KG_PER_L;
    pour(liquid, own_kg, c.water_C);
    const steep_C = soakTemperature(c, liquid, c.steepGrain_kg, c.steep.target_C);
    out[T.steep_water_c] = steep_C + c.thermometer_K;
    out[T.minutes_to_steep] = minutes(liquid.kJ_per_K * (steep_C - liquid.t_C), c);
    const rinse_L = c.mash ? 0 : c.rinse_L;
    lift(c, liquid, 'steep', c.steepGrain_kg, c.steep.target_C, rinse_L);
    spare_kg -= own_kg + rinse_L * KG_PER_L;
  }
  pour(liquid, Math.max(0, spare_kg), c.water_C);
  const pauses = toTheBoil(c, out, liquid, run.boil_C);
  topUp(c, out, run);
  return { minutesToStrike, pauses };
}

function pour(liquid: Liquid, water_kg: number, t_C: number): void {
  const stirred_kg = Math.max(0, liquid.kJ_per_K / WATER_CP);
  if (stirred_kg + water_kg > 0) {
    liquid.t_C = mixTemperature_C([
      { mass_kg: stirred_kg, plato_P: 0, t_C: liquid.t_C },
      { mass_kg: Math.max(0, water_kg), plato_P: 0, t_C: Math.max(FREEZING_C, t_C) },
    ]);
  }
  liquid.kJ_per_K += water_kg * WATER_CP;
}

/** What the liquid must be at for the grain to land on its target: it counts as water of the same heat capacity. */
function soakTemperature(c: Case, liquid: Liquid, grain_kg: number, target_C: number): number {
  return waterTemperatureForGrain({
    water_kg: liquid.kJ_per_K / WATER_CP,
    grain_kg: grain_kg * c.scale,
    grain_C: c.room_C,
    target_C,
    grainHeatCapacity_kJ_per_kgK: c.maltHeat_kJ_per_kgK,
  });
}

/** Grain out: it keeps its water, leaves its extract, and the rinse comes in. */
function lift(
  c: Case,
  liquid: Liquid,
  soak: 'mash' | 'steep',
  grain_kg: number,
  target_C: number,
  rinse_L: number,
): void {
  const held_kg = grain_kg * c.scale * c.grainAbsorption_L_per_kg * KG_PER_L;
  let extract_kg = 0;
  for (const part of c.parts) if (part.efficiency === soak) extract_kg += extractOf(part, c);
  liquid.kJ_per_K += (rinse_L * KG_PER_L - held_kg) * WATER_CP + extract_kg * extractCp(target_C);
  liquid.t_C = target_C;
}

/** Heat capacity that dissolved extract adds, kJ/(kg K): the wort formula, linear in the extract, read at 100 °P. */
const extractCp = (t_C: number): number => WATER_CP + (heatCapacity(50, t_C) - WATER_CP) * 2;

/** Extract and sugar go in cold with the flame off; the burner then brings them to the boil. */
function toTheBoil(c: Case, out: Outcome, liquid: Liquid, boil_C: number): Thermal['pauses'] {
  if (c.boil_min <= 0) return [];
  let first_kJ = liquid.kJ_per_K * (boil_C - liquid.t_C);
  const cold: { readonly timeIndex: number; energy_kJ: number }[] = [];
  for (const part of c.parts) {
    if (part.kind === 'grain' || (part.stage !== 'before' && part.stage !== 'boil')) continue;
    // Dry extract is thicker than the heat formula reaches: it is taken at the end of its range.
    const plato_P = Math.min(100 * part.yield, HIGHEST_EXTRACT_P);
    const energy_kJ =
      part.weight_kg * c.scale * heatCapacity(plato_P, (c.room_C + boil_C) / 2) * (boil_C - c.room_C);
    if (part.heatsWithWater) first_kJ += energy_kJ;
    else {
      const timeIndex = part.stage === 'before' ? 0 : part.timeIndex;
      const same = cold.find((one) => one.timeIndex === timeIndex);
      if (same === undefined) cold.push({ timeIndex, energy_kJ });
      else same.energy_kJ += energy_kJ;
    }
  }
  out[T.minutes_to_boil] = minutes(first_kJ, c);
  const pauses = cold
    .sort((a, b) => a.timeIndex - b.timeIndex)
    .map(({ timeIndex, energy_kJ }) => ({ timeIndex, minutes: minutes(energy_kJ, c) }));
  if (pauses[0]) out[T.minutes_back_to_boil] = pauses[0].minutes;
  return pauses;
}

/**
 * How far to chill for the mix with the top-up water at hand to land at pitching temperature, and how warm that water is to be.
 *
 * What counts is the mix: the wort need not be cold where the water does the rest. Where that would pour it hotter than is
 * wise, or no bath could chill so far, the water's own temperature makes up for it.
 */
function topUp(c: Case, out: Outcome, run: { kettle: KettleRun; share: number; topUp_kg: number }): void {
  out[T.top_up_c] = Number.NaN;
  const little = run.topUp_kg < LEAST_TOP_UP_L;
  if (c.boil_min <= 0 && little) return;
  const { chilled } = run.kettle;
  const wort_kg = (chilled.extract_kg + chilled.water_kg) * run.share;
  if (little || wort_kg <= NOTHING_KG) {
    out[T.chill_to_c] = c.pitch_C + c.thermometer_K;
    return;
  }
  // Written out: objects that are spread cost more here than the arithmetic.
  const wort_P = platoOf(chilled);
  const target_C = c.pitch_C;
  const needed_C = temperatureForMix_C({
    mass_kg: wort_kg,
    plato_P: wort_P,
    target_C,
    other: { mass_kg: run.topUp_kg, plato_P: 0, t_C: Math.max(FREEZING_C, c.topUp_C) },
  });
  // Where even wort at its coldest would not do, the top-up itself must be as cold as the pitch.
  const chill_C = needed_C < COLDEST_WORT_C ? c.pitch_C : Math.min(HOTTEST_POURED_C, needed_C);
  out[T.chill_to_c] = chill_C + c.thermometer_K;
  const other = { mass_kg: wort_kg, plato_P: wort_P, t_C: chill_C };
  out[T.top_up_c] =
    temperatureForMix_C({ mass_kg: run.topUp_kg, plato_P: 0, target_C, other }) + c.thermometer_K;
}
