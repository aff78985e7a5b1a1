/**
 * The model: one case in, every target out. Pure arithmetic, run some hundred times a plan by the uncertainty
 * analysis, so results go into a flat array and nothing is allocated that need not be.
 */
import { airPressure_kPa } from '../formulas/air.ts';
import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../formulas/alcohol.ts';
import { apparentExtractBalling } from '../formulas/attenuation.ts';
import { boilingElevation_K, boilingPoint_C } from '../formulas/boiling-point.ts';
import { CO2_DENSITY_g_per_L_vol, co2Pressure_kPa_gauge, residualCo2_vol } from '../formulas/co2.ts';
import { ebcFromSrm, srmMorey } from '../formulas/colour.ts';
import { energyAsbc_kcal_per_L } from '../formulas/energy.ts';
import { specificGravityFromPlato } from '../formulas/gravity.ts';
import { iceMass_kg } from '../formulas/ice.ts';
import { isomerisationRatio } from '../formulas/isomerisation.ts';
import { thermalVolumeRatio } from '../formulas/shrinkage.ts';
import { utilisationTinseth1997 } from '../formulas/tinseth.ts';
import { cellsWanted_billion } from '../formulas/yeast.ts';
import type { Case, ExtractPart, HopPart } from './case.ts';
import { ELEVATION_HIGHEST_P } from './design.ts';
import { fullestMoment } from './fullest.ts';
import {
  extractOf,
  heldByHops,
  type KettleRun,
  platoOf,
  runKettle,
  volumeOf,
  WATER_KG_PER_L,
  waterForVolume,
  waterToHeat,
} from './kettle.ts';
import { emptyOutcome, type Outcome, TARGET_INDEX as T } from './outcome.ts';
import { heatAndCold } from './thermal.ts';

/** Litres in a US gallon and pounds in a kilogram: the units that the colour formula was fitted in. */
const GALLON_L = 3.785411784;
const POUND_PER_KG = 1 / 0.45359237;
/** Real attenuation of an ordinary wort per apparent one, Balling. */
const REAL_PER_APPARENT = 0.8192;

/** What else one run found out, for the timetable, the tables and the checks. */
export interface Detail {
  readonly kettle: KettleRun;
  readonly boil_C: number;
  /** Share of the chilled wort that reaches the fermenter. */
  readonly share: number;
  readonly end_L: number;
  readonly lost_L: number;
  readonly topUp_kg: number;
  readonly inFermenter: { readonly extract_kg: number; readonly water_kg: number };
  readonly fullest_L: number;
  readonly realAttenuation: number;
  readonly hopRows: readonly HopRow[];
  readonly kitBitterness: readonly { readonly part: ExtractPart; readonly ibu: number }[];
  readonly ambient_kPa: number;
  readonly thermal: ReturnType<typeof heatAndCold>;
}

export interface HopRow {
  readonly hop: HopPart;
  readonly equivalent_min: number;
  readonly meanGravity_SG: number;
  readonly utilisation: number;
  readonly ibu: number;
}

export function runModel(c: Case, out: Outcome = emptyOutcome()): { outcome: Outcome; detail: Detail } {
  const ambient_kPa = airPressure_kPa(c.altitude_m);
  const boilWater_C = boilingPoint_C(c.altitude_m);
  const kettle = runKettle(c);
  const last = kettle.volume_L.length - 1;
  const boil_C = boilWater_C + boilingElevation_K(Math.min(platoOf(kettle.start), ELEVATION_HIGHEST_P));

  // From the kettle to the fermenter.
  const chilled_L = volumeOf(kettle.chilled);
  const lost_L = c.kettleLoss_L + heldByHops(c);
  const share = (chilled_L - lost_L) / chilled_L;
  const extract_kg = kettle.chilled.extract_kg * share;
  const final_L = c.intoFermenter_L + c.fermenterMark_L;
  const water_kg = waterForVolume(extract_kg, final_L);
  const topUp_kg = water_kg - kettle.chilled.water_kg * share;
  const inFermenter = { extract_kg, water_kg };
  const original_P = platoOf(inFermenter);
  out[T.original_extract_plato] = original_P;
  out[T.original_gravity] = specificGravityFromPlato(original_P);
  out[T.top_up_l] = topUp_kg / WATER_KG_PER_L;

  // The kettle's own figures.
  out[T.water_to_heat_l] = waterToHeat(c);
  out[T.boil_start_volume_l] = kettle.volume_L[0]!;
  out[T.boil_start_gravity] = kettle.gravity_SG[0]!;
  out[T.boil_end_volume_l] = kettle.volume_L[last]!;
  out[T.boil_end_gravity] = kettle.gravity_SG[last]!;
  const start_P = platoOf(kettle.start);
  const end_P = platoOf(kettle.end);
  const hotStart = thermalVolumeRatio({ plato_P: start_P, from_C: 20, to_C: boil_C });
  const hotEnd = thermalVolumeRatio({ plato_P: end_P, from_C: 20, to_C: boil_C });
  if (c.boil_min > 0) {
    out[T.boil_start_volume_hot_l] = kettle.volume_L[0]! * hotStart;
    out[T.boil_end_volume_hot_l] = kettle.volume_L[last]! * hotEnd;
  }
  const fullest_L = fullestMoment(c, kettle, hotStart);
  out[T.kettle_fill_percent] = (100 * fullest_L) / c.kettle_L;

  // Bitterness.
  const hopRows: HopRow[] = [];
  const kitBitterness: { part: ExtractPart; ibu: number }[] = [];
  let ibu = 0;
  const boilRatio = isomerisationRatio(boil_C);
  const standEquivalent_min = c.standMinutes > 0 ? c.standMinutes * isomerisationRatio(c.stand_C) : 0;
  for (const hop of c.hops) {
    if (hop.stage === 'dry') continue;
    const inBoil_min = hop.stage === 'boil' ? hop.boil_min : 0;
    const chill_min = hop.stage === 'flameout' || hop.stage === 'stand' ? c.chill_min : 0;
    const equivalent_min =
      hop.stage === 'steep' ? 0 : Math.max(0, inBoil_min * boilRatio + standEquivalent_min + chill_min);
    const meanGravity_SG =
      hop.stage === 'boil' ? kettle.meanGravity_SG[hop.timeIndex]! : kettle.gravity_SG[last]!;
    const utilisation = c.tinseth * utilisationTinseth1997(meanGravity_SG, equivalent_min);
    const alpha_mg = hop.weight_kg * c.scale * hop.alpha * 1e6;
    const added = ((alpha_mg * utilisation) / final_L) * share;
    ibu += added;
    hopRows.push({ hop, equivalent_min, meanGravity_SG, utilisation, ibu: added });
  }
  for (const part of c.parts) {
    if (part.labelBitterness_IBU_L === 0) continue;
    const added = (part.labelBitterness_IBU_L / final_L) * (part.stage === 'fermenter' ? 1 : share);
    ibu += added;
    kitBitterness.push({ part, ibu: added });
  }
  out[T.bitterness_ibu] = ibu;

  // Colour and fermentation, over what reaches the fermenter and what is added there.
  let pounds = 0;
  let malt_kg = 0;
  let maltFermented_kg = 0;
  let sugar_kg = 0;
  let dead_kg = 0;
  let laterExtract_kg = 0;
  let laterWater_kg = 0;
  const real = REAL_PER_APPARENT * c.attenuation;
  for (const part of c.parts) {
    const reaches = part.stage === 'fermenter' ? 1 : share;
    pounds += part.weight_kg * c.scale * POUND_PER_KG * part.colour_L * reaches;
    const mass = extractOf(part, c) * reaches;
    if (part.as === 'sugar') sugar_kg += mass;
    else if (part.as === 'none') dead_kg += mass;
    else {
      malt_kg += mass;
      maltFermented_kg += mass * Math.min(1, real * (1 + (part.fermentability - 1) * c.fermentability));
    }
    if (part.stage === 'fermenter') {
      laterExtract_kg += mass;
      laterWater_kg += part.weight_kg * c.scale - mass;
    }
  }
  const srm = c.morey * srmMorey(pounds / (final_L / GALLON_L));
  out[T.colour_srm] = srm;
  out[T.colour_ebc] = ebcFromSrm(srm);

  const all_kg = malt_kg + sugar_kg + dead_kg;
  const realAttenuation = all_kg > 0 ? (maltFermented_kg + sugar_kg) / all_kg : 0;
  const whole_P = platoOf({
    extract_kg: extract_kg + laterExtract_kg,
    water_kg: water_kg + laterWater_kg,
  });
  const realExtract_P = whole_P * (1 - realAttenuation);
  const apparent_P = apparentExtractBalling({ original_P: whole_P, real_P: realExtract_P });
  const final_SG = specificGravityFromPlato(apparent_P);
  const alcohol = alcoholByMassBalling_percent({ original_P: whole_P, real_P: realExtract_P });
  out[T.final_gravity] = final_SG;
  out[T.alcohol_mass_percent] = alcohol;
  out[T.alcohol_volume_percent] = alcoholByVolume_percent({
    alcoholByMass_percent: alcohol,
    gravity_SG: final_SG,
  });
  out[T.energy_kcal_per_litre] = energyAsbc_kcal_per_L({
    alcoholByMass_percent: alcohol,
    real_P: realExtract_P,
    gravity_SG: final_SG,
  });
  out[T.apparent_attenuation_percent] = whole_P > 0 ? (100 * (whole_P - apparent_P)) / whole_P : Number.NaN;

  // Yeast.
  const cells =
    c.pitchingRate *
    cellsWanted_billion({
      volume_L: final_L,
      plato_P: Math.max(0, original_P),
      rate_million_per_mL_P: c.rate_million_per_mL_P,
    });
  out[T.yeast_cells_billion] = cells;
  out[T.yeast_packs] = cells / c.packCells_billion;

  packaging(c, out, final_L, ambient_kPa);
  const thermal = heatAndCold(c, out, { kettle, boil_C, share, topUp_kg });
  if (c.usesIce) {
    const leaves_C = c.water_C + c.bathApproach_K;
    const to_C = out[T.chill_to_c]!;
    const mass_kg = kettle.chilled.extract_kg + kettle.chilled.water_kg;
    out[T.ice_kg] =
      leaves_C > to_C
        ? iceMass_kg({ wort_kg: mass_kg, plato_P: end_P, from_C: leaves_C, to_C, ice_C: 0 }) /
          c.bathEffectiveness
        : 0;
  }
  return {
    outcome: out,
    detail: {
      kettle,
      boil_C,
      share,
      end_L: chilled_L,
      lost_L,
      topUp_kg,
      inFermenter,
      fullest_L,
      realAttenuation,
      hopRows,
      kitBitterness,
      ambient_kPa,
      thermal,
    },
  };
}

/** Gas, sugar, bottles and pressure. */
function packaging(c: Case, out: Outcome, final_L: number, ambient_kPa: number): void {
  let dry_kg = 0;
  for (const hop of c.hops) if (hop.stage === 'dry') dry_kg += hop.weight_kg;
  const packaged_L = final_L - c.fermenterLoss_L - dry_kg * c.scale * c.hopAbsorption_L_per_kg;
  out[T.packaged_volume_l] = packaged_L;
  const residual = c.beerSolubility * residualCo2_vol({ t_C: c.warmest_C, ambient_kPa });
  out[T.residual_co2_vol] = residual;
  let spoken_L = 0;
  for (const part of c.packages) if (!Number.isNaN(part.volume_L)) spoken_L += part.volume_L;
  for (const part of c.packages) {
    const volume_L = Number.isNaN(part.volume_L) ? Math.max(0, packaged_L - spoken_L) : part.volume_L;
    if (part.into === 'keg') {
      out[T.keg_pressure_kpa] = co2Pressure_kPa_gauge({
        volumes: part.carbonation_vol / c.beerSolubility,
        t_C: part.serving_C,
        ambient_kPa,
      });
    }
    if (part.co2_g_per_g > 0) {
      const missing = Math.max(0, part.carbonation_vol - residual);
      const sugar_g = (missing * volume_L * CO2_DENSITY_g_per_L_vol) / (part.co2_g_per_g * c.co2Yield);
      out[T.priming_sugar_g] = sugar_g;
      if (Number.isNaN(part.sugar_g)) part.sugar_g = sugar_g;
    }
    if (part.into === 'bottles') {
      if (!Number.isNaN(part.bottle_L)) out[T.bottles] = volume_L / part.bottle_L;
      const gained =
        part.co2_g_per_g > 0 && volume_L > 0
          ? (part.sugar_g * c.co2Yield * part.co2_g_per_g) / (volume_L * CO2_DENSITY_g_per_L_vol)
          : Math.max(0, part.carbonation_vol - residual);
      const volumes = (residual + gained) / c.beerSolubility;
      out[T.bottle_pressure_20c_kpa] = co2Pressure_kPa_gauge({ volumes, t_C: 20, ambient_kPa });
      out[T.bottle_pressure_30c_kpa] = co2Pressure_kPa_gauge({ volumes, t_C: 30, ambient_kPa });
    }
  }
}
