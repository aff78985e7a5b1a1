/** The small tables that the paper carries so that nobody has to reckon with wet hands. */
import { residualCo2_vol } from '../../formulas/co2.ts';
import { hydrometerReading } from '../../formulas/hydrometer.ts';
import { primingSugar_g } from '../../formulas/priming.ts';
import { LITRES_PER_US_GALLON } from '../../units/table.ts';
import { littleOff } from '../judgment/verdicts.ts';
import { warmestAfterFermentation } from '../model/build-model-input.ts';
import { FERMENTER_FULL } from '../model/defaults.ts';
import type { Case } from '../model/model-input.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import { correction } from '../readings/corrections.ts';
import type { Batch } from '../types/batch.ts';
import type { Brewery } from '../types/brewery.ts';
import type { CorrectionRow, PrimingTable, SampleCorrection, Targets } from '../types/plan.ts';

/** Wider than any hydrometer's scale would be of use. */
const WIDEST_SG = 0.1;
/** Hydrometer samples are read between a cold cellar and a wort too hot to touch. */
const SAMPLE_TEMPERATURES_C = [10, 15, 20, 25, 30, 35, 40, 50, 60];

/** What to add to the hydrometer's reading, by the temperature of a sample near the starting gravity. */
export function sampleCorrections(batch: Batch, original_SG: number): SampleCorrection[] {
  const calibrated_C = batch.setup.hydrometer.at_C.value;
  return SAMPLE_TEMPERATURES_C.map((temperature_c) => ({
    temperature_c,
    add: original_SG - hydrometerReading({ sg_2020: original_SG, sample_C: temperature_c, calibrated_C }),
  }));
}

/**
 * The *if it is off* strip: fine in the middle, a little off on both sides (nothing to do), then two steps each way
 * with what brings the wort back, for the volume that the recipe wants.
 */
export function correctionRows(batch: Batch, c: Case, targets: Targets): CorrectionRow[] {
  const target = targets.original_gravity;
  // A range as wide as this says that nothing of the batch is known: there is nothing to correct by.
  if (!target || target.value <= 1 || target.printed.high - target.printed.low > WIDEST_SG) return [];
  const step = batch.setup.hydrometer.step;
  const { low, high } = target.printed;
  const tidy = (sg: number) => Number((Math.round(sg / step) * step).toFixed(4));
  const little = littleOff(target.printed);
  const littleLow = Number((Math.ceil(little.low / step - 1e-9) * step).toFixed(4));
  const littleHigh = Number((Math.floor(little.high / step + 1e-9) * step).toFixed(4));
  const fermenter_L = batch.setup.fermenter_L?.value ?? Number.POSITIVE_INFINITY;
  const room_L = Math.max(0, fermenter_L * FERMENTER_FULL - c.intoFermenter_L);
  const off = (
    reading_SG: number,
    meaning: CorrectionRow['meaning'],
    from: number | null,
    to: number | null,
  ) => {
    const mend = correction({ batch, c, reading_SG, volume_L: c.intoFermenter_L, target_SG: target.value });
    return {
      from: from === null ? null : tidy(from),
      to: to === null ? null : tidy(to),
      meaning,
      add_water_l: mend.addWater_L === null ? null : Math.min(mend.addWater_L, room_L),
      add_extract_g: mend.addExtract_g,
      boil_on_min: mend.boilOn_min,
    };
  };
  const leave = (meaning: CorrectionRow['meaning'], from: number, to: number): CorrectionRow => ({
    from,
    to,
    meaning,
    add_water_l: null,
    add_extract_g: null,
    boil_on_min: null,
  });
  const rows: CorrectionRow[] = [];
  const farLow = tidy(littleLow - 2 * step);
  if (farLow - step > 1) rows.push(off(farLow - step, 'far below', null, farLow - step));
  if (littleLow - step > 1) rows.push(off(littleLow - step, 'far below', farLow, littleLow - step));
  if (littleLow < low) rows.push(leave('below', littleLow, tidy(low - step)));
  rows.push(leave('fine', low, high));
  if (littleHigh > high) rows.push(leave('above', tidy(high + step), littleHigh));
  rows.push(off(littleHigh + step, 'far above', tidy(littleHigh + step), tidy(littleHigh + 2 * step)));
  rows.push(off(littleHigh + 3 * step, 'far above', tidy(littleHigh + 3 * step), null));
  return withoutGaps(
    rows,
    rows.findIndex(({ meaning }) => meaning === 'fine'),
  );
}

/** A reading is corrected to the thousandth, however coarse the hydrometer's steps are. */
const THOUSANDTH = 0.001;

/** Rows that begin where the one towards the middle ends: every corrected reading stands in one of them. */
function withoutGaps(rows: readonly CorrectionRow[], middle: number): CorrectionRow[] {
  const beside = (sg: number, by: number): number => Number((sg + by).toFixed(4));
  return rows.map((row, at) => {
    const inner = rows[at < middle ? at + 1 : at - 1];
    if (at === middle || inner === undefined) return row;
    return at < middle
      ? { ...row, to: inner.from === null ? row.to : beside(inner.from, -THOUSANDTH) }
      : { ...row, from: inner.to === null ? row.from : beside(inner.to, THOUSANDTH) };
  });
}

/** Sugar by volume and warmest temperature, in steps of the brewer's own volume unit. */
export function primingTable(
  batch: Batch,
  brewery: Brewery,
  outcome: Outcome,
  { co2Yield }: Case,
  ambient_kPa: number,
): PrimingTable | null {
  const bottles = batch.recipe.packaging.find((step) => step.into === 'bottles');
  const step = bottles ?? batch.recipe.packaging[0];
  if (!step?.sugar) return null;
  const co2_g_per_g = step.sugar.co2_g_per_g * co2Yield;
  const volume_L = step.volume_L?.value ?? outcome[T.packaged_volume_l]!;
  const unit_L = brewery.units === 'us' ? LITRES_PER_US_GALLON / 4 : volume_L > 8 ? 1 : 0.5;
  const middle = Math.round(volume_L / unit_L);
  const warmest = Math.round(warmestAfterFermentation(batch.recipe));
  const columns = [-4, -2, 0, 2, 4].map((shift) => Math.min(40, Math.max(0, warmest + shift)));
  const temperatures_c = [...new Set(columns)];
  const rows = [-3, -2, -1, 0, 1, 2]
    .map((shift) => (middle + shift) * unit_L)
    .filter((litres) => litres > 0)
    .map((litres) => ({
      volume_l: litres,
      sugar_g: temperatures_c.map((t_C) => {
        const missing_vol = step.carbonation_vol.value - residualCo2_vol({ t_C, ambient_kPa });
        return primingSugar_g({ volume_L: litres, missing_vol, co2_g_per_g });
      }),
    }));
  return { sugar: step.sugar.name, carbonation_vol: step.carbonation_vol.value, temperatures_c, rows };
}
