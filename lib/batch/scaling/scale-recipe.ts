/** A recipe fitted to another volume, kitchen, packet of hops or kind of extract: the same beer, not the same grams. */

import { volumeOf } from '../../formulas/wort.ts';
import type { Units } from '../../units/dimension.ts';
import { formatVolume } from '../../units/format/format.ts';
import { buildCase } from '../model/build-model-input.ts';
import { FILL_WARNING } from '../model/defaults.ts';
import { designBoil, fillFor, topUpFor } from '../model/design.ts';
import { extractOf, heldByHops, kettleMasses } from '../model/kettle.ts';
import { type Detail, runModel } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Batch } from '../types/batch.ts';
import type { Ingredient } from '../types/ingredient.ts';
import type { Recipe } from '../types/recipe.ts';
import type { Setup } from '../types/setup.ts';
import type { TargetKey } from '../types/targets.ts';
import { amountOf, type Factors, resized, roundedForKitchen, withExtract } from './resize-items.ts';

export interface RefitChange {
  readonly intoFermenter_L?: number;
  readonly setup?: Setup;
  /** Alpha acids by the index of the hop in the recipe, share of weight. */
  readonly alphas?: Readonly<Record<number, number>>;
  /** Extract of the other kind is replaced by this row of a table. */
  readonly extractForm?: { readonly to: 'liquid' | 'dry'; readonly row: Ingredient };
  /** Weights as a kitchen scale shows them. */
  readonly rounding?: 'kitchen';
  /** Units of the new amounts' words; metric where not given. */
  readonly units?: Units;
}

export interface Compared {
  readonly what: TargetKey | 'boil_volume';
  readonly was: number;
  readonly is: number;
}

export interface Refit {
  readonly recipe: Recipe;
  readonly kept: readonly Compared[];
  readonly notKept: readonly (Compared & { readonly why: string })[];
  /** What rounding changed, new less unrounded; null where nothing was rounded. */
  readonly rounding: {
    readonly original_gravity: number;
    readonly bitterness_ibu: number;
    readonly colour_ebc: number;
  } | null;
}

/** A boil that leaves less than so many times its losses throws too much of the recipe away. */
const LEAST_WORT_PER_LOSS = 4;

/** Rounds of weights → kettle → weights: each takes two digits off what is left. */
const ROUNDS = 12;
/** A difference below these is none: a tenth of what a hydrometer, a tongue or an eye can tell. */
const SAME: Readonly<Partial<Record<TargetKey, number>>> = {
  original_gravity: 0.0002,
  bitterness_ibu: 0.5,
  colour_ebc: 0.5,
  final_gravity: 0.0005,
};
/** Grain that gives colour is changed by no more than this, besides the ratio of the volumes, to keep it. */
const COLOUR_FACTOR = { low: 0.5, high: 2 } as const;

interface Run {
  readonly batch: Batch;
  readonly outcome: Outcome;
  readonly detail: Detail;
  /** By part: kg of extract and of weight × colour per litre of finished wort. */
  readonly extract: readonly number[];
  readonly colour: readonly number[];
}

/**
 * Fits a recipe so that original gravity, bitterness of each addition and colour stay what they were.
 *
 * Extract and colour per litre of wort in the fermenter are held by two factors: one on the main fermentable, one on the
 * others that give colour (0.5 to 2); sugars keep their share. Each hop addition's IBU is held by its weight; hops that give none,
 * and other additions, go by volume; yeast goes by whole packs. A `boil_volume` that no longer fits is left open. Solved by
 * repetition on the model itself; under 20 ms. Throws RangeError where the recipe or the new one has no sound boil.
 */
export function refit(batch: Batch, change: RefitChange): Refit {
  const before = run(batch);
  const units = change.units ?? 'metric';
  const volume_L = change.intoFermenter_L ?? batch.recipe.intoFermenter_L.value;
  const ratio = volume_L / batch.recipe.intoFermenter_L.value;
  if (!(ratio > 0)) throw new RangeError(`the new volume must be above 0 L, not ${volume_L}`);
  const changed: Batch = { ...batch, setup: change.setup ?? batch.setup };
  let recipe = withExtract(batch.recipe, change.extractForm);
  recipe = {
    ...recipe,
    hops: recipe.hops.map((hop, i) => {
      const alpha = change.alphas?.[i];
      return alpha === undefined
        ? hop
        : { ...hop, alpha: { ...hop.alpha, value: alpha as typeof hop.alpha.value } };
    }),
  };
  // A boil that did not serve once is not tried again: the two answers would take turns.
  let dropped: Boil['dropped'] = null;
  const next = (factors: Factors): Boil => {
    const sized = resized(recipe, factors, ratio, units);
    if (dropped !== null) return { recipe: { ...sized, boilVolume_L: null }, dropped };
    const boil = withBoil(before, changed, sized, ratio, units);
    dropped = boil.dropped;
    return boil;
  };
  let factors: Factors = { parts: before.extract.map(() => ratio), hops: recipe.hops.map(() => ratio) };
  let boil = next(factors);
  let after = run({ ...changed, recipe: boil.recipe });
  for (let round = 0; round < ROUNDS; round++) {
    factors = better(before, after, factors, ratio);
    boil = next(factors);
    after = run({ ...changed, recipe: boil.recipe });
  }
  const exact = after.outcome;
  let fitted = amountOf(
    boil.recipe,
    { was: before.outcome[T.yeast_packs]!, is: after.outcome[T.yeast_packs]! },
    units,
  );
  let rounding: Refit['rounding'] = null;
  if (change.rounding === 'kitchen') {
    fitted = roundedForKitchen(fitted, units);
    const rounded = run({ ...changed, recipe: fitted }).outcome;
    const cost = (key: TargetKey) => rounded[T[key]]! - exact[T[key]]!;
    rounding = {
      original_gravity: cost('original_gravity'),
      bitterness_ibu: cost('bitterness_ibu'),
      colour_ebc: cost('colour_ebc'),
    };
  }
  return { recipe: fitted, ...compare(before.outcome, exact, boil, change), rounding };
}

function run(batch: Batch): Run {
  const c = designBoil(buildCase(batch));
  const { outcome, detail } = runModel(c);
  if (!(detail.share > 0) || !(outcome[T.original_gravity]! >= 1)) {
    throw new RangeError('the boil leaves no wort for the fermenter');
  }
  const perLitre = (stage: string) => (stage === 'fermenter' ? 1 : detail.share) / c.intoFermenter_L;
  return {
    batch,
    outcome,
    detail,
    extract: c.parts.map((part) => extractOf(part, c) * perLitre(part.stage)),
    colour: c.parts.map((part) => part.weight_kg * part.colour_L * perLitre(part.stage)),
  };
}

interface Boil {
  readonly recipe: Recipe;
  /** The boil that the recipe would have had, and why it has not. */
  readonly dropped: { readonly litres: number; readonly why: string } | null;
}

/**
 * The recipe with a boil that leaves the same share of the wort to be topped up, whatever this kitchen evaporates; left open where
 * that boil does not fit, or leaves too little to pour off the trub.
 */
function withBoil(before: Run, batch: Batch, recipe: Recipe, ratio: number, units: Units): Boil {
  const given = before.batch.recipe.boilVolume_L;
  if (!given) return { recipe, dropped: null };
  const hours = recipe.boil_min.value / 60;
  const boiledOff = (setup: Setup) => setup.boilOff_L_per_h.value * hours;
  const value = (ratio * (given.value - boiledOff(before.batch.setup)) +
    boiledOff(batch.setup)) as typeof given.value;
  const same = Math.abs(value - given.value) < 1e-9;
  const asked = same ? given : { value, u: null, written: formatVolume(value, units) };
  const open = { ...recipe, boilVolume_L: null };
  const c = designBoil(buildCase({ ...batch, recipe: { ...recipe, boilVolume_L: asked } }));
  const why = fault(c, value);
  return why === null
    ? { recipe: { ...recipe, boilVolume_L: asked }, dropped: null }
    : { recipe: open, dropped: { litres: value, why } };
}

/** Why a boil of a volume does not serve; null where it does. */
function fault(c: Case, boil_L: number): string | null {
  const { chilled } = kettleMasses(c);
  const least_L = LEAST_WORT_PER_LOSS * (c.kettleLoss_L + heldByHops(c));
  if (!(chilled.water_kg > 0) || volumeOf(chilled) <= least_L)
    return 'it leaves too little over what stays in the kettle';
  if (topUpFor(c, boil_L) < -0.005) return 'it leaves more wort than goes into the fermenter';
  return fillFor(c, boil_L) > FILL_WARNING + 1e-6 ? 'it does not fit the kettle' : null;
}

/** Factors on the old weights that bring extract, colour and bitterness nearer to what they were. */
function better(before: Run, after: Run, factors: Factors, ratio: number): Factors {
  const parts = buildCase(after.batch).parts;
  const main = mainPart(after);
  const name = parts[main]?.name;
  const sums = { wantE: 0, wantC: 0, baseE: 0, baseC: 0, sideE: 0, sideC: 0 };
  const roles = parts.map((part, i) => {
    sums.wantE += before.extract[i]!;
    sums.wantC += before.colour[i]!;
    if (part.name === name) {
      sums.baseE += after.extract[i]!;
      sums.baseC += after.colour[i]!;
      return 'base';
    }
    if (part.as === 'malt') {
      sums.sideE += after.extract[i]!;
      sums.sideC += after.colour[i]!;
      return 'side';
    }
    // Sugars keep their share of the extract, and so of the beer's dryness.
    sums.wantE -= before.extract[i]!;
    sums.wantC -= before.colour[i]!;
    return 'fixed';
  });
  // The grain's factor so far counts too: it may not halve again in every round.
  const sideSoFar = factors.parts.find((_, i) => roles[i] === 'side') ?? ratio;
  const bounds = {
    low: (COLOUR_FACTOR.low * ratio) / sideSoFar,
    high: (COLOUR_FACTOR.high * ratio) / sideSoFar,
  };
  const { base, side } = solve(sums, bounds);
  return {
    parts: factors.parts.map((factor, i) => {
      if (roles[i] === 'base') return factor * base;
      if (roles[i] === 'side') return factor * side;
      return after.extract[i]! > 0 ? (factor * before.extract[i]!) / after.extract[i]! : factor;
    }),
    hops: factors.hops.map((factor, i) => {
      const ibu = (of: Run) => of.detail.hopRows.find(({ hop }) => hop.index === i)?.ibu ?? 0;
      return ibu(after) > 0 && ibu(before) > 0 ? (factor * ibu(before)) / ibu(after) : factor;
    }),
  };
}

function mainPart({ extract }: Run): number {
  return extract.reduce((best, kg, i) => (kg > extract[best]! ? i : best), 0);
}

interface Balances {
  readonly wantE: number;
  readonly wantC: number;
  readonly baseE: number;
  readonly baseC: number;
  readonly sideE: number;
  readonly sideC: number;
}

/** Two factors from two balances; where colour asks more of the grain than its bounds, extract alone is held. */
function solve(
  of: Balances,
  bounds: { readonly low: number; readonly high: number },
): { base: number; side: number } {
  const determinant = of.baseE * of.sideC - of.sideE * of.baseC;
  let side = 1;
  if (Math.abs(determinant) > 1e-9 * of.baseE * of.sideC && of.sideC > 0) {
    side = (of.baseE * of.wantC - of.baseC * of.wantE) / determinant;
  }
  side = Math.min(bounds.high, Math.max(bounds.low, side));
  const base = of.baseE > 0 ? (of.wantE - side * of.sideE) / of.baseE : 1;
  return base > 0
    ? { base, side }
    : { base: of.wantE / (of.baseE + of.sideE), side: of.wantE / (of.baseE + of.sideE) };
}

function compare(
  was: Outcome,
  is: Outcome,
  { dropped }: Boil,
  change: RefitChange,
): Pick<Refit, 'kept' | 'notKept'> {
  const kept: Compared[] = [];
  const notKept: (Compared & { why: string })[] = [];
  for (const what of ['original_gravity', 'bitterness_ibu', 'colour_ebc', 'final_gravity'] as const) {
    const one = { what, was: was[T[what]]!, is: is[T[what]]! };
    const moved = Math.abs(one.is - one.was);
    if (Number.isNaN(moved)) continue;
    if (moved <= SAME[what]!) kept.push(one);
    else notKept.push({ ...one, why: WHY[what](change) });
  }
  if (dropped) {
    const why = `${dropped.why}: the largest boil that works is used instead`;
    notKept.push({ what: 'boil_volume', was: dropped.litres, is: is[T.boil_start_volume_l]!, why });
  }
  return { kept, notKept };
}

const WHY: Readonly<
  Record<
    'original_gravity' | 'bitterness_ibu' | 'colour_ebc' | 'final_gravity',
    (change: RefitChange) => string
  >
> = {
  original_gravity: () => 'no weight of the fermentables gives it',
  bitterness_ibu: () => 'no weight of the hops gives it',
  colour_ebc: (change) =>
    change.extractForm
      ? 'the other extract has another colour, and the grain cannot make up for it'
      : 'the grain cannot make up for it',
  final_gravity: (change) =>
    change.extractForm ? 'the other extract ferments differently' : 'the share of grain is different',
};
