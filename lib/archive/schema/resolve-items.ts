import type { Ingredient } from '../../batch/types/ingredient.ts';
import type {
  ExtractItem,
  FermentableItem,
  GrainItem,
  HopItem,
  Looked,
  OtherItem,
  YeastItem,
} from '../../batch/types/recipe.ts';
import { celsius, type Ebc, ebc, type Fraction, fraction } from '../../units/brands.ts';
import { formatMaltColour, formatPercent } from '../../units/format/format.ts';
import type { Given } from '../../units/parse/given.ts';
import { slips } from '../../units/parse/nearest.ts';
import { USUAL } from '../../units/parse/possible.ts';
import { findRow, nearNames, plainName, type Tables } from './names.ts';
import { bandText, RECTANGULAR_WIDTHS } from './quantities.ts';
import type { RecipeData } from './recipe-schema.ts';
import type { Report } from './report.ts';
import { needsStep, type Occasion, resolveMoment } from './resolve-moment.ts';
import { listed } from './scalars.ts';
import { quoted } from './value-fault.ts';

/** What an item is looked up with; the report begins at its path. */
export interface Lookup {
  readonly tables: Tables;
  readonly occasion: Occasion;
  readonly report: Report;
}

type Item<K extends keyof RecipeData> = Extract<NonNullable<RecipeData[K]>, readonly unknown[]>[number];
type Maybe = Given<number> | null | undefined;

/** The kind of ingredient in a list, and what one that no table has must say of itself. */
const LISTS = {
  grain: { kind: 'grain', described: { yield: 0.75, colour: 8 } },
  extract: { kind: 'extract', described: { yield: 0.79, colour: 9 } },
  sugar: { kind: 'sugar', described: { yield: 1, colour: 0 } },
  hops: { kind: 'hop', described: { alpha: 0.05 } },
  yeast: { kind: 'yeast', described: { attenuation: 0.75 } },
} as const;
const written = (key: string, value: number, { units }: Report): string =>
  `${key}: ${key === 'colour' ? formatMaltColour(value, units) : formatPercent(value)}`;
const listOf = (kind: Ingredient['kind']): string =>
  Object.entries(LISTS).find(([, list]) => list.kind === kind)?.[0] ?? 'other';

/** The row of an item, or null where it is described in place; reports a name found nowhere. */
function rowOf(
  list: keyof typeof LISTS,
  name: string,
  described: boolean,
  lookup: Lookup,
): Ingredient | null {
  const { tables, report } = lookup;
  const { kind, described: samples } = LISTS[list];
  const row = findRow(tables, name, [kind]);
  if (row !== undefined || described) return row ?? null;
  const elsewhere = findRow(tables, name);
  const own = Object.entries(samples).map(([key, value]) => written(key, value, report));
  const facts = { name: quoted(name), keys: own.join(', ') };
  if (elsewhere !== undefined) {
    const { kind: other } = elsewhere;
    report.error('wrong-list', ['name'], { ...facts, other, kind, list, right: listOf(other) });
    return null;
  }
  const near = nearNames(tables, name, [kind]);
  report.error('unknown-ingredient', ['name'], {
    ...facts,
    kind: `${kind === 'extract' ? 'an' : 'a'} ${kind}`,
    such: near.length === 0 ? 'or its figures in place' : `such as ${listed(near)}`,
    write: near.length === 0 ? '' : `write ${near[0]}, or `,
  });
  return null;
}

/** A figure that an item may state: its key, how it is written, and its value where nobody states one. */
interface Sort<T extends number> {
  readonly key: string;
  readonly sample: number;
  readonly brand: (value: number) => T;
  readonly otherwise?: number;
}
const YIELD: Sort<Fraction> = { key: 'yield', sample: 0.75, brand: fraction };
const COLOUR: Sort<Ebc> = { key: 'colour', sample: 8, brand: ebc };
const FERMENTABILITY: Sort<Fraction> = { ...YIELD, key: 'fermentability', otherwise: 1 };
const ALPHA: Sort<Fraction> = { key: 'alpha', sample: 0.05, brand: fraction };
const ATTENUATION: Sort<Fraction> = { ...YIELD, key: 'attenuation' };

/** Figures of one item: of the recipe, else of the table, else of the last resort; reports one that nobody states. */
const figuresOf =
  (name: string, report: Report | null) =>
  <T extends number>({ key, sample, brand, otherwise }: Sort<T>, given: Maybe, table: Figure): Looked<T> => {
    if (given) return { value: brand(given.value), u: given.u, from: 'recipe' };
    if (table !== null) return { value: brand(table.value), u: table.u, from: 'table' };
    if (otherwise === undefined) {
      const facts = { key, name: quoted(name) };
      report?.error('figure-missing', [key], { ...facts, sample: written(key, sample, report) });
    }
    return { value: brand(otherwise ?? 0), u: null, from: 'table' };
  };

type Figure = { readonly value: number; readonly u: number | null } | null;

const point = (value: number | null | undefined): Figure =>
  value === null || value === undefined ? null : { value, u: null };

/** The middle of a table's band, with the uncertainty of a rectangular distribution (JCGM 100, 4.3.7). */
function middle(band: { readonly low: number; readonly high: number } | null | undefined): Figure {
  if (!band) return null;
  const { low, high } = band;
  return { value: (low + high) / 2, u: high > low ? (high - low) / RECTANGULAR_WIDTHS : null };
}

function fermentable<K extends 'grain' | 'extract' | 'sugar'>(
  list: K,
  item: Item<'grain'> | Item<'extract'>,
  lookup: Lookup,
): FermentableItem & { readonly kind: K } {
  const described = Boolean(item.yield && item.colour);
  const row = rowOf(list, item.name, described, lookup);
  // An unknown ingredient is one problem, not three.
  const figure = figuresOf(item.name, row === null && !described ? null : lookup.report);
  return {
    name: item.name,
    kind: list,
    weight_g: item.weight,
    yield: figure(YIELD, item.yield, point(row?.yield)),
    colour_EBC: figure(COLOUR, item.colour, point(row?.colour_EBC)),
    fermentability: figure(FERMENTABILITY, item.fermentability, point(row?.fermentability)),
    fermentableAs: row?.fermentableAs ?? (list === 'sugar' ? 'sugar' : 'malt'),
    form: ('form' in item ? item.form : null) ?? row?.form ?? null,
    needsMash: row?.needsMash ?? false,
    allergens: row?.allergens ?? [],
    note: item.note ?? null,
  };
}

export function resolveGrain(item: Item<'grain'>, lookup: Lookup): GrainItem {
  const grain = { ...fermentable('grain', item, lookup), in: item.in };
  const { report, occasion } = lookup;
  if (!occasion.has(item.in)) needsStep(report, 'in', item.in, '');
  if (item.in === 'steep' && grain.needsMash)
    report.warn('base-malt-steeped', ['in'], { name: quoted(item.name) });
  return grain;
}

export const resolveExtract =
  (list: 'extract' | 'sugar') =>
  (item: Item<'extract'>, lookup: Lookup): ExtractItem => ({
    ...fermentable(list, item, lookup),
    add: resolveMoment(item, lookup.occasion, lookup.report),
    bitterness: item.bitterness ?? null,
  });

export function resolveHop(item: Item<'hops'>, lookup: Lookup): HopItem {
  const { report } = lookup;
  const row = rowOf('hops', item.name, Boolean(item.alpha), lookup);
  const figure = figuresOf(item.name, row === null ? null : report);
  if (row === null && item.alpha) tellSlip(item.name, lookup);
  report.unusual(item.alpha, USUAL.alpha, 'alpha');
  return {
    name: item.name,
    weight_g: item.weight,
    alpha: figure(ALPHA, item.alpha, middle(row?.alpha)),
    form: item.form ?? 'pellet',
    add: resolveMoment(item, lookup.occasion, report),
    note: item.note ?? null,
  };
}

/** A shorter name is one letter from too many others. */
const SHORTEST_SLIP = 5;

/** A hop that is described in place needs no table; one letter off a known name it is most likely that one. */
function tellSlip(name: string, { tables, report }: Lookup): void {
  const wanted = plainName(name);
  // Numbers tell varieties apart that have no name yet.
  if (wanted.length < SHORTEST_SLIP || /[0-9]/.test(wanted)) return;
  const near = nearNames(tables, name, ['hop']).find((known) => slips(wanted, plainName(known)) === 1);
  if (near !== undefined) report.warn('unknown-ingredient', ['name'], { slip: quoted(name), near });
}

/** Spices and finings need no figures: a name that no table has is taken as it is. */
export const resolveOther = (item: Item<'other'>, { tables, occasion, report }: Lookup): OtherItem => ({
  name: item.name,
  amount: item.amount,
  add: resolveMoment(item, occasion, report),
  allergens: findRow(tables, item.name)?.allergens ?? [],
  note: item.note ?? null,
});

export function resolveYeast(item: Item<'yeast'>, lookup: Lookup): YeastItem {
  const row = rowOf('yeast', item.name, Boolean(item.attenuation), lookup);
  const figure = figuresOf(item.name, row === null ? null : lookup.report);
  return {
    name: item.name,
    form: item.form ?? (item.amount.unit === 'L' ? 'slurry' : 'dry'),
    amount: item.amount,
    attenuation: figure(ATTENUATION, item.attenuation, middle(row?.attenuation)),
    temperature_C: item.temperature ?? bandOf(row, lookup.report),
    kind: item.kind ?? row?.yeastKind ?? 'ale',
    pack: item.pack ?? null,
    cells: item.cells ?? null,
    note: item.note ?? null,
  };
}

function bandOf(row: Ingredient | null, { units }: Report): YeastItem['temperature_C'] {
  if (!row?.temperature_C) return null;
  const { low, high } = row.temperature_C;
  return { low: celsius(low), high: celsius(high), written: bandText(low, high, units) };
}
