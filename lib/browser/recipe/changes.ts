import type { Batch } from '../../batch/types/batch.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import type { Ingredient } from '../../batch/types/ingredient.ts';
import type { Recipe } from '../../batch/types/recipe.ts';
import type { Units } from '../../units/dimension.ts';
import { LITRES_PER_US_GALLON, METRES_PER_FOOT } from '../../units/table.ts';

/** What a recipe's page carries so that a friend's browser can plan it: nothing of the batch's day, readings or notes. */
export interface TravelData {
  readonly version: 1;
  readonly batch: Batch;
  readonly brewery: Brewery;
  /** What takes the place of the recipe's extract where a friend has the other kind; null where nothing does. */
  readonly extracts: { readonly liquid: Ingredient | null; readonly dry: Ingredient | null };
}

/** How a figure is typed: `size` of the internal unit make one of `unit`. */
export interface FormScale {
  readonly unit: string;
  readonly size: number;
  readonly decimals: number;
}
type Scales = { readonly [U in Units]: FormScale };

const scales = (metric: string, us: string, size: number, decimals: readonly [number, number]): Scales => ({
  metric: { unit: metric, size: 1, decimals: decimals[0] },
  us: { unit: us, size, decimals: decimals[1] },
});
const LITRES = scales('L', 'gal', LITRES_PER_US_GALLON, [1, 2]);
const LITRES_AN_HOUR = scales('L/h', 'gal/h', LITRES_PER_US_GALLON, [1, 2]);
const KILOWATTS = scales('kW', 'kW', 1, [2, 2]);
const METRES = scales('m', 'ft', METRES_PER_FOOT, [0, 0]);

interface FriendsFigure {
  readonly label: string;
  /** In a link, and in words where the link asks for what cannot be. */
  readonly letter: string;
  readonly word: string;
  /** Beyond these nobody brews on a stove: a link that asks for more was mistyped or made up. */
  readonly low: number;
  readonly high: number;
  readonly scale: Scales;
  /** What the author has. */
  readonly of: (batch: Batch) => number;
}

const figure = (
  label: string,
  [letter, word]: readonly [letter: string, word: string],
  [low, high]: readonly [low: number, high: number],
  scale: Scales,
  of: FriendsFigure['of'],
): FriendsFigure => ({ label, letter, word, low, high, scale, of });

/** The figures that can be changed by number, in internal units. */
export const FIGURES = {
  intoFermenter_L: figure(
    'Into the fermenter',
    ['v', 'volume'],
    [0.5, 200],
    LITRES,
    ({ recipe }) => recipe.intoFermenter_L.value,
  ),
  kettle_L: figure(
    'Kettle, to the brim',
    ['k', 'kettle'],
    [1, 300],
    LITRES,
    ({ setup }) => setup.kettle_L.value,
  ),
  boilOff_L_per_h: figure(
    'Boil-off',
    ['b', 'boil-off'],
    [0, 30],
    LITRES_AN_HOUR,
    ({ setup }) => setup.boilOff_L_per_h.value,
  ),
  heat_kW: figure(
    'Heat that reaches it',
    ['h', 'heat'],
    [0.2, 30],
    KILOWATTS,
    ({ setup }) => setup.heat_kW.value,
  ),
  altitude_m: figure(
    'Altitude',
    ['m', 'altitude'],
    [-430, 5500],
    METRES,
    ({ setup }) => setup.altitude_m.value,
  ),
} as const;
export type FigureName = keyof typeof FIGURES;
export const FIGURE_NAMES = Object.keys(FIGURES) as readonly FigureName[];

/** What a friend has otherwise than the recipe's author; all optional, in internal units. */
export type Changes = { readonly [F in FigureName]?: number } & {
  /** Alpha acids by packet (see `packets`), share of weight. */
  readonly alphas?: Readonly<Record<number, number>>;
  readonly extract?: 'liquid' | 'dry';
  readonly units?: Units;
  readonly paper?: Brewery['paper'];
};

export const ALPHA_LIMITS = { low: 0.001, high: 0.3 } as const;

/** A figure as it is kept: four decimals, so that a link and the page that made it hold the very same number. */
// Adding 0 makes 0 of −0.
export const settled = (value: number): number => Number(value.toFixed(4)) + 0;

/** Only what is asked for. */
export function stated({
  alphas = {},
  ...all
}: { readonly [K in keyof Changes]: Changes[K] | undefined }): Changes {
  const rest = Object.fromEntries(Object.entries(all).filter(([, value]) => value !== undefined));
  return Object.keys(alphas).length === 0 ? rest : { ...rest, alphas };
}

/** One of some words; undefined for any other text. */
export const oneOf = <T extends string>(
  text: string | null | undefined,
  allowed: readonly T[],
): T | undefined => allowed.find((word) => word === text);

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
