/** The yeast's attenuation, worked back from the two gravities. */
import { BALLING_APPARENT_SHARE, realExtractBalling } from '../../formulas/attenuation.ts';
import { platoFromSpecificGravity } from '../../formulas/gravity.ts';
import { extractOf } from '../model/kettle.ts';
import { type Evidence, inputsOf, reading } from './evidence.ts';
import { type Measured, measure } from './measure.ts';

/**
 * Apparent attenuation that the yeast shows in a wort of base malt, from the two gravities of this one.
 *
 * Formula: real attenuation = 1 − RE/OE by Balling; less what simple sugars ferment, over 0.8192 × the malts' mass ×
 *   their relative fermentability.
 * Source: the plan's fermentation, solved for the attenuation. Derived.
 * Range: both gravities read, nothing fermentable added after pitching; result a share; else null.
 * Uncertainty: both readings, fermentabilities, yields and efficiencies.
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function attenuationOf(from: Evidence): Measured | null {
  const original = reading(from, 'original_gravity');
  const final = reading(from, 'final_gravity');
  if (!original || !final || from.c.parts.some(({ stage }) => stage === 'fermenter')) return null;
  const inputs = inputsOf(from, 'fermentability', 'yield', 'steepEfficiency', 'mashEfficiency');
  return measure([original, final], from.c, inputs, ([original_SG = 1, final_SG = 1], c) => {
    const original_P = platoFromSpecificGravity(original_SG);
    const real_P = realExtractBalling({ original_P, apparent_P: platoFromSpecificGravity(final_SG) });
    let all_kg = 0;
    let sugar_kg = 0;
    let malt_kg = 0;
    for (const part of c.parts) {
      const mass_kg = extractOf(part, c);
      all_kg += mass_kg;
      if (part.as === 'sugar') sugar_kg += mass_kg;
      else if (part.as === 'malt') malt_kg += mass_kg * (1 + (part.fermentability - 1) * c.fermentability);
    }
    const fermented = (1 - real_P / original_P) * all_kg;
    return (fermented - sugar_kg) / (BALLING_APPARENT_SHARE * malt_kg);
  });
}
