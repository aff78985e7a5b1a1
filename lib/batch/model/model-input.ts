/**
 * A batch as the numbers that the model runs on.
 *
 * A case is built once from recipe and setup; the uncertainty analysis nudges one of its numbers at a time and
 * runs the model again, so everything here is a plain mutable number and nothing is looked up twice.
 */

import type { Setup } from '../types/setup.ts';

/** Grain, extract or sugar, or what is added to the fermenter. */
export interface ExtractPart {
  readonly name: string;
  /** The list of the recipe that it is in, and where. */
  readonly kind: 'grain' | 'extract' | 'sugar';
  readonly index: number;
  readonly weight_kg: number;
  /** Laboratory extract, share of weight. */
  yield: number;
  /** °Lovibond, the unit of the colour formula. */
  colour_L: number;
  /** Relative to base malt for `malt`; ignored otherwise. */
  fermentability: number;
  readonly as: 'malt' | 'sugar' | 'none';
  readonly efficiency: 'whole' | 'steep' | 'mash';
  /** `before`: in the kettle when the countdown begins. `fermenter`: after pitching. */
  readonly stage: 'before' | 'boil' | 'flameout' | 'stand' | 'fermenter';
  /** Position in `Case.times_min` for `boil`, else -1. */
  readonly timeIndex: number;
  /** In the kettle while it heats (first wort): no pause of its own. */
  readonly heatsWithWater: boolean;
  /** A hopped kit extract: IBU × L that its label promises for this weight. */
  readonly labelBitterness_IBU_L: number;
}

export interface HopPart {
  readonly index: number;
  readonly name: string;
  readonly weight_kg: number;
  alpha: number;
  readonly stage: 'boil' | 'flameout' | 'stand' | 'dry' | 'steep';
  readonly timeIndex: number;
  /** Boil minutes that it sees. */
  readonly boil_min: number;
}

export interface PackagePart {
  readonly into: 'bottles' | 'keg';
  readonly carbonation_vol: number;
  /** Null: what the other parts leave. */
  volume_L: number | null;
  readonly bottle_L: number | null;
  readonly co2_g_per_g: number;
  readonly serving_C: number;
  /** As weighed, or as planned and held while inputs are nudged; null: what the missing gas asks for. */
  sugar_g: number | null;
}

/** A batch before it is decided how much of it is boiled. */
export interface Draft {
  intoFermenter_L: number;
  readonly boil_min: number;
  /** As the recipe states it; null where it is left to the design. */
  readonly statedBoil_L: number | null;
  /** Minutes left, from the boil's length down to 0: every whole minute and every addition. */
  readonly times_min: Float64Array;
  readonly parts: readonly ExtractPart[];
  readonly hops: readonly HopPart[];
  readonly packages: readonly PackagePart[];

  /** Its water is null where the recipe leaves it open: all that no other soak takes. */
  readonly steep: {
    readonly target_C: number;
    readonly water_L: number | null;
    readonly time_min: number;
  } | null;
  readonly mash: { readonly target_C: number; readonly water_L: number; readonly time_min: number } | null;
  /** Poured over the drained grain of the mash, of the steep where there is no mash. */
  readonly rinse_L: number;
  readonly steepGrain_kg: number;
  readonly mashGrain_kg: number;
  readonly standMinutes: number;
  readonly stand_C: number;
  readonly pitch_C: number;
  readonly chillWith: Setup['chill']['with'];

  kettle_L: number;
  kettleMark_L: number;
  fermenterMark_L: number;
  scale: number;
  boilOff_L_per_h: number;
  kettleLoss_L: number;
  hopAbsorption_L_per_kg: number;
  grainAbsorption_L_per_kg: number;
  heat_kW: number;
  fermenterLoss_L: number;
  steepEfficiency: number;
  mashEfficiency: number;
  chillTo_C: number;
  chillIn_min: number;
  water_C: number;
  topUp_C: number;
  room_C: number;
  altitude_m: number;
  thermometer_K: number;
  maltHeat_kJ_per_kgK: number;
  bathEffectiveness: number;
  bathApproach_K: number;
  tinseth: number;
  morey: number;
  /** Apparent attenuation that the yeast's supplier states, 0 to 1; 0 without a yeast. */
  attenuation: number;
  /** Shared factor on every malt's relative fermentability, 1. */
  fermentability: number;
  warmest_C: number;
  co2Yield: number;
  beerSolubility: number;
  /** Added to the share of water's gas that beer holds at a keg's temperature. */
  kegSolubility: number;
  pitchingRate: number;
  readonly yeast: {
    readonly rate_million_per_mL_P: number;
    readonly packCells_billion: number;
    /** Grams in a pack of dry yeast, which goes by weight; null for any other. */
    readonly dryPack_g: number | null;
    readonly lager: boolean;
  } | null;
  /** Gravity that the beer ended at, where it was read; null: as the yeast's attenuation has it. */
  finalRead_SG: number | null;
  /** Beer that was packaged, where it was read; null: what the losses leave. */
  packagedRead_L: number | null;
}

/** A batch whose boil is designed; what was designed is held while inputs are nudged. */
export interface Case extends Draft {
  /** Wort when the countdown begins, as if at 20 °C. */
  boilVolume_L: number;
  /** Water on the stove, litres as if at 20 °C. */
  waterToHeat_L: number;
  /** The plan leaves wort in the pot; a whole boil is poured out whole, whatever it comes to. */
  keepsSurplus: boolean;
}
