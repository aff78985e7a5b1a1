/**
 * A batch as the numbers that the model runs on.
 *
 * A case is built once from recipe and setup; the uncertainty analysis runs the model again on copies with one number moved,
 * so everything here is a plain number and nothing is looked up twice.
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
  readonly yield: number;
  /** °Lovibond, the unit of the colour formula. */
  readonly colour_L: number;
  /** Relative to base malt for `malt`; ignored otherwise. */
  readonly fermentability: number;
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
  readonly alpha: number;
  readonly stage: 'boil' | 'flameout' | 'stand' | 'dry' | 'steep';
  readonly timeIndex: number;
  /** Boil minutes that it sees. */
  readonly boil_min: number;
}

export interface PackagePart {
  readonly into: 'bottles' | 'keg';
  readonly carbonation_vol: number;
  /** Null: what the other parts leave. */
  readonly volume_L: number | null;
  readonly bottle_L: number | null;
  readonly co2_g_per_g: number;
  readonly serving_C: number;
  /** As weighed, or as planned and held while inputs are nudged; null: what the missing gas asks for. */
  readonly sugar_g: number | null;
}

/** A batch before it is decided how much of it is boiled. */
export interface Draft {
  readonly intoFermenter_L: number;
  readonly boil_min: number;
  /** As the recipe states it; null where it is left to the design. */
  readonly statedBoil_L: number | null;
  /** Minutes left, from the boil's length down to 0: every whole minute and every addition. */
  readonly times_min: readonly number[];
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

  readonly kettle_L: number;
  readonly kettleMark_L: number;
  readonly fermenterMark_L: number;
  readonly scale: number;
  readonly boilOff_L_per_h: number;
  readonly kettleLoss_L: number;
  readonly hopAbsorption_L_per_kg: number;
  readonly grainAbsorption_L_per_kg: number;
  readonly heat_kW: number;
  readonly fermenterLoss_L: number;
  readonly steepEfficiency: number;
  readonly mashEfficiency: number;
  readonly chillTo_C: number;
  readonly chillIn_min: number;
  readonly water_C: number;
  readonly topUp_C: number;
  readonly room_C: number;
  readonly altitude_m: number;
  readonly thermometer_K: number;
  readonly maltHeat_kJ_per_kgK: number;
  readonly bathEffectiveness: number;
  readonly bathApproach_K: number;
  readonly tinseth: number;
  readonly morey: number;
  /** Apparent attenuation that the yeast's supplier states, 0 to 1; 0 without a yeast. */
  readonly attenuation: number;
  /** Shared factor on every malt's relative fermentability, 1. */
  readonly fermentability: number;
  readonly warmest_C: number;
  readonly co2Yield: number;
  readonly beerSolubility: number;
  /** Added to the share of water's gas that beer holds at a keg's temperature. */
  readonly kegSolubility: number;
  readonly pitchingRate: number;
  readonly yeast: {
    readonly rate_million_per_mL_P: number;
    readonly packCells_billion: number;
    /** Grams in a pack of dry yeast, which goes by weight; null for any other. */
    readonly dryPack_g: number | null;
    readonly lager: boolean;
  } | null;
  /** Gravity that the beer ended at, where it was read; null: as the yeast's attenuation has it. */
  readonly finalRead_SG: number | null;
  /** Beer that was packaged, where it was read; null: what the losses leave. */
  readonly packagedRead_L: number | null;
}

/** A batch whose boil is designed; what was designed is held while inputs are nudged. */
export interface Case extends Draft {
  /** Wort when the countdown begins, as if at 20 °C. */
  readonly boilVolume_L: number;
  /** Water on the stove, litres as if at 20 °C. */
  readonly waterToHeat_L: number;
  /** The plan leaves wort in the pot; a whole boil is poured out whole, whatever it comes to. */
  readonly keepsSurplus: boolean;
}

/** A case that nobody else sees: the compiler takes any case for one. */
export type OwnCase = { -readonly [K in keyof Case]: Case[K] };
