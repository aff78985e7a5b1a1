import { DIMENSIONS, type Dimension } from '../dimension.ts';
import { type BaseDimension, UNIT_TABLE, type UnitRow } from '../table.ts';
import type { Token } from './scan.ts';

/** Which gallon a bare one is; `null` where it may not be bare. */
export type BareGallon = 'us' | 'imp' | null;

export interface LookupRules {
  readonly dimension: Dimension;
  readonly bare: BareGallon;
  readonly colourOf: 'malt' | 'sugar';
}

/** internal value = number × factor + offset. */
export interface FoundUnit {
  readonly found: 'unit';
  readonly factor: number;
  readonly offset: number;
}

export type Lookup =
  | FoundUnit
  | { readonly found: 'none'; readonly unit: string }
  /** A unit of something else; `noun` says of what. */
  | { readonly found: 'other'; readonly noun: string }
  | { readonly found: 'two gallons' }
  | { readonly found: 'two meanings'; readonly meanings: readonly string[] };

/** A unit's words as the tables spell them: lower case, no spaces or full stops, `deg` as `°`. */
export function unitKey(words: readonly string[]): string {
  const joined = words.join('').replaceAll('.', '').replaceAll('’', "'").toLowerCase();
  return joined.replace(/^deg(?:rees?)?/, '°');
}

/** Words that have a sense in one dimension but two meanings there. */
const TWO_MEANINGS: Partial<Record<BaseDimension, ReadonlyMap<string, readonly string[]>>> = {
  temperature: new Map([['°', ['°C', '°F']]]),
  temperatureDifference: new Map([['°', ['°C', '°F']]]),
  time: new Map([['m', ['min', 'months']]]),
  maltColour: new Map([
    ['°', ['°L', 'EBC']],
    ['l', ['°L', 'EBC']],
  ]),
  sugarColour: new Map([
    ['°', ['SRM', 'EBC']],
    ['l', ['SRM', 'EBC']],
  ]),
};

const BY_NAME = new Map(
  Object.entries(UNIT_TABLE).map(([base, rows]) => [
    base,
    new Map(rows.flatMap((row) => row.names.map((name) => [name, row] as const))),
  ]),
);

export const unitRow = (base: BaseDimension, key: string): UnitRow | undefined => BY_NAME.get(base)?.get(key);

/** The gallon, or a part of it, of that name. */
export function gallonRow(key: string): UnitRow | undefined {
  const row = unitRow('volume', key);
  return row?.imperial === null ? undefined : row;
}

/** Whether a unit is an ounce that does not say of what. */
export const isOunce = (key: string): boolean => unitRow('mass', key)?.symbol === 'oz';

const GALLON_PREFIX = /^(?:(usa?)|imperial|imp|uk|british|brit)(?=[a-z]|$)/;

/** Which gallon a word means, and what follows it: `usgal` is a gallon of the US. */
export function gallonPrefix(key: string): { readonly which: BareGallon; readonly rest: string } {
  const prefix = GALLON_PREFIX.exec(key);
  if (prefix === null) return { which: null, rest: key };
  return { which: prefix[1] === undefined ? 'imp' : 'us', rest: key.slice(prefix[0].length) };
}

/** Whether a word says which gallon is meant. */
export function isGallonPrefix(word: string): boolean {
  const { which, rest } = gallonPrefix(unitKey([word]));
  return which !== null && rest === '';
}

const size = (factor: number, offset = 0): FoundUnit => ({ found: 'unit', factor, offset });

function lookUpBase(base: BaseDimension, key: string, bare: BareGallon): Lookup | undefined {
  const row = unitRow(base, key);
  if (row !== undefined && row.imperial === null) return size(row.factor, row.offset);
  if (base === 'volume') {
    const { which, rest } = gallonPrefix(key);
    const gallon = row ?? (which === null ? undefined : gallonRow(rest));
    const meant = which ?? bare;
    if (gallon !== undefined && meant === null) return { found: 'two gallons' };
    if (gallon !== undefined)
      return size(meant === 'us' ? gallon.factor : (gallon.imperial ?? gallon.factor));
  }
  const meanings = TWO_MEANINGS[base]?.get(key);
  return meanings && { found: 'two meanings', meanings };
}

/** Null for a dimension whose units are quotients. */
function baseOf(dimension: Dimension, colourOf: 'malt' | 'sugar'): BaseDimension | null {
  if (dimension === 'colour') return colourOf === 'malt' ? 'maltColour' : 'sugarColour';
  return dimension in UNIT_TABLE ? (dimension as BaseDimension) : null;
}

/** What a unit measures that was not asked for, as a noun; undefined where the tables do not know it. */
export function otherMeaning(key: string, asked: Dimension): string | undefined {
  const others = Object.keys(DIMENSIONS) as readonly Dimension[];
  const found = others.find((dimension) => {
    const base = baseOf(dimension, 'malt');
    if (dimension === asked || base === null || dimension === 'temperatureDifference') return false;
    return lookUpBase(base, key, 'us')?.found === 'unit';
  });
  return found && DIMENSIONS[found].noun;
}

/** Every spelling that a dimension's units have, for "did you mean". */
export function unitNames(dimension: Dimension, colourOf: 'malt' | 'sugar'): readonly string[] {
  const base = baseOf(dimension, colourOf);
  const { metric, us } = DIMENSIONS[dimension].written;
  if (base === null) return [...metric.likely, ...us.likely];
  return UNIT_TABLE[base].flatMap(({ symbol, names, imperial }) =>
    imperial === null ? [symbol, ...names.filter((name) => name.length > 3)] : names,
  );
}

/** The words of one unit cut at `/` or `per`, with the number that may be below: `fl oz / 5 gal`. */
interface SplitUnit {
  readonly above: string;
  readonly below: string | null;
  readonly belowNumber: number;
}

export const isPer = (token: Token | undefined): boolean =>
  token?.kind === 'slash' || (token?.kind === 'word' && token.text.toLowerCase() === 'per');

function splitUnit(tokens: readonly Token[]): SplitUnit | null {
  const cut = tokens.findIndex(isPer);
  const above = cut < 0 ? tokens : tokens.slice(0, cut);
  const below = cut < 0 ? [] : tokens.slice(cut + 1);
  const number = below.find((token) => token.kind === 'number');
  const words = below.filter((token) => token !== number);
  const all = [...above, ...words];
  if (above.length === 0 || (cut >= 0 && words.length === 0) || all.some(({ kind }) => kind !== 'word'))
    return null;
  const belowNumber = number?.kind === 'number' ? (number.number.value ?? 0) : 1;
  if (!(belowNumber > 0) || words.some(isPer)) return null;
  const key = (own: readonly Token[]): string => unitKey(own.map(({ text }) => text));
  return { above: key(above), below: cut < 0 ? null : key(words), belowNumber };
}

/** What a unit written as these tokens is worth in the dimension asked for. */
export function lookUpUnit(tokens: readonly Token[], { dimension, bare, colourOf }: LookupRules): Lookup {
  const none: Lookup = { found: 'none', unit: tokens.map(({ text }) => text).join('') };
  const split = splitUnit(tokens);
  if (split === null) return none;
  const { above, below, belowNumber } = split;
  const another = (key: string): Lookup => {
    const noun = otherMeaning(key, dimension);
    return noun === undefined ? none : { found: 'other', noun };
  };
  const base = baseOf(dimension, colourOf);
  if (base !== null) {
    const key = below === null ? above : `${above}/${below}`;
    return belowNumber === 1 ? (lookUpBase(base, key, bare) ?? another(key)) : none;
  }
  const { quotient } = DIMENSIONS[dimension];
  if (below === null || quotient === null) return another(above);
  const [baseAbove, baseBelow, scale] = quotient;
  // A dose is a liquid's, so that an ounce in it is a fluid ounce.
  const liquid = dimension === 'dose' && isOunce(above) ? 'floz' : above;
  const over = lookUpBase(baseAbove, liquid, bare);
  const under = lookUpBase(baseBelow, below, bare);
  if (!over || !under) return none;
  if (over.found !== 'unit') return over;
  if (under.found !== 'unit') return under;
  return size((over.factor / (under.factor * belowNumber)) * scale);
}
