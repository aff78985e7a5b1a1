/** What a glass hydrometer shows in a sample that is not at its calibration temperature. */
import { platoFromDensity, sucroseDensity_kgm3, waterDensity_kgm3 } from './density.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from './gravity.ts';
import { requireWithin } from './range.ts';

/** Cubic expansion of a hydrometer's glass, per kelvin: ISO 1768:1975. Hard glass would be 10e-6. */
export const HYDROMETER_GLASS_EXPANSION_per_K = 25e-6;

function requireTemperatures(sample_C: number, calibrated_C: number): void {
  requireWithin('sample temperature in °C', sample_C, 0, 80);
  requireWithin('calibration temperature in °C', calibrated_C, 0, 40);
}

/**
 * Specific gravity 20/20 of the wort in which a hydrometer shows a reading.
 *
 * A hydrometer made for tc shows R = ρ(P, t) (1 + γ (t − tc)) / ρw(tc), γ the expansion of its glass. This is
 * solved for the extract P, and the answer is the gravity of that extract at 20 °C, whatever temperature the
 * hydrometer is made for. Source: Archimedes' principle with the sucrose set of `sucroseDensity_kgm3` and γ of
 * ISO 1768:1975; derived. Sample 0 to 80 °C, calibration 0 to 40 °C, reading such that the extract is −8 to
 * 85 °P. Good to 0.0003 at 10 to 25 °C, 0.0006 at 40 °C, 0.001 at 60 °C; with alcohol in the sample, 0.0003 more.
 * Throws RangeError outside the ranges. Cases: tests/formulas/hydrometer.cases.ts.
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
 * Source, ranges, errors and accuracy as there; result in the units of the hydrometer's scale.
 */
export function hydrometerReading(of: { sg_2020: number; sample_C: number; calibrated_C: number }): number {
  const { sg_2020, sample_C, calibrated_C } = of;
  requireTemperatures(sample_C, calibrated_C);
  const glass = 1 + HYDROMETER_GLASS_EXPANSION_per_K * (sample_C - calibrated_C);
  const density_kgm3 = sucroseDensity_kgm3(platoFromSpecificGravity(sg_2020), sample_C);
  return (density_kgm3 * glass) / waterDensity_kgm3(calibrated_C);
}
