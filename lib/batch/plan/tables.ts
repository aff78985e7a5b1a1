/** The small tables that the paper carries so that nobody has to reckon with wet hands. */
import { residualCo2_vol } from '../../formulas/co2.ts';
import { hydrometerReading } from '../../formulas/hydrometer.ts';
import { primingSugar_g } from '../../formulas/priming.ts';
import { LITRES_PER_US_GALLON } from '../../units/table.ts';
import { warmestAfterFermentation } from '../model/build-model-input.ts';
import type { Case } from '../model/model-input.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import { LEAST_TOP_UP_L } from '../model/thermal.ts';
import { correction, correctionLimits } from '../readings/corrections.ts';
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
 * with what brings the wort back, for the volume that the recipe wants and as far as that is sensible. No two rows say the same.
 */
export function correctionRows(batch: Batch, c: Case, targets: Targets): CorrectionRow[] {
  const target = targets.original_gravity;
  // A range as wide as this says that nothing of the batch is known: there is nothing to correct by.
  if (!target || target.value <= 1 || target.printed.high - target.printed.low > WIDEST_SG) return [];
  const step = batch.setup.hydrometer.step;
  const { low, high } = target.printed;
  const tidy = (sg: number) => Number((Math.round(sg / step) * step).toFixed(4));
  const little = lookedAt(target.printed);
  const littleLow = Number((Math.ceil(little.low / step - 1e-9) * step).toFixed(4));
  const littleHigh = Number((Math.floor(little.high / step + 1e-9) * step).toFixed(4));
  const most = correctionLimits(batch, c, c.intoFermenter_L);
  const toppedUp = (targets.top_up_l?.value ?? 0) >= LEAST_TOP_UP_L;
  const within = (amount: number | null, limit: number) =>
    amount !== null && amount <= limit ? amount : null;
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
      add_water_l: within(mend.addWater_L, most.water_L),
      add_extract_g: within(mend.addExtract_g, most.extract_g),
      boil_on_min: toppedUp ? null : within(mend.boilOn_min, LONGEST_BOIL_ON_MIN),
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
  const middle = rows.findIndex(({ meaning }) => meaning === 'fine');
  const whole = withoutGaps(rows, middle);
  const outward = [saidOnce(whole.slice(0, middle).reverse()).reverse(), saidOnce(whole.slice(middle + 1))];
  return [...outward[0]!, whole[middle]!, ...outward[1]!];
}

/** Rows from the middle outward, each with a remedy of its own: what a further row would repeat is part of the nearer one. */
function saidOnce(rows: readonly CorrectionRow[]): CorrectionRow[] {
  const remedy = ({ add_water_l, add_extract_g, boil_on_min }: CorrectionRow) =>
    [add_water_l, add_extract_g, boil_on_min].join();
  const kept: CorrectionRow[] = [];
  for (const row of rows) {
    const inner = kept.at(-1);
    if (inner === undefined || remedy(inner) !== remedy(row)) kept.push(row);
    else
      kept.splice(-1, 1, {
        ...inner,
        ...(row.meaning.endsWith('below') ? { from: row.from } : { to: row.to }),
      });
  }
  return kept;
}

/** Boiling on for longer changes bitterness and colour too. Common practice, no source. */
const LONGEST_BOIL_ON_MIN = 30;

/** Where a reading begins to be looked at again: three standard uncertainties from the middle of a range of two. */
function lookedAt({ low, high }: { readonly low: number; readonly high: number }) {
  const more = (high - low) / 4;
  return { low: low - more, high: high + more };
}

/** A reading is corrected to the thousandth, however coarse the hydrometer's steps are. */
const THOUSANDTH = 0.001;

/** Rows that begin where the one towards the middle ends: every corrected reading is in one of them. */
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
