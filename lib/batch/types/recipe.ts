import type {
  BillionCells,
  Celsius,
  Ebc,
  Fraction,
  Gram,
  Ibu,
  Litre,
  LitrePerKilogram,
  Minute,
  Volumes,
} from '../../units/brands.ts';
import type { Given, GivenAmount, GivenGravity, GivenRange } from '../../units/parse/given.ts';
import type { IngredientKind, YeastKind } from './ingredient.ts';

/** A figure that may come from the brewer's file, else from a table row. */
export interface Looked<T extends number> {
  readonly value: T;
  /** Standard uncertainty where one was stated; null: the default for its kind. */
  readonly u: number | null;
  readonly from: 'recipe' | 'table' | 'learned';
}

export type RecipeMoment =
  | { readonly at: 'boil'; readonly minutesLeft: Minute; readonly written: string }
  | { readonly at: 'flameout' | 'stand' | 'first wort' | 'steep' | 'packaging' }
  | {
      readonly at: 'dry';
      readonly day: number;
      readonly for_min: Minute | null;
      readonly forWritten: string | null;
    }
  | { readonly at: 'fermenter'; readonly day: number };

/** Malt, extract or sugar: what gives extract. */
export interface FermentableItem {
  readonly name: string;
  readonly kind: Extract<IngredientKind, 'grain' | 'extract' | 'sugar'>;
  readonly weight_g: Given<Gram>;
  /** Laboratory extract as is, share of weight. */
  readonly yield: Looked<Fraction>;
  readonly colour_EBC: Looked<Ebc>;
  readonly fermentability: Looked<Fraction>;
  readonly fermentableAs: 'malt' | 'sugar' | 'none';
  readonly form: 'liquid' | 'dry' | null;
  readonly needsMash: boolean;
  readonly allergens: readonly string[];
  readonly note: string | null;
}

export interface GrainItem extends FermentableItem {
  readonly kind: 'grain';
  readonly in: 'steep' | 'mash';
}

export interface ExtractItem extends FermentableItem {
  readonly kind: 'extract' | 'sugar';
  /** Default: the start of the boil. */
  readonly add: RecipeMoment;
  /** A kit's hopped extract: what its label promises. */
  readonly bitterness: {
    readonly ibu: Ibu;
    readonly in_L: Litre;
    readonly labelWeight_g: Gram | null;
    readonly written: string;
  } | null;
}

export interface HopItem {
  readonly name: string;
  readonly weight_g: Given<Gram>;
  readonly alpha: Looked<Fraction>;
  readonly form: 'leaf' | 'pellet';
  readonly add: RecipeMoment;
  readonly note: string | null;
}

export interface OtherItem {
  readonly name: string;
  readonly amount: GivenAmount;
  readonly add: RecipeMoment;
  readonly allergens: readonly string[];
  readonly note: string | null;
}

export interface YeastItem {
  readonly name: string;
  readonly form: 'dry' | 'liquid' | 'slurry';
  readonly amount: GivenAmount;
  readonly attenuation: Looked<Fraction>;
  readonly temperature_C: GivenRange<Celsius> | null;
  readonly kind: YeastKind;
  readonly pack: GivenAmount | null;
  /** Living cells per gram, per millilitre, or per pack. */
  readonly cells: {
    readonly billion: BillionCells;
    readonly per: 'g' | 'ml' | 'pack';
    readonly u: number | null;
  } | null;
  readonly note: string | null;
}

export interface FermentStep {
  readonly temperature_C: Given<Celsius>;
  readonly time_min: Given<Minute>;
}

export interface PackageStep {
  readonly into: 'bottles' | 'keg';
  readonly carbonation_vol: Given<Volumes>;
  /** Name of the priming sugar and the CO2 that it yields by mass; null for a keg under pressure. */
  readonly sugar: { readonly name: string; readonly co2_g_per_g: number; readonly extract: number } | null;
  readonly bottle_L: Given<Litre> | null;
  /** What the bottles are made for: dissolved CO2 in volumes, or gauge pressure. */
  readonly limit: {
    readonly unit: 'vol' | 'kPa';
    readonly value: number;
    readonly written: string;
    readonly assumed: boolean;
  };
  readonly temperature_C: Given<Celsius> | null;
  readonly volume_L: Given<Litre> | null;
}

/** What a kit's box says; compared, never aimed at. */
export interface KitLabel {
  readonly originalGravity: GivenGravity | null;
  readonly finalGravity: GivenGravity | null;
  readonly volume_L: Given<Litre> | null;
}

export interface Recipe {
  readonly label: KitLabel | null;
  readonly intoFermenter_L: Given<Litre>;
  readonly boil_min: Given<Minute>;
  readonly boilVolume_L: Given<Litre> | null;
  readonly steep: {
    readonly temperature_C: Given<Celsius>;
    readonly time_min: Given<Minute>;
    readonly water_L: Given<Litre> | null;
  } | null;
  readonly mash: {
    readonly temperature_C: Given<Celsius>;
    readonly time_min: Given<Minute>;
    readonly ratio_L_per_kg: Given<LitrePerKilogram>;
  } | null;
  readonly rinse_L: Given<Litre> | null;
  readonly grain: readonly GrainItem[];
  readonly extract: readonly ExtractItem[];
  readonly sugar: readonly ExtractItem[];
  readonly hops: readonly HopItem[];
  readonly stand: { readonly temperature_C: Given<Celsius>; readonly time_min: Given<Minute> } | null;
  readonly other: readonly OtherItem[];
  readonly yeast: readonly YeastItem[];
  readonly ferment: readonly FermentStep[];
  /** Empty where the recipe does not say. */
  readonly packaging: readonly PackageStep[];
}

export type ItemKind = 'grain' | 'extract' | 'sugar' | 'hops' | 'other' | 'yeast';

/** One item of a recipe, whatever its kind: what a list, a timetable or a calendar needs of it. */
export interface RecipeItem {
  /** Key path below `recipe`, `hops[1]`. */
  readonly path: string;
  readonly kind: ItemKind;
  /** Among those of its kind, from 0. */
  readonly index: number;
  readonly name: string;
  readonly amount: GivenAmount;
  readonly add: RecipeMoment | { readonly at: 'mash' | 'pitch' };
  readonly note: string | null;
  /** Share of alpha acids; null for all but hops. */
  readonly alpha: number | null;
  /** `dry`, `liquid`, `slurry`, `leaf`, `pellet`; null where it has none. */
  readonly form: string | null;
  readonly allergens: readonly string[];
}

/** Every item of a recipe, kind by kind in the order of the file. */
export function recipeItems({ grain, extract, sugar, hops, other, yeast }: Recipe): readonly RecipeItem[] {
  const items: RecipeItem[] = [];
  // Written out: objects that are spread cost several times as much, and every sheet and page asks for these.
  const put = (
    kind: ItemKind,
    index: number,
    { name, note }: { readonly name: string; readonly note: string | null },
    amount: GivenAmount,
    add: RecipeItem['add'],
    form: string | null = null,
    allergens: readonly string[] = [],
    alpha: number | null = null,
  ) => {
    items.push({ path: `${kind}[${index}]`, kind, index, name, note, alpha, form, allergens, amount, add });
  };
  const weighed = ({ weight_g: { value, written } }: { readonly weight_g: Given<Gram> }): GivenAmount => ({
    value,
    unit: 'g',
    written,
  });
  const fermentable = (kind: ItemKind) => (item: ExtractItem, at: number) =>
    put(kind, at, item, weighed(item), item.add, item.form, item.allergens);
  grain.forEach((item, at) => {
    put('grain', at, item, weighed(item), { at: item.in }, item.form, item.allergens);
  });
  extract.forEach(fermentable('extract'));
  sugar.forEach(fermentable('sugar'));
  hops.forEach((item, at) => {
    put('hops', at, item, weighed(item), item.add, item.form, [], item.alpha.value);
  });
  other.forEach((item, at) => {
    put('other', at, item, item.amount, item.add, null, item.allergens);
  });
  yeast.forEach((item, at) => {
    put('yeast', at, item, item.amount, { at: 'pitch' }, item.form);
  });
  return items;
}
