/** Bitterness of one run: by hop addition, and what a kit's label promises. */
import { coolingNewton } from '../../formulas/cooling.ts';
import { equivalentBoilMinutesAlong, isomerisationRatio } from '../../formulas/isomerisation.ts';
import { minutesAt100C, utilisationTinseth1997 } from '../../formulas/tinseth.ts';
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

// Names of this module: an imported one is looked up again at each use, and this runs some hundred times a plan.
const utilisationOf = utilisationTinseth1997;
const ratioAt = isomerisationRatio;

/** Thicker than any wort that a plan allows; only a nudged input comes here. */
const THICKEST_SG = 1.3;
const LONGEST_MIN = 1000;

/**
 * Tinseth's worts were chilled in the ordinary way, so his curve holds the chill of hops that boil for so long; from later hops
 * it takes ever less of it. Judgment, no source.
 */
const CHILL_IN_THE_CURVE_MIN = 15;
/** No chill ends at its cold side's own temperature. */
const LEAST_ABOVE_COLD_K = 2;
/** A tub of ice and water about the pot. Common practice, no source. */
const ASSUMED_ICE_BATH_C = 4;

function coldSide_C(c: Case): number {
  if (c.chillWith === 'ice bath') return ASSUMED_ICE_BATH_C;
  return c.chillWith === 'none' ? c.room_C : c.water_C;
}

/** Minutes at 100 °C that the chill is worth, from where the boil or the stand leaves the wort. */
function chillWorth_min(c: Case, boil_C: number): number {
  const from_C = c.standMinutes > 0 ? c.stand_C : c.boil_min > 0 ? boil_C : 0;
  const to_C = Math.max(0, c.chillTo_C);
  const minutes = c.chillIn_min;
  if (from_C - to_C < LEAST_ABOVE_COLD_K || !(minutes > 0.1)) return 0;
  const cold_C = Math.min(coldSide_C(c), to_C - LEAST_ABOVE_COLD_K);
  return equivalentBoilMinutesAlong({
    temperature_C: coolingNewton({ from_C, to_C, cold_C, minutes }),
    minutes,
  });
}

/** Part of the chill that counts for a hop: all of it at flame-out, none with a quarter of an hour left. */
function shareOfChill(hop: HopPart): number {
  if (hop.stage === 'steep') return 0;
  return Math.max(0, 1 - hop.boil_min / CHILL_IN_THE_CURVE_MIN);
}

/**
 * International bitterness units of the beer.
 *
 * IBU = Σ alpha mass (mg) × U(G, t) / final volume × the share of the chilled wort that reaches the fermenter. U: Tinseth
 * 1997, at G = the mean gravity over the boil minutes in which the addition is in the kettle (flame-out and stand: the
 * end-of-boil gravity); t = the boil's minutes as minutes at 100 °C + those that the stand and, for late hops, the chill are
 * worth by the kinetics of Malowicki & Shellhammer 2005. T_boil is water's at the altitude: that a wort boils a little hotter
 * is in the worts the curve was fitted on. A kit's label: IBU × its volume × weight over its weight / final volume × the same
 * share. Steeped and dry hops claim none.
 */
export function bitternessOf(
  c: Case,
  kettle: KettleRun,
  of: { readonly boil_C: number; readonly final_L: number; readonly share: number },
): Bitterness {
  const { boil_C, final_L, share } = of;
  const end_SG = kettle.gravity_SG[kettle.gravity_SG.length - 1]!;
  const stand_min = c.standMinutes > 0 ? c.standMinutes * ratioAt(c.stand_C) : 0;
  const chill_min = c.hops.some((hop) => hop.stage !== 'dry' && shareOfChill(hop) > 0)
    ? chillWorth_min(c, boil_C)
    : 0;
  const hopRows: HopRow[] = [];
  let total = 0;
  for (const hop of c.hops) {
    if (hop.stage === 'dry') continue;
    const equivalent_min =
      hop.stage === 'steep'
        ? 0
        : minutesAt100C({ t_C: boil_C, minutes: Math.min(hop.boil_min, LONGEST_MIN) }) +
          stand_min +
          shareOfChill(hop) * chill_min;
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
