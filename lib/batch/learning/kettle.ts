/** Evaporation, efficiencies and losses from volumes and gravities: mass balances turned round. */
import { sucroseDensity20_kgm3 } from '../../formulas/density.ts';
import { platoFromSpecificGravity } from '../../formulas/gravity.ts';
import { extractIn_kg, WATER_KG_PER_L, waterForVolume } from '../../formulas/wort.ts';
import { extractOf, heldByHops } from '../model/kettle.ts';
import type { Case, ExtractPart } from '../model/model-input.ts';
import { TARGET_INDEX as T } from '../model/target-vector.ts';
import { boilMinutes } from '../readings/boil-clock.ts';
import { type Evidence, inputsOf, reading } from './evidence.ts';
import { type Measured, measure, type ReadingInput } from './measure.ts';

type Stages = readonly ExtractPart['stage'][];
const BEFORE: Stages = ['before'];
const LATE: Stages = ['boil', 'flameout'];
const TO_THE_END: Stages = [...BEFORE, ...LATE];

const partsOf = (c: Case, stages: Stages): readonly ExtractPart[] =>
  c.parts.filter(({ stage }) => stages.includes(stage));

/** Extract that the parts of some stages bring, kg; without what is steeped or mashed, where that is asked of. */
const brought = (c: Case, stages: Stages, but?: 'steep' | 'mash'): number =>
  partsOf(c, stages).reduce((sum, part) => sum + (part.efficiency === but ? 0 : extractOf(part, c)), 0);

/** Hops in the kettle, or dry hops, kg. */
const hopWeight = (c: Case, where: 'kettle' | 'dry'): number =>
  c.hops
    .filter(({ stage }) => (stage === 'dry') === (where === 'dry'))
    .reduce((sum, { weight_kg }) => sum + weight_kg * c.scale, 0);

/**
 * Evaporation from the volumes at the boil's start and end.
 *
 * Formula: (water in the start volume + water of what went in late − water in the end volume) ÷ hours boiled; the
 *   water of a volume from its extract by the density of sucrose solutions.
 * Source: conservation of water. Derived.
 * Range: both volumes read, a boil of at least 10 minutes; result in L/h of water at 20 °C; else null.
 * Uncertainty: both marks, the minutes, the extract's yields and the scale.
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function boilOff(from: Evidence): Measured | null {
  const start = reading(from, 'boil_start_volume');
  const end = reading(from, 'boil_end_volume');
  const { minutes: boiled, u } = boilMinutes(from.batch, from.detail);
  const minutes: ReadingInput = { name: 'boil minutes', value: boiled, u };
  if (!start || !end || !(minutes.value >= 10)) return null;
  const inputs = inputsOf(from, 'scale', 'yield', 'steepEfficiency', 'mashEfficiency');
  return measure([start, end, minutes], from.c, inputs, ([start_L = 0, end_L = 0, boiled_min = 0], c) => {
    const late_kg = partsOf(c, LATE).reduce(
      (sum, part) => sum + part.weight_kg * c.scale * (1 - part.yield),
      0,
    );
    const gone_kg =
      waterForVolume(brought(c, BEFORE), start_L) + late_kg - waterForVolume(brought(c, TO_THE_END), end_L);
    return (60 * gone_kg) / WATER_KG_PER_L / boiled_min;
  });
}

/** One way to the mass of extract that stood in the kettle. */
interface ExtractWay {
  readonly readings: readonly (ReadingInput | null)[];
  readonly stages: Stages;
  readonly mass_kg: (values: readonly number[], c: Case) => number;
}

const WAYS = (from: Evidence): readonly ExtractWay[] => [
  {
    readings: [reading(from, 'boil_start_volume'), reading(from, 'boil_start_gravity')],
    stages: BEFORE,
    mass_kg: ([litres = 0, sg = 1]) => extractIn_kg(litres, sg),
  },
  {
    readings: [reading(from, 'boil_end_volume'), reading(from, 'boil_end_gravity')],
    stages: TO_THE_END,
    mass_kg: ([litres = 0, sg = 1]) => extractIn_kg(litres, sg),
  },
  {
    readings: [
      reading(from, 'fermenter_volume'),
      reading(from, 'original_gravity'),
      reading(from, 'boil_end_volume'),
    ],
    stages: TO_THE_END,
    // What stayed behind was wort of the kettle's strength.
    mass_kg: ([litres = 0, sg = 1, end_L = 0], c) =>
      (extractIn_kg(litres, sg) * end_L) / (end_L - c.kettleLoss_L - heldByHops(c)),
  },
];

/**
 * Share of the grain's laboratory extract that a steep or a mash gave.
 *
 * Formula: (extract found in the kettle − extract of everything else) ÷ (weight × laboratory extract), the extract found
 *   from volume × density × °P at the boil's start, at its end, or in the fermenter, whichever tells it best.
 * Source: conservation of extract. Derived.
 * Range: a volume and a gravity of the same moment; result a share; else null. Nothing is learned of a steep beside a mash.
 * Uncertainty: mark, hydrometer, scale, all yields; a little grain beside much extract tells next to nothing, and says so.
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function efficiency(from: Evidence, soak: 'steep' | 'mash'): Measured | null {
  const { c } = from;
  if (soak === 'steep' && c.mashGrain_kg > 0) return null;
  if (c.parts.some(({ stage }) => stage === 'stand')) return null;
  const found = WAYS(from).flatMap(({ readings, stages, mass_kg }) => {
    const taken = readings.filter((one) => one !== null);
    if (taken.length < readings.length) return [];
    const inputs = inputsOf(
      from,
      'scale',
      'yield',
      'steepEfficiency',
      'kettleLoss_L',
      'hopAbsorption_L_per_kg',
    );
    const one = measure(taken, c, inputs, (values, now) => {
      const potential_kg = now.parts
        .filter((part) => part.efficiency === soak)
        .reduce((sum, part) => sum + part.weight_kg * now.scale * part.yield, 0);
      return (mass_kg(values, now) - brought(now, stages, soak)) / potential_kg;
    });
    return one === null ? [] : [one];
  });
  return found.reduce<Measured | null>((best, one) => (best === null || one.u < best.u ? one : best), null);
}

/** What one day says of the wort that did not reach the fermenter, whatever held it. */
interface LeftBehind {
  readonly readings: readonly ReadingInput[];
  /** L at 20 °C, from the readings' values. */
  readonly volume_L: (values: readonly number[], c: Case) => number;
}

/** End volume − (mass in the fermenter − mass of the top-up) ÷ density of the kettle's wort; null where it was not read. */
function leftBehind(from: Evidence): LeftBehind | null {
  const { c, outcome } = from;
  const end = reading(from, 'boil_end_volume');
  const filled = reading(from, 'fermenter_volume');
  const noneWanted = outcome[T.top_up_l]! < 0.05 && from.batch.readings.top_up === undefined;
  const topUp = reading(from, 'top_up.volume') ?? (noneWanted ? { name: 'no top-up', value: 0, u: 0 } : null);
  if (!end || !filled || !topUp || c.boil_min <= 0) return null;
  if (c.parts.some(({ stage }) => stage === 'stand')) return null;
  const gravity = reading(from, 'original_gravity') ?? {
    name: 'planned gravity',
    value: outcome[T.original_gravity]!,
    u: from.batch.setup.hydrometer.u,
  };
  return {
    readings: [end, filled, topUp, gravity],
    volume_L: ([end_L = 0, filled_L = 0, topUp_L = 0, sg = 1], now) => {
      const extract_kg = brought(now, TO_THE_END);
      const kettle_kg_per_L = (extract_kg + waterForVolume(extract_kg, end_L)) / end_L;
      const fermenter_kg = (filled_L * sucroseDensity20_kgm3(platoFromSpecificGravity(sg))) / 1000;
      return end_L - (fermenter_kg - topUp_L * WATER_KG_PER_L) / kettle_kg_per_L;
    },
  };
}

/**
 * Wort left in the kettle.
 *
 * Formula: end volume − what the hops hold − (mass in the fermenter − mass of the top-up) ÷ density of the kettle's wort.
 * Source: conservation of mass. Derived.
 * Range: end volume, fermenter volume and top-up volume read (or none planned); result in L at 20 °C; else null.
 * Uncertainty: three volumes, and what hops hold.
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function kettleLoss(from: Evidence): Measured | null {
  const left = leftBehind(from);
  if (left === null) return null;
  const inputs = inputsOf(
    from,
    'scale',
    'yield',
    'steepEfficiency',
    'mashEfficiency',
    'hopAbsorption_L_per_kg',
  );
  return measure(
    left.readings,
    from.c,
    inputs,
    (values, now) => left.volume_L(values, now) - heldByHops(now),
  );
}

/**
 * Wort that a kilogram of hops holds back.
 *
 * Formula: (end volume − what stays in the kettle − (mass in the fermenter − mass of the top-up) ÷ density of the kettle's
 *   wort) ÷ weight of the hops in the kettle.
 * Source: conservation of mass. Derived.
 * Range: as `kettleLoss`, with hops in the kettle; result in L/kg; else null.
 * Uncertainty: three volumes over a small weight: one batch tells next to nothing, and says so. What stays in the kettle is a
 *   doubt that batches share, so that only days with more and less hops tell the two apart.
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function hopAbsorption(from: Evidence): Measured | null {
  const left = leftBehind(from);
  if (left === null) return null;
  const inputs = inputsOf(from, 'scale', 'yield', 'steepEfficiency', 'mashEfficiency', 'kettleLoss_L');
  return measure(
    left.readings,
    from.c,
    inputs,
    (values, now) => (left.volume_L(values, now) - now.kettleLoss_L) / hopWeight(now, 'kettle'),
  );
}

/**
 * Beer left on the yeast.
 *
 * Formula: volume in the fermenter + what went in later − what dry hops hold − volume packaged.
 * Source: as the plan's own balance of volumes. Derived.
 * Range: both volumes read, every packaged part's; result in L at 20 °C; else null.
 * Uncertainty: two marks, and what dry hops hold. Samples drawn count as lost.
 * Cases: tests/batch/learning/worked-back.test.ts.
 */
export function fermenterLoss(from: Evidence): Measured | null {
  const filled = reading(from, 'fermenter_volume');
  const { packaged } = from.batch.readings;
  if (!filled || packaged === undefined || packaged === 'not taken' || packaged.length === 0) return null;
  const volumes = packaged.map((_, i) =>
    reading(from, packaged.length === 1 ? 'packaged.volume' : `packaged[${i}].volume`),
  );
  const taken = volumes.filter((one) => one !== null);
  if (taken.length < volumes.length) return null;
  const inputs = inputsOf(from, 'scale', 'hopAbsorption_L_per_kg');
  return measure([filled, ...taken], from.c, inputs, ([filled_L = 0, ...packaged_L], c) => {
    const held_L = hopWeight(c, 'dry') * c.hopAbsorption_L_per_kg;
    return filled_L - held_L - packaged_L.reduce((sum, litres) => sum + litres, 0);
  });
}
