/** What brings a wort of a read volume and gravity to its target: mass balances, no gravity points. */
import { sucroseDensity20_kgm3 } from '../../formulas/density.ts';
import { platoFromSpecificGravity } from '../../formulas/gravity.ts';
import { WATER_KG_PER_L } from '../../formulas/wort.ts';
import { FERMENTER_FULL } from '../model/defaults.ts';
import { extractOf } from '../model/kettle.ts';
import type { Case } from '../model/model-input.ts';
import type { Batch } from '../types/batch.ts';

export interface Correction {
  /** L at 20 °C; null where the wort is not too strong. */
  readonly addWater_L: number | null;
  /** Grams of `extract`; null where the wort is not too weak. */
  readonly addExtract_g: number | null;
  /** Minutes more at the setup's evaporation; null where the wort is not too weak. */
  readonly boilOn_min: number | null;
  /** The extract that the grams are of. */
  readonly extract: { readonly name: string; readonly yield: number };
}

/** Dry malt extract, where the recipe has no extract of its own. Common practice, from memory. */
const ASSUMED_EXTRACT = { name: 'pale dry extract', yield: 0.95 } as const;

/** The recipe's own main extract is at hand: corrections are stated in it. */
export function correctingExtract(batch: Batch): { readonly name: string; readonly yield: number } {
  const own = [...batch.recipe.extract].sort((a, b) => b.weight_g.value - a.weight_g.value)[0];
  return own ? { name: own.name, yield: own.yield.value } : ASSUMED_EXTRACT;
}

/**
 * Water, extract or boiling that brings `volume_L` (at 20 °C) of wort from a gravity to another.
 *
 * Extract mass and water mass are conserved: water to add = E/p − M, extract to add = (p M − E)/(y − p), water to boil
 * away = M − E/p, with p the target's mass share. Gravities 20/20, 1.000 to 1.300.
 */
export function correction(of: {
  batch: Batch;
  c: Case;
  reading_SG: number;
  volume_L: number;
  target_SG: number;
}): Correction {
  const { c, volume_L } = of;
  const read = platoFromSpecificGravity(of.reading_SG) / 100;
  const wanted = platoFromSpecificGravity(of.target_SG) / 100;
  const mass_kg = (volume_L * sucroseDensity20_kgm3(100 * read)) / 1000;
  const extract_kg = mass_kg * read;
  const extract = correctingExtract(of.batch);
  const surplus_kg = extract_kg / wanted - mass_kg;
  const weak = surplus_kg < 0;
  return {
    addWater_L: weak ? null : surplus_kg / WATER_KG_PER_L,
    addExtract_g:
      weak && extract.yield > wanted
        ? (1000 * (wanted * mass_kg - extract_kg)) / (extract.yield - wanted)
        : null,
    boilOn_min:
      weak && c.boilOff_L_per_h > 0 ? (60 * -surplus_kg) / WATER_KG_PER_L / c.boilOff_L_per_h : null,
    extract,
  };
}

/** More water than this share of the wort, or more extract than this share of the recipe's, is another beer. Common practice, no source. */
const MOST_ADDED = 0.1;

/** How much of either is sensible: water also only where the fermenter has the room, a tenth where its size is not known. */
export function correctionLimits(
  batch: Batch,
  c: Case,
  volume_L: number,
): { readonly water_L: number; readonly extract_g: number } {
  const { fermenter_L } = batch.setup;
  const room_L = fermenter_L
    ? Math.max(0, fermenter_L.value * FERMENTER_FULL - volume_L)
    : MOST_ADDED * volume_L;
  const extract_kg = c.parts.reduce(
    (sum, part) => sum + (part.stage === 'fermenter' ? 0 : extractOf(part, c)),
    0,
  );
  const { yield: share } = correctingExtract(batch);
  return {
    water_L: Math.min(room_L, MOST_ADDED * volume_L),
    extract_g: share > 0 ? (1000 * MOST_ADDED * extract_kg) / share : 0,
  };
}
