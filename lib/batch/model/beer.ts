/** What the wort becomes: colour, end gravity, alcohol, food energy. */
import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../../formulas/alcohol.ts';
import {
  apparentAttenuation,
  apparentExtractBalling,
  BALLING_APPARENT_SHARE,
  realAttenuation as realAttenuationOf,
  realExtractBalling,
} from '../../formulas/attenuation.ts';
import { ebcFromSrm, mcu, srmMorey } from '../../formulas/colour.ts';
import { energyAsbc_kcal_per_L } from '../../formulas/energy.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../../formulas/gravity.ts';
import { platoOf, type Wort } from '../../formulas/wort.ts';
import { extractOf } from './kettle.ts';
import type { Case } from './model-input.ts';
import { type Outcome, TARGET_INDEX } from './target-vector.ts';

// Names of this module: an imported one is looked up again at each use, and this runs some hundred times a plan.
const T = TARGET_INDEX;
const extract = extractOf;
const extractShare = platoOf;
const apparentOf = apparentExtractBalling;
const gravityOf = specificGravityFromPlato;
const alcoholByMass = alcoholByMassBalling_percent;
const alcoholByVolume = alcoholByVolume_percent;
const energy = energyAsbc_kcal_per_L;
const APPARENT_SHARE = BALLING_APPARENT_SHARE;

/** Colour by Morey's fit, over the final volume and what reaches the fermenter; what is added to the fermenter counts whole. */
export function colour(c: Case, out: Outcome, of: { final_L: number; share: number }): void {
  let units = 0;
  for (const { stage, weight_kg, colour_L } of c.parts) {
    const reaches = stage === 'fermenter' ? 1 : of.share;
    units += mcu({ weight_kg: weight_kg * c.scale, colour_L, volume_L: of.final_L }) * reaches;
  }
  const srm = c.morey * srmMorey(Math.max(0, units));
  out[T.colour_srm] = srm;
  out[T.colour_ebc] = ebcFromSrm(srm);
}

/**
 * Fermentation: the wort with what is added after pitching, down to its real attenuation.
 *
 * Real attenuation = Σ mass × attenuation / Σ mass over the items: malt 0.8192 × the yeast's apparent attenuation × the
 * item's relative fermentability (at most 1), simple sugars 1, unfermentable sugars 0. Real extract = OE × (1 − RA), apparent
 * extract and FG by Balling's relation, alcohol by Balling, energy by ASBC Beer-33. Where the end gravity was read it
 * takes the place of the attenuation. Without yeast there is no beer, and nothing is set.
 *
 * @returns the real attenuation, 0 to 1; null without yeast
 */
export function ferment(c: Case, out: Outcome, of: { wort: Wort; share: number }): number | null {
  if (c.yeast === null && c.finalRead_SG === null) return null;
  const real = APPARENT_SHARE * c.attenuation;
  let all_kg = 0;
  let fermented_kg = 0;
  let laterExtract_kg = 0;
  let laterWater_kg = 0;
  for (const part of c.parts) {
    const later = part.stage === 'fermenter';
    const mass_kg = extract(part, c) * (later ? 1 : of.share);
    all_kg += mass_kg;
    if (part.as === 'sugar') fermented_kg += mass_kg;
    else if (part.as === 'malt') {
      fermented_kg += mass_kg * Math.min(1, real * (1 + (part.fermentability - 1) * c.fermentability));
    }
    if (later) {
      laterExtract_kg += mass_kg;
      laterWater_kg += part.weight_kg * c.scale - mass_kg;
    }
  }
  const original_P = extractShare({
    extract_kg: of.wort.extract_kg + laterExtract_kg,
    water_kg: of.wort.water_kg + laterWater_kg,
  });
  let realAttenuation = all_kg > 0 ? fermented_kg / all_kg : 0;
  let final_SG = c.finalRead_SG;
  let apparent_P: number;
  let real_P: number;
  if (final_SG === null) {
    real_P = original_P * (1 - realAttenuation);
    apparent_P = apparentOf({ original_P, real_P });
    final_SG = gravityOf(apparent_P);
  } else {
    apparent_P = platoFromSpecificGravity(final_SG);
    real_P = realExtractBalling({ original_P, apparent_P });
    realAttenuation = original_P > 0 ? realAttenuationOf({ original_P, real_P }) : 0;
  }
  const alcoholByMass_percent = alcoholByMass({ original_P, real_P });
  out[T.final_gravity] = final_SG;
  out[T.alcohol_mass_percent] = alcoholByMass_percent;
  out[T.alcohol_volume_percent] = alcoholByVolume({ alcoholByMass_percent, gravity_SG: final_SG });
  out[T.energy_kcal_per_litre] = energy({
    alcoholByMass_percent,
    real_P,
    gravity_SG: final_SG,
  });
  out[T.apparent_attenuation_percent] =
    original_P > 0 ? 100 * apparentAttenuation({ original_P, apparent_P }) : Number.NaN;
  return realAttenuation;
}
