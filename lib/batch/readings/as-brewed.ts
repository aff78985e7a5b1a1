/** The batch as it really was: the model run again with what was read in the place of what was planned. */
import { runModel, runOnly } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { withSugar } from '../model/packaging.ts';
import { emptyOutcome, type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Batch } from '../types/batch.ts';
import { kindAt, placeOf, specOf } from '../types/places.ts';
import type { Figure, Targets } from '../types/plan.ts';
import { TARGET_KEYS, type TargetKey, targetOf } from '../types/targets.ts';
import { figure } from '../uncertainty/figures.ts';
import { type Input, uncertainInputs } from '../uncertainty/inputs.ts';
import { printedRange } from '../uncertainty/printed.ts';
import { runMoved } from '../uncertainty/propagate.ts';
import { fitToReadings, type Values } from './calibrate-to-readings.ts';
import type { Observation } from './normalise-readings.ts';

/** Readings that stand in for a planned number, whose own uncertainty no longer counts. */
const REPLACES: Readonly<Record<string, Input['key'] | null>> = {
  boil_start_volume: 'kettleMark_L',
  boil_start_gravity: null,
  boil_end_volume: 'boilOff_L_per_h',
  boil_end_gravity: null,
  original_gravity: null,
  fermenter_volume: 'fermenterMark_L',
  warmest_after: 'warmest_C',
  final_gravity: 'attenuation',
  'packaged.volume': 'fermenterLoss_L',
  'packaged.sugar': null,
};

/** Inputs that move nothing of what is worked out again here. */
const BEFORE_THE_BEER: ReadonlySet<Input['key']> = new Set<Input['key']>([
  'heat_kW',
  'thermometer_K',
  'chillTo_C',
  'water_C',
  'topUp_C',
  'room_C',
  'maltHeat_kJ_per_kgK',
  'bathEffectiveness',
  'bathApproach_K',
  'pitchingRate',
]);

/** Gravities in the kettle follow from other readings too: where they were read, the reading itself counts. */
const READ_DIRECTLY: readonly TargetKey[] = ['boil_start_gravity', 'boil_end_gravity'];

/**
 * Targets recomputed from what was read, with what the readings leave uncertain.
 *
 * The case is fitted to the readings (`fitToReadings`) and the model run on it. Uncertainty by the law of propagation
 * (JCGM 100, 5.1.2): each input that no reading replaces, and each reading, is moved by its standard uncertainty, and the case
 * fitted again, so that what a reading pins down stays where it was read; an input that moves only what follows the pour leaves
 * the fit as it is. Null without a reading that changes anything.
 */
export function asBrewed(
  batch: Batch,
  planned: Case,
  readings: readonly Observation[],
): Partial<Targets> | null {
  const known = readings.filter(isUsable);
  if (known.length === 0) return null;
  const values = new Map(known.map(({ key, value }) => [key, value!]));
  const anew = values.has('packaged.volume') && !values.has('packaged.sugar');
  const packages = planned.packages.map((part) => (anew ? { ...part, sugar_g: null } : part));
  const unsugared = fitToReadings({ ...planned, packages }, values);
  const fit = runModel(unsugared);
  const { outcome: nominal, detail } = fit;
  const fitted = withSugar(unsugared, detail.packed);
  const sugared = packages.map((part, i) => ({ ...part, sugar_g: detail.packed[i]!.sugar_g }));
  const base = { ...planned, packages: sugared };
  const replaced = new Set([...values.keys()].map((key) => REPLACES[key] ?? null));
  const kept = uncertainInputs(batch, base).filter(
    (input) => !replaced.has(input.key) && !BEFORE_THE_BEER.has(input.key),
  );
  const run = (c: Case, read: Values): Outcome => differenceFrom(nominal, runOnly(fitToReadings(c, read)));
  const contributions = [
    ...kept.map((input) =>
      typeof input.moves === 'string'
        ? input.moved(base, input.u, (moved) => run(moved, values))
        : input.moved(fitted, input.u, (moved) => differenceFrom(nominal, runMoved(moved, input, fit))),
    ),
    ...known.map(({ key, value, u }) => run(base, new Map(values).set(key, value! + u))),
  ];
  const labels = [...kept, ...known.map(({ key, u }) => readingAsInput(key, u))];
  const variances = contributions.map((row) => row.map((change) => change ** 2));
  const propagation = { nominal, contributions, variances };
  const figures: Partial<Record<TargetKey, Figure | null>> = {};
  for (const key of TARGET_KEYS) {
    const { brewed } = targetOf(key);
    if (brewed === undefined) continue;
    const unknown = brewed === 'at its end' && !values.has('final_gravity');
    figures[key] = unknown ? null : figure(key, propagation, labels, batch.setup, { read: false });
  }
  for (const key of READ_DIRECTLY) {
    const reading = known.find((one) => one.key === key);
    if (reading) figures[key] = readFigure(key, reading, batch.setup.hydrometer.step);
  }
  return figures as Partial<Targets>;
}

/** What these readings let the beer end at by itself, and what it began with: SG 20/20, NaN without yeast. */
export function brewedTo(
  planned: Case,
  readings: readonly Observation[],
): { readonly original_SG: number; readonly final_SG: number } {
  const known = readings.filter((one) => isUsable(one) && one.key !== 'final_gravity');
  const fitted = fitToReadings(planned, new Map(known.map(({ key, value }) => [key, value!])));
  const { outcome } = runModel(fitted);
  return { original_SG: outcome[T.original_gravity]!, final_SG: outcome[T.final_gravity]! };
}

/** Readings of a wort whose starting gravity is doubted: its extract is taken by weight. */
export const byWeight = (readings: readonly Observation[], doubted: ReadonlySet<string>): Observation[] =>
  readings.filter(
    ({ key }) =>
      !doubted.has(key) &&
      !(doubted.has('original_gravity') && (key === 'boil_start_gravity' || key === 'boil_end_gravity')),
  );

const isUsable = ({ value, u, key }: Observation): boolean => value !== null && u > 0 && usable(key, value);

/** A gravity below water's says nothing of a wort. */
function usable(key: string, value: number): boolean {
  if (!(key in REPLACES)) return false;
  return value > (kindAt(key) === 'gravity' && key !== 'final_gravity' ? 1 : 0);
}

function differenceFrom(nominal: Outcome, moved: Outcome): Outcome {
  const row = emptyOutcome();
  for (let i = 0; i < row.length; i++) row[i] = moved[i]! - nominal[i]!;
  return row;
}

function readingAsInput(key: string, u: number): Input {
  const { away, label } = specOf(placeOf(key)!)!.blank!;
  return {
    key: 'reading',
    label: `the reading “${away ?? label}”`,
    u,
    moves: 'boil',
    moved: (c, _, run) => run(c),
  };
}

function readFigure(key: TargetKey, reading: Observation, step_SG: number): Figure {
  const value = reading.value!;
  const ends = { value, low: value - 2 * reading.u, high: value + 2 * reading.u };
  const input = readingAsInput(reading.key, reading.u).label;
  return { ...ends, printed: printedRange(key, ends, step_SG), contributors: [{ input, share: 1 }] };
}
