/** A row of a reference table in `shared/` or of `content/ingredients.yaml`. */
export type IngredientKind = 'grain' | 'extract' | 'sugar' | 'hop' | 'yeast' | 'fining' | 'spice' | 'fruit';

export interface Ingredient {
  readonly name: string;
  /** Other names the trade uses for the same thing. */
  readonly also: readonly string[];
  readonly kind: IngredientKind;
  /** Laboratory extract as is, mass share of the item's weight, 0 to 1. */
  readonly yield: number | null;
  readonly colour_EBC: number | null;
  /** Relative to base malt = 1; simple sugars see `fermentableAs`. */
  readonly fermentability: number | null;
  /** How the extract ferments: like malt (scaled), wholly (simple sugar), or not at all (lactose, maltodextrin). */
  readonly fermentableAs: 'malt' | 'sugar' | 'none' | null;
  /** Water content, mass share: liquid extract and syrups. */
  readonly moisture: number | null;
  /** `liquid`, `dry` for extracts; null elsewhere. */
  readonly form: 'liquid' | 'dry' | null;
  /** True where the grain needs a mash to give its extract (base malts, flaked grain). */
  readonly needsMash: boolean;
  /** Alpha acids, mass share, low to high. */
  readonly alpha: { readonly low: number; readonly high: number } | null;
  /** Apparent attenuation as stated for the yeast type, low to high. */
  readonly attenuation: { readonly low: number; readonly high: number } | null;
  /** Fermentation temperature band of the yeast type. */
  readonly temperature_C: { readonly low: number; readonly high: number } | null;
  /** Pitching-rate family of a yeast. */
  readonly yeastKind: YeastKind | null;
  /** CO2 by mass per mass of this sugar when wholly fermented, as primer; null: not for priming. */
  readonly priming_g_per_g: number | null;
  readonly allergens: readonly string[];
  readonly source: string;
}

export type YeastKind = 'ale' | 'lager' | 'wheat' | 'kveik' | 'belgian' | 'brett' | 'hybrid';
