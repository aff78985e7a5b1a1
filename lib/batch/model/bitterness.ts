/** Bitterness of one run: by hop addition, and what a kit's label promises. */
import { isomerisationRatio } from '../../formulas/isomerisation.ts';
import { utilisationTinseth1997 } from '../../formulas/tinseth.ts';
import type { KettleRun } from './kettle.ts';
import type { Case, ExtractPart, HopPart } from './model-input.ts';

export interface HopRow {
  readonly hop: HopPart;
  readonly equivalent_min: number;
  readonly meanGravity_SG: number;
  readonly utilisation: number;
  readonly ibu: number;
}

export interface Bitterness {
  readonly ibu: number;
  readonly hopRows: readonly HopRow[];
  readonly kitBitterness: readonly { readonly part: ExtractPart; readonly ibu: number }[];
}

// Names of this module: an imported one is looked up anew at each use, and this runs some hundred times a plan.
const utilisationOf = utilisationTinseth1997;
const ratioAt = isomerisationRatio;

/** Thicker than any wort that a plan allows; only a nudged input comes here. */
const THICKEST_SG = 1.3;
const LONGEST_MIN = 1000;

/**
 * International bitterness units of the beer.
 *
 * IBU = Σ alpha mass (mg) × U(G, t) / final volume × the share of the chilled wort that reaches the fermenter. U: Tinseth
 * 1997, at G = the mean gravity over the boil minutes in which the addition is in the kettle (flame-out and stand: the
 * end-of-boil gravity); t = boil minutes × k1(T_boil)/k1(100 °C) + stand minutes × k1(T_stand)/k1(100 °C), k1 of Malowicki & Shellhammer 2005.
 * T_boil is water's at the altitude: that a wort boils a little hotter is in the worts the curve was fitted on. A kit's label:
 * IBU × its volume × weight over its weight / final volume × the same share. Steeped and dry hops claim none.
 */
export function bitternessOf(
  c: Case,
  kettle: KettleRun,
  of: { readonly boil_C: number; readonly final_L: number; readonly share: number },
): Bitterness {
  const { boil_C, final_L, share } = of;
  const end_SG = kettle.gravity_SG[kettle.gravity_SG.length - 1]!;
  const boilRatio = ratioAt(boil_C);
  const stand_min = c.standMinutes > 0 ? c.standMinutes * ratioAt(c.stand_C) : 0;
  const hopRows: HopRow[] = [];
  let total = 0;
  for (const hop of c.hops) {
    if (hop.stage === 'dry') continue;
    const late = hop.stage === 'flameout' || hop.stage === 'stand';
    const equivalent_min =
      hop.stage === 'steep'
        ? 0
        : Math.max(0, hop.boil_min * boilRatio + stand_min + (late ? c.chill_min : 0));
    const meanGravity_SG = hop.stage === 'boil' ? kettle.meanGravity_SG[hop.timeIndex]! : end_SG;
    const utilisation =
      c.tinseth * utilisationOf(Math.min(meanGravity_SG, THICKEST_SG), Math.min(equivalent_min, LONGEST_MIN));
    const alpha_mg = hop.weight_kg * c.scale * hop.alpha * 1e6;
    const ibu = ((alpha_mg * utilisation) / final_L) * share;
    total += ibu;
    hopRows.push({ hop, equivalent_min, meanGravity_SG, utilisation, ibu });
  }
  const kitBitterness: { part: ExtractPart; ibu: number }[] = [];
  for (const part of c.parts) {
    if (part.labelBitterness_IBU_L === 0) continue;
    const ibu = (part.labelBitterness_IBU_L / final_L) * (part.stage === 'fermenter' ? 1 : share);
    total += ibu;
    kitBitterness.push({ part, ibu });
  }
  return { ibu: total, hopRows, kitBitterness };
}
