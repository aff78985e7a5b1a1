/** What a glass hydrometer shows in a sample that is not at its calibration temperature. */
import { platoFromDensity, sucroseDensity_kgm3, waterDensity_kgm3 } from './density.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from './gravity.ts';
import { requireWithin } from './range.ts';

/** Cubic expansion of a hydrometer's glass, per kelvin: ISO 1768:1975. Hard glass would be 10e-6. */
const HYDROMETER_GLASS_EXPANSION_per_K = 25e-6;

function requireTemperatures(sample_C: number, calibrated_C: number): void {
  requireWithin('sample temperature in °C', sample_C, 0, 80);
  requireWithin('calibration temperature in °C', calibrated_C, 0, 40);
}

/**
 * Specific gravity 20/20 of the wort in which a hydrometer shows a reading.
 *
 * Formula: a hydrometer made for tc shows R = ρ(P, t) (1 + γ (t − tc)) / ρw(tc), γ the expansion of its
 *   glass. This is solved for the extract P, and the answer is the gravity of that extract at 20 °C,
 *   whatever temperature the hydrometer is made for.
 * Source: Archimedes' principle with ICUMSA SPS-4 (see `sucrose-set.ts`) and the glass of ISO 1768:1975
 *   (opened). Derived.
 * Range: sample 0 to 80 °C, calibration 0 to 40 °C, readings 0.9 to 1.5 that belong to −8 to 85 °P; result
 *   without unit; RangeError outside.
 * Uncertainty: 0.0003 at 10 to 25 °C, 0.0006 at 40 °C, 0.001 at 60 °C; with alcohol in the sample 0.0003
 *   more.
 */
export function correctHydrometer(of: {
  reading_SG: number;
  sample_C: number;
  calibrated_C: number;
}): number {
  const { reading_SG, sample_C, calibrated_C } = of;
  requireTemperatures(sample_C, calibrated_C);
  requireWithin('hydrometer reading', reading_SG, 0.9, 1.5);
  const glass = 1 + HYDROMETER_GLASS_EXPANSION_per_K * (sample_C - calibrated_C);
  const density_kgm3 = (reading_SG * waterDensity_kgm3(calibrated_C)) / glass;
  return specificGravityFromPlato(platoFromDensity(density_kgm3, sample_C));
}

/**
 * What a hydrometer shows in a wort of a specific gravity 20/20: the inverse of `correctHydrometer`.
 *
 * Formula: R = ρ(P, t) (1 + γ (t − tc)) / ρw(tc).
 * Source: as `correctHydrometer`.
 * Range: SG 0.970 to 1.448, sample 0 to 80 °C, calibration 0 to 40 °C; result on the hydrometer's own
 *   scale; RangeError outside.
 * Uncertainty: as `correctHydrometer`.
 */
export function hydrometerReading(of: { sg_2020: number; sample_C: number; calibrated_C: number }): number {
  const { sg_2020, sample_C, calibrated_C } = of;
  requireTemperatures(sample_C, calibrated_C);
  const glass = 1 + HYDROMETER_GLASS_EXPANSION_per_K * (sample_C - calibrated_C);
  const density_kgm3 = sucroseDensity_kgm3(platoFromSpecificGravity(sg_2020), sample_C);
  return (density_kgm3 * glass) / waterDensity_kgm3(calibrated_C);
}
