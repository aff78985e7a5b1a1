import type { Recipe } from '../../batch/types/recipe.ts';
import type { Celsius, Litre, LitrePerKilogram } from '../../units/brands.ts';
import type { Units } from '../../units/dimension.ts';
import {
  formatAbsorption,
  formatMass,
  formatTemperature,
  formatVolume,
  stepped,
  temperatureParts,
} from '../../units/format/format.ts';
import type { Given, GivenAmount, GivenRange } from '../../units/parse/given.ts';

const degrees = (of: Given<Celsius>, units: Units): Given<Celsius> => ({
  ...of,
  written: formatTemperature(of.value, units),
});
/** A bottle of 12 fl oz is one of 355 ml: what was stated stays as exact as it was. */
const litresText = (value_L: number, units: Units): string =>
  units === 'metric' && value_L < 1 ? `${stepped(value_L * 1000, 1)} ml` : formatVolume(value_L, units);
const litres = (of: Given<Litre> | null, units: Units): Given<Litre> | null =>
  of && { ...of, written: litresText(of.value, units) };

function band(of: GivenRange<Celsius> | null, units: Units): GivenRange<Celsius> | null {
  if (of === null) return null;
  const low = of.low === of.high ? '' : `${temperatureParts(of.low, units).number}-`;
  return { ...of, written: `${low}${formatTemperature(of.high, units)}` };
}

function amount(of: GivenAmount, units: Units): GivenAmount {
  if (of.unit === 'g') return { ...of, written: formatMass(of.value, units) };
  return of.unit === 'L' ? { ...of, written: litresText(of.value, units) } : of;
}

const ratio = (of: Given<LitrePerKilogram>, units: Units): Given<LitrePerKilogram> => ({
  ...of,
  written: formatAbsorption(of.value, units),
});

/** The same recipe in the words of other units: temperatures, volumes and weights, no value changed. */
export function reworded(recipe: Recipe, units: Units): Recipe {
  const { steep, mash, stand } = recipe;
  return {
    ...recipe,
    intoFermenter_L: {
      ...recipe.intoFermenter_L,
      written: formatVolume(recipe.intoFermenter_L.value, units),
    },
    boilVolume_L: litres(recipe.boilVolume_L, units),
    rinse_L: litres(recipe.rinse_L, units),
    steep: steep && {
      ...steep,
      temperature_C: degrees(steep.temperature_C, units),
      water_L: litres(steep.water_L, units),
    },
    mash: mash && {
      ...mash,
      temperature_C: degrees(mash.temperature_C, units),
      ratio_L_per_kg: ratio(mash.ratio_L_per_kg, units),
    },
    stand: stand && { ...stand, temperature_C: degrees(stand.temperature_C, units) },
    other: recipe.other.map((item) => ({ ...item, amount: amount(item.amount, units) })),
    yeast: recipe.yeast.map((item) => ({ ...item, temperature_C: band(item.temperature_C, units) })),
    ferment: recipe.ferment.map((step) => ({ ...step, temperature_C: degrees(step.temperature_C, units) })),
    packaging: recipe.packaging.map((step) => ({
      ...step,
      bottle_L: litres(step.bottle_L, units),
      volume_L: litres(step.volume_L, units),
      temperature_C: step.temperature_C && degrees(step.temperature_C, units),
    })),
  };
}
