/** What the truth is worked out with: formulas other than the plan's, so that neither can hide the other's fault. */

export type Random = { uniform(): number; normal(mean: number, u: number): number };

export interface Wort {
  readonly extract_kg: number;
  readonly water_kg: number;
}

/** Water at 20 °C. */
export const WATER_KG_PER_L = 0.9982;
/** Balling's share of real in apparent attenuation, his extract and gas by alcohol. From memory. */
export const REAL_SHARE = 0.8192;
const EXTRACT_PER_ALCOHOL = 2.0665;
const GAS_PER_ALCOHOL = 0.9565;
/** Weight of a volume of carbon dioxide per litre of beer, and litres of it by mol. */
const GAS_g_per_L = 1.9768;
const GAS_L_per_mol = 44.0095 / GAS_g_per_L;

/** Specific gravity 20/20 of an extract: a fit to Plato's table, within 0.0002 below 25 °P. From memory. */
export const sgOfPlato = (plato_P: number): number => 1 + plato_P / (258.6 - (227.1 / 258.2) * plato_P);

const platoOf = ({ extract_kg, water_kg }: Wort): number => (100 * extract_kg) / (extract_kg + water_kg);
export const sgOf = (wort: Wort): number => sgOfPlato(platoOf(wort));
/** L at 20 °C. */
export const volumeOf = (wort: Wort): number =>
  (wort.extract_kg + wort.water_kg) / (sgOf(wort) * WATER_KG_PER_L);

/** Water that makes a volume with an extract, kg, by halving. */
export function waterFor(extract_kg: number, volume_L: number): number {
  let [low, high] = [0, 1.1 * volume_L];
  for (let step = 0; step < 50; step++) {
    const water_kg = (low + high) / 2;
    if (volumeOf({ extract_kg, water_kg }) < volume_L) low = water_kg;
    else high = water_kg;
  }
  return low;
}

/** Density of water against 1000 kg/m³: McCutcheon, Martin and Barnwell 1993. From memory; within 0.0002 to 100 °C. */
const waterDensity = (t_C: number): number =>
  1 - ((t_C + 288.9414) * (t_C - 3.9863) ** 2) / (508929.2 * (t_C + 68.12963));

/** What wort measures boiling hot against its volume at 20 °C, taken to expand as water. */
export const HOT_RATIO = waterDensity(20) / waterDensity(100);

/** What a glass hydrometer made for 20 °C shows in a wort at another temperature; glass by ISO 1768:1975. */
export const shownBy = (of_SG: number, sample_C: number): number =>
  (of_SG * waterDensity(sample_C) * (1 + 25e-6 * (sample_C - 20))) / waterDensity(20);

/** Temperature of wort and water poured together; specific heat of wort as 4.19 less 0.025 for each °P kJ/kgK. From memory. */
export function mixed_C(wort: Wort, wort_C: number, water_kg: number, water_C: number): number {
  const hot = (wort.extract_kg + wort.water_kg) * (4.19 - 0.025 * platoOf(wort));
  const cold = 4.19 * water_kg;
  return (hot * wort_C + cold * water_C) / (hot + cold);
}

/** Beer holds less gas than water. From memory: 1 to 5 % less. */
const BEER_HOLDS = 0.97;

/**
 * Gas that stays in beer open to the air, volumes. Henry's constant of Carroll, Slupsky and Mather 1991 (J. Phys. Chem. Ref.
 * Data 20:1201, ln H = −6.8346 + 1.2817e4/T − 3.7668e6/T² + 2.997e8/T³ in MPa), vapour pressure by Magnus; both from memory.
 */
export function residualGas_vol(t_C: number): number {
  const t_K = t_C + 273.15;
  const henry_MPa = Math.exp(-6.8346 + 1.2817e4 / t_K - 3.7668e6 / t_K ** 2 + 2.997e8 / t_K ** 3);
  const vapour_kPa = 0.6112 * Math.exp((17.62 * t_C) / (243.12 + t_C));
  const water_mol_per_L = (1000 * waterDensity(t_C)) / 18.015;
  return (BEER_HOLDS * (101.325 - vapour_kPa) * 1e-3 * water_mol_per_L * GAS_L_per_mol) / henry_MPa;
}

/** Gas of a sugar, volumes. */
export const gasOfSugar_vol = (gas_g: number, volume_L: number): number => gas_g / (GAS_g_per_L * volume_L);

/** Gas of a fall by one point where beers end: Balling, 0.26 °P a point. From memory. */
export const GAS_OF_POINT_vol =
  (0.2555 * REAL_SHARE * 10.07 * (GAS_PER_ALCOHOL / EXTRACT_PER_ALCOHOL)) / GAS_g_per_L;

/** Alcohol of a beer by its extracts, volume per cent: Balling; 0.7907 the density of ethanol against water's. From memory. */
export function alcohol_percent(original_P: number, final_P: number, final_SG: number): number {
  const real_P = REAL_SHARE * final_P + (1 - REAL_SHARE) * original_P;
  const byMass = (original_P - real_P) / (EXTRACT_PER_ALCOHOL - 0.010665 * original_P);
  return (byMass * final_SG) / 0.7907;
}
