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
import { celsius, ebc, fraction } from '../../units/brands.ts';
import type { Given } from '../../units/parse/given.ts';
import { slips } from '../../units/parse/nearest.ts';
import type { KeyPath } from '../../units/problem.ts';
import { findRow, nearNames, plainName, type Tables } from './names.ts';
import { USUAL } from './possible.ts';
import { RECTANGULAR_WIDTHS } from './quantities.ts';
import type { RecipeData } from './recipe-schema.ts';
import type { Report } from './report.ts';
import { type Occasion, resolveMoment } from './resolve-moment.ts';
import { listed } from './scalars.ts';
import { quoted } from './value-fault.ts';

export interface Lookup {
  readonly tables: Tables;
  readonly occasion: Occasion;
  readonly report: Report;
}

type Item<K extends keyof RecipeData> = Extract<NonNullable<RecipeData[K]>, readonly unknown[]>[number];
type ListKey = 'grain' | 'extract' | 'sugar' | 'hops' | 'yeast';
type Maybe = Given<number> | null | undefined;

/** Where each kind of ingredient belongs, to say so when it stands in another list. */
const LIST_OF: Readonly<Record<Ingredient['kind'], string>> = {
  grain: 'grain',
  extract: 'extract',
  sugar: 'sugar',
  hop: 'hops',
  yeast: 'yeast',
  fining: 'other',
  spice: 'other',
  fruit: 'other',
};
const KIND_OF = { grain: 'grain', extract: 'extract', sugar: 'sugar', hops: 'hop', yeast: 'yeast' } as const;
const ALL_KINDS = Object.keys(LIST_OF) as Ingredient['kind'][];

/** What an ingredient that no table has must say of itself, as the brewer would write it. */
const DESCRIBED: Readonly<Record<ListKey, string>> = {
  grain: 'yield: 75 %, colour: 8 EBC',
  extract: 'yield: 79 %, colour: 9 EBC',
  sugar: 'yield: 100 %, colour: 0 EBC',
  hops: 'alpha: 5 %',
  yeast: 'attenuation: 75 %',
};

/** The row of an item, or null where it is described in place; reports a name found nowhere. */
function rowOf(
  list: ListKey,
  name: string,
  described: boolean,
  path: KeyPath,
  { tables, report }: Lookup,
): Ingredient | null {
  const kind = KIND_OF[list];
  const row = findRow(tables, name, [kind]);
  if (row !== undefined || described) return row ?? null;
  const elsewhere = findRow(tables, name, ALL_KINDS);
  if (elsewhere !== undefined) {
    report.error(
      'wrong-list',
      [...path, 'name'],
      `${quoted(name)}, which the tables know as ${elsewhere.kind}`,
      `an ingredient of the kind ${kind} in recipe.${list}`,
      `move it to recipe.${LIST_OF[elsewhere.kind]}, or describe it here with ${report.example(DESCRIBED[list])}`,
    );
    return null;
  }
  const near = nearNames(tables, name, [kind]);
  report.error(
    'unknown-ingredient',
    [...path, 'name'],
    quoted(name),
    near.length === 0
      ? `${kind === 'extract' ? 'an' : 'a'} ${kind} of the tables, or its figures in place`
      : `${kind === 'extract' ? 'an' : 'a'} ${kind} of the tables, such as ${listed(near)}`,
    `${near.length === 0 ? '' : `write ${near[0]}, or `}describe it here with ${report.example(DESCRIBED[list])}, or in content/ingredients.yaml`,
  );
  return null;
}

/** A figure of the recipe, else of the table, else of the last resort; reports one that nobody states. */
function figure<T extends number>(
  of: { key: string; sample: string; brand: (n: number) => T; otherwise?: number },
  given: Maybe,
  table: { value: number; u: number | null } | null,
  name: string,
  path: KeyPath,
  report: Report | null,
): Looked<T> {
  if (given) return { value: of.brand(given.value), u: given.u, from: 'recipe' };
  if (table !== null) return { value: of.brand(table.value), u: table.u, from: 'table' };
  if (of.otherwise === undefined) {
    report?.error(
      'figure-missing',
      [...path, of.key],
      'nothing',
      `the ${of.key} of ${quoted(name)}, which the tables do not state`,
      report.example(`add for example ${of.key}: ${of.sample}`),
    );
  }
  return { value: of.brand(of.otherwise ?? 0), u: null, from: 'table' };
}

const point = (value: number | null | undefined) =>
  value === null || value === undefined ? null : { value, u: null };

/** The middle of a table's band, with the uncertainty of a rectangular distribution (JCGM 100, 4.3.7). */
const middle = (band: { readonly low: number; readonly high: number } | null | undefined) =>
  band === null || band === undefined
    ? null
    : {
        value: (band.low + band.high) / 2,
        u: band.high > band.low ? (band.high - band.low) / RECTANGULAR_WIDTHS : null,
      };

function fermentable<K extends 'grain' | 'extract' | 'sugar'>(
  list: K,
  item: Item<'grain'> | Item<'extract'>,
  path: KeyPath,
  lookup: Lookup,
): FermentableItem & { readonly kind: K } {
  const row = rowOf(list, item.name, Boolean(item.yield && item.colour), path, lookup);
  // An unknown ingredient is one problem, not three.
  const report = row === null && !(item.yield && item.colour) ? null : lookup.report;
  const simple = list === 'sugar';
  return {
    name: item.name,
    kind: list,
    weight_g: item.weight,
    yield: figure(
      { key: 'yield', sample: '75 %', brand: fraction },
      item.yield,
      point(row?.yield),
      item.name,
      path,
      report,
    ),
    colour_EBC: figure(
      { key: 'colour', sample: '8 EBC', brand: ebc },
      item.colour,
      point(row?.colour_EBC),
      item.name,
      path,
      report,
    ),
    fermentability: figure(
      { key: 'fermentability', sample: '90 %', brand: fraction, otherwise: 1 },
      item.fermentability,
      point(row?.fermentability),
      item.name,
      path,
      report,
    ),
    fermentableAs: row?.fermentableAs ?? (simple ? 'sugar' : 'malt'),
    form: ('form' in item ? item.form : null) ?? row?.form ?? null,
    needsMash: row?.needsMash ?? false,
    allergens: row?.allergens ?? [],
    note: item.note ?? null,
  };
}

export function resolveGrain(item: Item<'grain'>, index: number, lookup: Lookup): GrainItem {
  const path = ['recipe', 'grain', index];
  const grain = { ...fermentable('grain', item, path, lookup), in: item.in };
  const { report, occasion } = lookup;
  if (!occasion.has(item.in)) {
    const ratio = item.in === 'mash' ? ', ratio: 3 L/kg' : '';
    report.error(
      `${item.in}-missing`,
      [...path, 'in'],
      `"${item.in}" where the recipe has no ${item.in}`,
      `${item.in}: below recipe, with its temperature and time${ratio === '' ? '' : ' and ratio'}`,
      report.example(
        `add ${item.in}: { temperature: 67 °C, time: ${item.in === 'mash' ? 60 : 20} min${ratio} } to the recipe`,
      ),
    );
  }
  if (item.in === 'steep' && grain.needsMash) {
    report.warn(
      'base-malt-steeped',
      [...path, 'in'],
      `${quoted(item.name)} in the steep`,
      'a mash, since this grain gives little but starch to a steep',
      'mash it (in: mash), or choose a crystal or roasted malt',
    );
  }
  return grain;
}

export function resolveExtract<K extends 'extract' | 'sugar'>(
  list: K,
  item: Item<'extract'>,
  index: number,
  lookup: Lookup,
): ExtractItem {
  const path = ['recipe', list, index];
  return {
    ...fermentable(list, item, path, lookup),
    add: resolveMoment(item, lookup.occasion, path, lookup.report),
    bitterness: item.bitterness
      ? {
          ibu: item.bitterness.ibu,
          in_L: item.bitterness.in_L,
          labelWeight_g: null,
          written: item.bitterness.written,
        }
      : null,
  };
}

export function resolveHop(item: Item<'hops'>, index: number, lookup: Lookup): HopItem {
  const path = ['recipe', 'hops', index];
  const row = rowOf('hops', item.name, Boolean(item.alpha), path, lookup);
  if (row === null && item.alpha) tellSlip(item.name, path, lookup);
  lookup.report.unusual(item.alpha, USUAL.alpha, [...path, 'alpha']);
  return {
    name: item.name,
    weight_g: item.weight,
    alpha: figure(
      { key: 'alpha', sample: '5 %', brand: fraction },
      item.alpha,
      middle(row?.alpha),
      item.name,
      path,
      row === null ? null : lookup.report,
    ),
    form: item.form ?? 'pellet',
    add: resolveMoment(item, lookup.occasion, path, lookup.report),
    note: item.note ?? null,
  };
}

/** A shorter name is one letter from too many others. */
const SHORTEST_SLIP = 5;

/** A hop that is described in place needs no table; one letter off a known name it is most likely that one. */
function tellSlip(name: string, path: KeyPath, { tables, report }: Lookup): void {
  const wanted = plainName(name);
  // Numbers tell varieties apart that have no name yet.
  if (wanted.length < SHORTEST_SLIP || /[0-9]/.test(wanted)) return;
  const near = nearNames(tables, name, ['hop']).find((known) => slips(wanted, plainName(known)) === 1);
  if (near === undefined) return;
  report.warn(
    'unknown-ingredient',
    [...path, 'name'],
    `${quoted(name)}, one letter off a hop of the tables`,
    `${near}, or a hop that has this very name`,
    `write ${near}, or enter ${quoted(name)} in content/ingredients.yaml`,
  );
}

/** Spices and finings need no figures: a name that no table has is taken as it stands. */
export function resolveOther(item: Item<'other'>, index: number, lookup: Lookup): OtherItem {
  const path = ['recipe', 'other', index];
  return {
    name: item.name,
    amount: item.amount,
    add: resolveMoment(item, lookup.occasion, path, lookup.report),
    allergens: findRow(lookup.tables, item.name, ALL_KINDS)?.allergens ?? [],
    note: item.note ?? null,
  };
}

export function resolveYeast(item: Item<'yeast'>, index: number, lookup: Lookup): YeastItem {
  const path = ['recipe', 'yeast', index];
  const row = rowOf('yeast', item.name, Boolean(item.attenuation), path, lookup);
  const band = item.temperature ?? null;
  return {
    name: item.name,
    form: item.form ?? (item.amount.unit === 'L' ? 'slurry' : 'dry'),
    amount: item.amount,
    attenuation: figure(
      { key: 'attenuation', sample: '75 %', brand: fraction },
      item.attenuation,
      middle(row?.attenuation),
      item.name,
      path,
      row === null ? null : lookup.report,
    ),
    temperature_C: band ?? bandOf(row, lookup.report),
    kind: item.kind ?? row?.yeastKind ?? 'ale',
    pack: item.pack ?? null,
    cells: item.cells ?? null,
    note: item.note ?? null,
  };
}

function bandOf(row: Ingredient | null, report: Report): YeastItem['temperature_C'] {
  if (!row?.temperature_C) return null;
  const { low, high } = row.temperature_C;
  return {
    low: celsius(low),
    high: celsius(high),
    written: report.example(low === high ? `${low} °C` : `${low}-${high} °C`),
  };
}
