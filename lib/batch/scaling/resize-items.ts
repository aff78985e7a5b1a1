/** Weights of a recipe times factors, in words that a brewer would write. */
import type { Units } from '../../units/dimension.ts';
import { formatMass, formatVolume } from '../../units/format/format.ts';
import type { Given, GivenAmount } from '../../units/parse/given.ts';
import { dryPack_g } from '../model/build-model-input.ts';
import type { Ingredient } from '../types/ingredient.ts';
import type { ExtractItem, FermentableItem, Recipe, YeastItem } from '../types/recipe.ts';

/** Factors on the weights, in the order grain, extract, sugar, and hops. */
export interface Factors {
  readonly parts: readonly number[];
  readonly hops: readonly number[];
}

const grams = <T extends number>(of: Given<T>, factor: number, units: Units): Given<T> => {
  const value = (of.value * factor) as T;
  return { value, u: null, written: formatMass(value, units) };
};
const litres = <T extends number>(of: Given<T>, factor: number, units: Units): Given<T> => {
  const value = (of.value * factor) as T;
  return { value, u: null, written: formatVolume(value, units) };
};

/** Every weight times its factor; volumes, and what no formula weighs, times the ratio of the volumes. */
export function resized(recipe: Recipe, factors: Factors, ratio: number, units: Units): Recipe {
  const unchanged = ratio === 1;
  let next = 0;
  const weighed = <I extends FermentableItem>(items: readonly I[]): I[] =>
    items.map((item) => ({ ...item, weight_g: grams(item.weight_g, factors.parts[next++]!, units) }));
  const grain = weighed(recipe.grain);
  const extract = weighed(recipe.extract).map((item, i) => withLabel(item, recipe.extract[i]!));
  const sugar = weighed(recipe.sugar);
  return {
    ...recipe,
    intoFermenter_L: unchanged ? recipe.intoFermenter_L : litres(recipe.intoFermenter_L, ratio, units),
    steep: recipe.steep && {
      ...recipe.steep,
      water_L: recipe.steep.water_L && litres(recipe.steep.water_L, ratio, units),
    },
    rinse_L: recipe.rinse_L && litres(recipe.rinse_L, ratio, units),
    grain,
    extract,
    sugar,
    hops: recipe.hops.map((hop, i) => ({ ...hop, weight_g: grams(hop.weight_g, factors.hops[i]!, units) })),
    other: unchanged
      ? recipe.other
      : recipe.other.map((item) => ({ ...item, amount: amountTimes(item.amount, ratio, units) })),
    packaging: unchanged
      ? recipe.packaging
      : recipe.packaging.map((step) => ({
          ...step,
          volume_L: step.volume_L && litres(step.volume_L, ratio, units),
        })),
  };
}

/** A kit's label is for the weight that it came in: said so before the weight changes. */
const withLabel = (item: ExtractItem, before: ExtractItem): ExtractItem =>
  item.bitterness && item.bitterness.labelWeight_g === null
    ? { ...item, bitterness: { ...item.bitterness, labelWeight_g: before.weight_g.value } }
    : item;

const HALF = 2;

function amountTimes(amount: GivenAmount, factor: number, units: Units): GivenAmount {
  const value = amount.value * factor;
  if (amount.unit === 'g') return { value, unit: 'g', written: formatMass(value, units) };
  if (amount.unit === 'L') return { value, unit: 'L', written: formatVolume(value, units) };
  const count = Math.max(1, Math.round(value * HALF)) / HALF;
  return { value: count, unit: 'count', written: counted(count, amount.written) };
}

/** `2 sachets` for three is `3 sachets`: the number changes, the brewer's words stay. */
const counted = (count: number, written: string) => {
  const words = written.replace(/^[\d.,/½¼ ]+/, '').trim();
  return words === '' ? String(count) : `${count} ${words}`;
};

/** Extract of the other kind replaced by a row of a table; a kit's hopped extract stays what it is. */
export function withExtract(
  recipe: Recipe,
  form: { readonly to: 'liquid' | 'dry'; readonly row: Ingredient } | undefined,
): Recipe {
  if (!form) return recipe;
  const { to, row } = form;
  if (row.yield === null) throw new RangeError(`${row.name} has no yield`);
  const yieldOf = row.yield;
  const extract = recipe.extract.map((item): ExtractItem => {
    if (item.form === to || item.bitterness) return item;
    // The same extract by mass: what the fit starts from, so that yield and weight do not change twice.
    const weight_g = grams(item.weight_g, item.yield.value / yieldOf, 'metric');
    return {
      ...item,
      name: row.name,
      weight_g,
      yield: { value: yieldOf as typeof item.yield.value, u: null, from: 'table' },
      colour_EBC: { value: (row.colour_EBC ?? 0) as typeof item.colour_EBC.value, u: null, from: 'table' },
      fermentability: {
        value: (row.fermentability ?? 1) as typeof item.fermentability.value,
        u: null,
        from: 'table',
      },
      form: to,
      allergens: row.allergens,
    };
  });
  return { ...recipe, extract };
}

/**
 * Yeast for another wort: as stated where it takes as many packs as before, else in proportion to the packs, in whole ones; slurry
 * is left as it is.
 */
export function amountOf(
  recipe: Recipe,
  packs: { readonly was: number; readonly is: number },
  units: Units,
): Recipe {
  const whole = (count: number) => Math.max(1, Math.ceil(count - 1e-9));
  const more = whole(packs.is) / whole(packs.was);
  if (!Number.isFinite(more) || more === 1) return recipe;
  const yeast = recipe.yeast.map((item): YeastItem => {
    const pack = packOf(item);
    if (pack?.unit !== item.amount.unit) return item;
    const value = pack.value * whole((item.amount.value * more) / pack.value);
    return {
      ...item,
      pack,
      amount: { value, unit: pack.unit, written: words(value, pack, item.amount, units) },
    };
  });
  return { ...recipe, yeast };
}

/** What one pack is: as stated, else the recipe's own amount where that is one pack or a count. */
function packOf(item: YeastItem): GivenAmount | null {
  if (item.form === 'slurry') return null;
  if (item.pack) return item.pack;
  if (item.amount.unit === 'count')
    return { value: 1, unit: 'count', written: counted(1, item.amount.written) };
  const grams = dryPack_g(item);
  return item.form === 'dry' ? { value: grams, unit: 'g', written: `${grams} g` } : null;
}

function words(value: number, pack: GivenAmount, amount: GivenAmount, units: Units): string {
  if (pack.unit === 'count') return counted(value, amount.written);
  return pack.unit === 'g' ? formatMass(value, units) : formatVolume(value, units);
}

/** Steps of a kitchen scale, g: from 1 kg on, from 100 g on, below. */
const SCALE_STEPS = [
  { from: 1000, step: 10 },
  { from: 100, step: 5 },
  { from: 0, step: 1 },
] as const;

/** A weight in whole steps of a kitchen scale: 1 g, 5 g over 100 g, 10 g over 1 kg; never down to nothing. */
export function kitchenGrams(weight_g: number): number {
  const { step } = SCALE_STEPS.find(({ from }) => weight_g > from) ?? SCALE_STEPS[2];
  return Math.max(weight_g > 0 ? step : 0, Math.round(weight_g / step) * step);
}

export function roundedForKitchen(recipe: Recipe, units: Units): Recipe {
  const rounded = <T extends number>(weight: Given<T>): Given<T> => {
    const value = kitchenGrams(weight.value) as T;
    return { value, u: null, written: formatMass(value, units) };
  };
  return {
    ...recipe,
    grain: recipe.grain.map((item) => ({ ...item, weight_g: rounded(item.weight_g) })),
    extract: recipe.extract.map((item) => ({ ...item, weight_g: rounded(item.weight_g) })),
    sugar: recipe.sugar.map((item) => ({ ...item, weight_g: rounded(item.weight_g) })),
    hops: recipe.hops.map((item) => ({ ...item, weight_g: rounded(item.weight_g) })),
    other: recipe.other.map((item) =>
      item.amount.unit === 'g'
        ? {
            ...item,
            amount: {
              ...item.amount,
              value: kitchenGrams(item.amount.value),
              written: formatMass(kitchenGrams(item.amount.value), units),
            },
          }
        : item,
    ),
  };
}
