import type { Batch } from '../../batch/types/batch.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import type { Ingredient } from '../../batch/types/ingredient.ts';
import type { Recipe } from '../../batch/types/recipe.ts';

/** What a recipe's page carries so that a friend's browser can plan it: nothing of the batch's day, readings or notes. */
export interface TravelData {
  readonly version: 1;
  readonly batch: Batch;
  readonly brewery: Brewery;
  /** What takes the place of the recipe's extract where a friend has the other kind; null where nothing does. */
  readonly extracts: { readonly liquid: Ingredient | null; readonly dry: Ingredient | null };
}

/** What a friend has otherwise than the recipe's author; all optional, in internal units. */
export interface Changes {
  readonly intoFermenter_L?: number;
  readonly kettle_L?: number;
  readonly boilOff_L_per_h?: number;
  readonly heat_kW?: number;
  readonly altitude_m?: number;
  /** Alpha acids by packet (see `packets`), share of weight. */
  readonly alphas?: Readonly<Record<number, number>>;
  readonly extract?: 'liquid' | 'dry';
  readonly units?: Brewery['units'];
  readonly paper?: Brewery['paper'];
}

/** The figures that can be changed by number. */
export const FIGURES = [
  'intoFermenter_L',
  'kettle_L',
  'boilOff_L_per_h',
  'heat_kW',
  'altitude_m',
] as const satisfies readonly (keyof Changes)[];
export type FigureName = (typeof FIGURES)[number];

/** Beyond these nobody brews on a stove: a link that asks for more was mistyped or made up. */
export const LIMITS: { readonly [F in FigureName]: { readonly low: number; readonly high: number } } = {
  intoFermenter_L: { low: 0.5, high: 200 },
  kettle_L: { low: 1, high: 300 },
  boilOff_L_per_h: { low: 0, high: 30 },
  heat_kW: { low: 0.2, high: 30 },
  altitude_m: { low: -430, high: 5500 },
};
export const ALPHA_LIMITS = { low: 0.001, high: 0.3 } as const;

/** A figure as it is kept: four decimals, so that a link and the page that made it hold the very same number. */
// Adding 0 makes 0 of −0.
export const settled = (value: number): number => Number(value.toFixed(4)) + 0;

/** Hops of one name and one alpha: what comes out of one packet. */
export interface Packet {
  readonly name: string;
  readonly alpha: number;
  /** Indexes into `recipe.hops`. */
  readonly hops: readonly number[];
}

/** The recipe's packets of hops, in the order in which they are first used. */
export function packets(recipe: Recipe): readonly Packet[] {
  const found = new Map<string, { name: string; alpha: number; hops: number[] }>();
  recipe.hops.forEach(({ name, alpha }, index) => {
    const key = `${name.toLowerCase()} ${alpha.value}`;
    const packet = found.get(key);
    if (packet === undefined) found.set(key, { name, alpha: alpha.value, hops: [index] });
    else packet.hops.push(index);
  });
  return [...found.values()];
}

/** True where a change asks for other amounts, and not only for other paper. */
export function asksForAmounts(changes: Changes): boolean {
  const { paper: _, ...rest } = changes;
  return Object.values(rest).some((value) => value !== undefined);
}
