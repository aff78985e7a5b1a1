/**
 * The model: one case in, every target out. Pure arithmetic, run some hundred times a plan by the uncertainty
 * analysis, so results go into a flat array and nothing is allocated that need not be.
 */
import { airPressure_kPa } from '../../formulas/air.ts';
import { boilingPoint_C } from '../../formulas/boiling-point.ts';
import { specificGravityFromPlato } from '../../formulas/gravity.ts';
import { iceMass_kg } from '../../formulas/ice.ts';
import { thermalVolumeRatio } from '../../formulas/shrinkage.ts';
import { platoOf, volumeOf, WATER_KG_PER_L, type Wort, waterForVolume } from '../../formulas/wort.ts';
import { cellsWanted_billion, dryYeastWanted_g } from '../../formulas/yeast.ts';
import { colour, ferment } from './beer.ts';
import { type Bitterness, bitternessOf } from './bitterness.ts';
import { heldByHops, type KettleRun, runKettle, waterToHeat } from './kettle.ts';
import type { Case } from './model-input.ts';
import { type PackedPart, packaging } from './packaging.ts';
import { fullestMoment } from './peak-volume.ts';
import { emptyOutcome, type Outcome, TARGET_INDEX } from './target-vector.ts';
import { heatAndCold, type Thermal } from './thermal.ts';

/** What the parts of the model that follow the pour go on from. */
interface Poured {
  readonly kettle: KettleRun;
  /** Water's boiling point at the altitude, °C; a wort's is 0.2 K higher, which the weather drowns. */
  readonly boil_C: number;
  readonly ambient_kPa: number;
  /** Share of the chilled wort that reaches the fermenter. */
  readonly share: number;
  /** Wort after boil and stand, L at 20 °C. */
  readonly end_L: number;
  /** Of it, what stays in the pot: with the trub, in the hops, and what the fermenter is not to hold. */
  readonly lost_L: number;
  readonly topUp_kg: number;
  readonly inFermenter: Wort;
  /** Wort in the fermenter, L at 20 °C. */
  readonly final_L: number;
  readonly fullest_L: number;
}

/** What else one run found out, for the timetable, the tables and the checks. */
export interface Detail extends Poured, Omit<Bitterness, 'ibu'> {
  /** Null without a yeast. */
  readonly realAttenuation: number | null;
  readonly thermal: Thermal;
  readonly packed: readonly PackedPart[];
}

/** All that one run of the model gives. */
export interface Run {
  readonly outcome: Outcome;
  readonly detail: Detail;
}

// Names of this module: an imported one is looked up again at each use, and this runs some hundred times a plan.
const T = TARGET_INDEX;
const hotVolume = thermalVolumeRatio;
const KG_PER_L = WATER_KG_PER_L;
const pressureAt = airPressure_kPa;
const boilingAt = boilingPoint_C;
const gravityOf = specificGravityFromPlato;
const extractShare = platoOf;
const litresOf = volumeOf;

/** Less than a drop. */
const NOTHING_KG = 1e-6;

/** No bath leaves a wort hotter than it came off the boil. */
const HOTTEST_BATH_C = 100;
/** Altitudes of the air-pressure formula: a nudged one stays inside. */
const LOWEST_m = -500;

/**
 * Runs the model on a case whose water is designed.
 *
 * @param out where the targets go; NaN where one does not apply
 * @param kettle the boil of this very case, where it has been run already
 */
export function runModel(c: Case, out: Outcome = emptyOutcome(), kettle: KettleRun = runKettle(c)): Run {
  const poured = pour(c, out, kettle);
  const { hopRows, kitBitterness } = AFTER_THE_POUR.bitterness(c, out, poured);
  AFTER_THE_POUR.colour(c, out, poured);
  const realAttenuation = AFTER_THE_POUR.fermentation(c, out, poured);
  AFTER_THE_POUR.yeast(c, out, poured);
  const packed = AFTER_THE_POUR.packaging(c, out, poured);
  const thermal = AFTER_THE_POUR.heat(c, out, poured);
  return { outcome: out, detail: { ...poured, realAttenuation, hopRows, kitBitterness, thermal, packed } };
}

/** From the kettle to the fermenter. */
function pour(c: Case, out: Outcome, kettle: KettleRun): Poured {
  const altitude_m = Math.max(LOWEST_m, c.altitude_m);
  const ambient_kPa = pressureAt(altitude_m);
  const boil_C = boilingAt(altitude_m);

  const end_L = litresOf(kettle.chilled);
  const final_L = finalVolume(c);
  const share = pouredShare(c, end_L);
  const lost_L = end_L * (1 - share);
  const extract_kg = kettle.chilled.extract_kg * share;
  const water_kg = waterForVolume(extract_kg, final_L);
  out[T.fermenter_volume_l] = c.intoFermenter_L;
  const topUp_kg = water_kg - kettle.chilled.water_kg * share;
  const inFermenter = { extract_kg, water_kg };
  const original_P = extractShare(inFermenter);
  out[T.original_extract_plato] = original_P;
  out[T.original_gravity] = gravityOf(original_P);
  // A whole-volume boil leaves nothing to top up, but for the arithmetic.
  out[T.top_up_l] = Math.abs(topUp_kg) < NOTHING_KG ? 0 : topUp_kg / KG_PER_L;

  kettleFigures(c, out, kettle, boil_C);
  const fullest_L = fullestMoment(c, kettle, boil_C);
  out[T.kettle_fill_percent] = (100 * fullest_L) / c.kettle_L;
  return { kettle, boil_C, share, end_L, lost_L, topUp_kg, inFermenter, fullest_L, ambient_kPa, final_L };
}

/** Parts of the model that follow the pour, none of which needs another. */
const AFTER_THE_POUR = {
  bitterness: (c: Case, out: Outcome, poured: Poured): Bitterness => {
    const found = bitternessOf(c, poured.kettle, poured);
    out[T.bitterness_ibu] = found.ibu;
    return found;
  },
  colour,
  fermentation: (c: Case, out: Outcome, { inFermenter: wort, share }: Poured): number | null =>
    ferment(c, out, { wort, share }),
  yeast: (c: Case, out: Outcome, { final_L, inFermenter }: Poured): void => {
    if (c.yeast === null) return;
    const { rate_million_per_mL_P, packCells_billion, dryPack_g, lager } = c.yeast;
    const volume_L = final_L;
    const plato_P = extractShare(inFermenter);
    const wanted = c.pitchingRate * cellsWanted_billion({ volume_L, plato_P, rate_million_per_mL_P });
    out[T.yeast_cells_billion] = wanted;
    out[T.yeast_packs] =
      dryPack_g === null
        ? wanted / packCells_billion
        : dryPacks(dryYeastWanted_g({ volume_L, plato_P, lager }).low, dryPack_g);
  },
  packaging: (c: Case, out: Outcome, { final_L, ambient_kPa }: Poured): PackedPart[] =>
    packaging(c, out, final_L, ambient_kPa),
  heat: (c: Case, out: Outcome, poured: Poured): Thermal => {
    const thermal = heatAndCold(c, out, poured);
    if (c.chillWith === 'ice bath') out[T.ice_kg] = iceForBath(c, poured.kettle.chilled, out[T.chill_to_c]!);
    return thermal;
  },
};
export type Stage = keyof typeof AFTER_THE_POUR;
const STAGES = Object.keys(AFTER_THE_POUR) as readonly Stage[];

/**
 * Runs only some stages, on a case that differs from the one that was run in nothing that goes into the others.
 *
 * @param out where all targets go
 */
export function runAgain(c: Case, { outcome, detail }: Run, stages: readonly Stage[], out: Outcome): Outcome {
  for (let i = 0; i < out.length; i++) out[i] = outcome[i]!;
  for (const stage of stages) AFTER_THE_POUR[stage](c, out, detail);
  return out;
}

/** What all stages, or only some, come to, without the detail; the targets of others are not worked out. */
export function runOnly(
  c: Case,
  stages = STAGES,
  out = emptyOutcome(),
  kettle: KettleRun = runKettle(c),
): Outcome {
  const poured = pour(c, out, kettle);
  for (const stage of stages) AFTER_THE_POUR[stage](c, out, poured);
  return out;
}

/** Share of the chilled wort that is poured off its trub and hops; what the fermenter is not to hold stays in the pot. */
export function pouredShare(c: Case, chilled_L: number): number {
  const free_L = chilled_L - c.kettleLoss_L - heldByHops(c);
  return (c.keepsSurplus ? Math.min(free_L, finalVolume(c)) : free_L) / chilled_L;
}

/** Packs of dry yeast, to be rounded up: up to a tenth more wort than the pack's lower dose serves opens no second one. */
export const dryPacks = (wanted_g: number, pack_g: number): number => wanted_g / pack_g / 1.1;

/** A mark that is wrong by more than the batch is large leaves a tenth of it: only a nudged input comes here. */
export const finalVolume = (c: Case): number =>
  Math.max(0.1 * c.intoFermenter_L, c.intoFermenter_L + c.fermenterMark_L);

/** Volumes at 20 °C and, where there is a boil, at boiling point; gravities of the boil's start and end. */
function kettleFigures(c: Case, out: Outcome, kettle: KettleRun, boil_C: number): void {
  const last = kettle.volume_L.length - 1;
  const start_L = kettle.volume_L[0]!;
  const end_L = kettle.volume_L[last]!;
  out[T.water_to_heat_l] = waterToHeat(c);
  out[T.boil_start_volume_l] = start_L;
  out[T.boil_start_gravity] = kettle.gravity_SG[0]!;
  out[T.boil_end_volume_l] = end_L;
  out[T.boil_end_gravity] = kettle.gravity_SG[last]!;
  if (c.boil_min <= 0) return;
  const startRatio = hotVolume({ plato_P: extractShare(kettle.start), from_C: 20, to_C: boil_C });
  const endRatio = hotVolume({ plato_P: extractShare(kettle.end), from_C: 20, to_C: boil_C });
  out[T.boil_start_volume_hot_l] = start_L * startRatio;
  out[T.boil_end_volume_hot_l] = end_L * endRatio;
}

/** How warm a bath of tap water leaves the wort, °C: from there on it takes ice. */
export const bathLeaves_C = (c: Case): number => Math.min(HOTTEST_BATH_C, c.water_C + c.bathApproach_K);

/**
 * Ice at 0 °C for the bath, kg: the heat from where a bath of tap water leaves the wort down to what is needed, the
 * top-up counted, divided by the bath's effectiveness.
 */
function iceForBath(c: Case, wort: Wort, shown_C: number): number {
  const from_C = bathLeaves_C(c);
  const to_C = shown_C - c.thermometer_K;
  if (!(from_C > to_C) || to_C < 0) return 0;
  const wort_kg = Math.max(0, wort.extract_kg + wort.water_kg);
  return iceMass_kg({ wort_kg, plato_P: extractShare(wort), from_C, to_C, ice_C: 0 }) / c.bathEffectiveness;
}
