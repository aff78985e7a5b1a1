/** The batch as it really was: the model run again with what was read in the place of what was planned. */
import type { Batch } from './batch.ts';
import type { Case } from './case.ts';
import { figure } from './figures.ts';
import { type Input, uncertainInputs } from './inputs.ts';
import { waterToHeat } from './kettle.ts';
import { runModel } from './model.ts';
import { emptyOutcome, type Outcome, TARGET_INDEX as T } from './outcome.ts';
import type { Figure, TargetKey, Targets } from './plan.ts';
import { propagate } from './propagate.ts';
import type { Observation } from './reduce.ts';

/** Inputs that the readings stand in for; their planned uncertainty no longer counts. */
const REPLACED_BY: Readonly<Record<string, readonly string[]>> = {
  original_gravity: ['yield', 'steep efficiency', 'mash efficiency', 'the kitchen scale'],
  final_gravity: ["the yeast's attenuation"],
  boil_start_volume: ["the kettle's volume mark"],
  boil_end_volume: ['evaporation'],
  fermenter_volume: ["the fermenter's volume mark"],
  warmest_after: ['the warmest temperature'],
};

/** Targets that a batch with readings is recomputed for. */
const AS_BREWED_KEYS: readonly TargetKey[] = [
  'original_gravity',
  'final_gravity',
  'original_extract_plato',
  'alcohol_volume_percent',
  'alcohol_mass_percent',
  'bitterness_ibu',
  'colour_ebc',
  'colour_srm',
  'energy_kcal_per_litre',
  'apparent_attenuation_percent',
  'boil_start_volume_l',
  'boil_start_gravity',
  'boil_end_volume_l',
  'boil_end_gravity',
  'packaged_volume_l',
  'residual_co2_vol',
  'bottle_pressure_20c_kpa',
  'bottle_pressure_30c_kpa',
];

type Values = ReadonlyMap<string, number>;

/** Sets a case to what was read: volumes and evaporation first, then extract and attenuation until the gravities agree. */
function fitToReadings(batch: Batch, planned: Case, read: Values): Case {
  const c: Case = {
    ...planned,
    parts: planned.parts.map((part) => ({ ...part })),
    hops: planned.hops.map((hop) => ({ ...hop })),
    packages: planned.packages.map((part) => ({ ...part })),
  };
  const start_L = read.get('boil_start_volume');
  const end_L = read.get('boil_end_volume');
  c.intoFermenter_L = read.get('fermenter_volume') ?? c.intoFermenter_L;
  c.warmest_C = Math.min(40, read.get('warmest_after') ?? c.warmest_C);
  if (start_L !== undefined) {
    c.boilVolume_L = start_L;
    c.waterToHeat_L = waterToHeat(c);
  }
  if (end_L !== undefined && c.boil_min > 0) {
    // Evaporation moves the end volume litre for litre but for the wort's contraction: two corrections settle it.
    for (let round = 0; round < 4; round++) {
      const short_L = runModel(c).outcome[T.boil_end_volume_l]! - end_L;
      c.boilOff_L_per_h = Math.max(0, c.boilOff_L_per_h + (60 * short_L) / c.boil_min);
    }
  }
  const original = read.get('original_gravity');
  if (original !== undefined && original > 1) {
    for (let round = 0; round < 6; round++) {
      const now = runModel(c).outcome[T.original_gravity]!;
      if (now <= 1) break;
      const factor = (original - 1) / (now - 1);
      for (const part of c.parts) if (part.stage !== 'fermenter') part.yield *= factor;
    }
  }
  const final = read.get('final_gravity');
  if (final !== undefined) {
    let a0 = c.attenuation;
    let f0 = runModel(c).outcome[T.final_gravity]! - final;
    c.attenuation = Math.min(1.22, Math.max(0, a0 + f0 * 15));
    for (let round = 0; round < 8; round++) {
      const f = runModel(c).outcome[T.final_gravity]! - final;
      const a = c.attenuation;
      if (Math.abs(f) < 1e-9 || f === f0) break;
      c.attenuation = Math.min(1.22, Math.max(0, a - (f * (a - a0)) / (f - f0)));
      a0 = a;
      f0 = f;
    }
  }
  const packaged = batch.readings.packaged;
  if (packaged && packaged !== 'not taken') {
    const bottled = packaged.find((part) => part.sugar_g) ?? packaged[0];
    const part = c.packages.find((step) => step.co2_g_per_g > 0) as
      | { volume_L: number; sugar_g: number }
      | undefined;
    const volume_L = read.get('packaged.volume');
    if (part && bottled?.sugar_g) part.sugar_g = bottled.sugar_g.value;
    if (part && volume_L !== undefined) part.volume_L = volume_L;
  }
  return c;
}

export function asBrewed(
  batch: Batch,
  planned: Case,
  readings: readonly Observation[],
): Partial<Targets> | null {
  const known = readings.filter((reading) => reading.value !== null && reading.u > 0);
  if (known.length === 0) return null;
  const values = new Map(known.map((reading) => [reading.key, reading.value!]));
  const fitted = fitToReadings(batch, planned, values);
  const replaced = [...values.keys()].flatMap((key) => REPLACED_BY[key] ?? []);
  const kept = uncertainInputs(batch, fitted).filter(
    (input) => !replaced.some((label) => input.label === label || input.label.endsWith(`: ${label}`)),
  );
  const propagation = propagate(fitted, kept);
  // A reading's own uncertainty goes in by fitting again with the reading moved by it.
  const moved = known.filter((reading) => REPLACED_BY[reading.key]);
  const rows = moved.map((reading): Outcome => {
    const row = emptyOutcome();
    const up = runModel(
      fitToReadings(batch, planned, new Map(values).set(reading.key, reading.value! + reading.u)),
    ).outcome;
    for (let i = 0; i < row.length; i++) row[i] = up[i]! - propagation.nominal[i]!;
    return row;
  });
  const labels: Input[] = [
    ...kept,
    ...moved.map((reading) => ({
      label: reading.key.replaceAll('_', ' '),
      u: reading.u,
      oneSided: false,
      set: () => {},
    })),
  ];
  const all = {
    nominal: propagation.nominal,
    contributions: [...propagation.contributions, ...rows],
    variances: [...propagation.variances, ...rows.map((row) => row.map((change) => change ** 2))],
  };
  const figures: Partial<Record<TargetKey, Figure | null>> = {};
  for (const key of AS_BREWED_KEYS) {
    const needsEnd = FERMENTED.has(key) && !values.has('final_gravity');
    figures[key] = needsEnd ? null : figure(key, all, labels, batch.setup, { read: false });
  }
  return figures as Partial<Targets>;
}

/** Known only once the end gravity has been read. */
const FERMENTED = new Set<TargetKey>([
  'final_gravity',
  'alcohol_volume_percent',
  'alcohol_mass_percent',
  'energy_kcal_per_litre',
  'apparent_attenuation_percent',
]);
