import { DIMENSIONS, type Dimension } from '../dimension.ts';
import { type BaseDimension, GALLON_TABLE, type GallonSystem, UNIT_TABLE, type UnitRow } from '../table.ts';
import type { Token } from './scan.ts';

/** Which gallon a bare one is; `null` where it may not be bare. */
export type BareGallon = GallonSystem | null;

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
const TWO_MEANINGS: Partial<Record<BaseDimension, Readonly<Record<string, readonly string[]>>>> = {
  temperature: { '°': ['°C', '°F'] },
  temperatureDifference: { '°': ['°C', '°F'] },
  time: { m: ['min', 'months'] },
  maltColour: { '°': ['°L', 'EBC'], l: ['°L', 'EBC'] },
  sugarColour: { '°': ['SRM', 'EBC'], l: ['SRM', 'EBC'] },
};

const GALLON_PREFIX = /^(us|usa|imperial|imp|uk|british|brit)(?=[a-z])/;
const US_PREFIXES: readonly string[] = ['us', 'usa'];

export function gallonRow(key: string): (typeof GALLON_TABLE)[number] | undefined {
  return GALLON_TABLE.find((row) => row.names.includes(key));
}

/** Whether a word says which gallon is meant. */
export function isGallonPrefix(word: string): boolean {
  return /^(us|usa|imperial|imp|uk|british|brit)$/.test(unitKey([word]));
}

function inTable(base: BaseDimension, key: string): UnitRow | undefined {
  return UNIT_TABLE[base].find((row) => row.names.includes(key));
}

function lookUpBase(base: BaseDimension, key: string, bare: BareGallon): Lookup | undefined {
  const row = inTable(base, key);
  if (row) return { found: 'unit', factor: row.factor, offset: row.offset ?? 0 };
  if (base === 'volume') {
    const plainRow = gallonRow(key);
    if (plainRow) {
      return bare === null ? { found: 'two gallons' } : { found: 'unit', factor: plainRow[bare], offset: 0 };
    }
    const prefix = GALLON_PREFIX.exec(key)?.[1];
    const prefixed = prefix === undefined ? undefined : gallonRow(key.slice(prefix.length));
    if (prefix !== undefined && prefixed) {
      return { found: 'unit', factor: US_PREFIXES.includes(prefix) ? prefixed.us : prefixed.imp, offset: 0 };
    }
  }
  const known = TWO_MEANINGS[base];
  const meanings = known && Object.hasOwn(known, key) ? known[key] : undefined;
  return meanings ? { found: 'two meanings', meanings } : undefined;
}

function baseOf(dimension: Dimension, colourOf: 'malt' | 'sugar'): BaseDimension | null {
  switch (dimension) {
    case 'colour':
      return colourOf === 'malt' ? 'maltColour' : 'sugarColour';
    case 'volumeRate':
    case 'absorption':
    case 'dose':
    case 'ratio':
      return null;
    default:
      return dimension;
  }
}

const ORDER: readonly Dimension[] = Object.keys(DIMENSIONS) as Dimension[];

/** What a unit measures that was not asked for, as a noun; undefined where the tables do not know it. */
export function otherMeaning(key: string, asked: Dimension): string | undefined {
  for (const dimension of ORDER) {
    const base = baseOf(dimension, 'malt');
    if (dimension === asked || base === null || dimension === 'temperatureDifference') continue;
    const hit = lookUpBase(base, key, 'us');
    if (hit?.found === 'unit') return DIMENSIONS[dimension].noun;
  }
  return undefined;
}

/** Every spelling that a dimension's units have, for "did you mean". */
export function unitNames(dimension: Dimension, colourOf: 'malt' | 'sugar'): readonly string[] {
  const { quotient, likely } = DIMENSIONS[dimension];
  if (quotient) return [...likely.metric, ...likely.us];
  const base = baseOf(dimension, colourOf);
  if (base === null) return [];
  const names = UNIT_TABLE[base].flatMap((row) => [row.symbol, ...row.names.filter((n) => n.length > 3)]);
  return base === 'volume' ? [...names, ...GALLON_TABLE.flatMap((row) => row.names)] : names;
}

/** The tokens of one unit cut at `/` or `per`, with the number that may stand below: `fl oz / 5 gal`. */
interface SplitUnit {
  readonly above: string;
  readonly below: string | null;
  readonly belowNumber: number;
}

function splitUnit(tokens: readonly Token[]): SplitUnit | null {
  const above: string[] = [];
  const below: string[] = [];
  let cuts = 0;
  let belowNumber = 1;
  for (const token of tokens) {
    if (token.kind === 'slash' || (token.kind === 'word' && token.text.toLowerCase() === 'per')) cuts++;
    else if (token.kind === 'word') (cuts === 0 ? above : below).push(token.text);
    else if (token.kind === 'number' && cuts === 1 && token.number.value !== null)
      belowNumber = token.number.value;
    else return null;
  }
  if (cuts > 1 || above.length === 0 || (cuts === 1 && below.length === 0) || !(belowNumber > 0)) return null;
  return { above: unitKey(above), below: cuts === 1 ? unitKey(below) : null, belowNumber };
}

/** Whether a unit is an ounce that does not say of what. */
export const isOunce = (key: string): boolean => /^(oz|ozs|ounce|ounces)$/.test(key);

/** A dose is a liquid's, so that an ounce in it is a fluid ounce. */
const doseOunce = (key: string): string => (isOunce(key) ? 'floz' : key);

/** What a unit written as these tokens is worth in the dimension asked for. */
export function lookUpUnit(tokens: readonly Token[], rules: LookupRules): Lookup {
  const written = tokens.map((t) => ('text' in t ? t.text : t.kind === 'slash' ? '/' : '')).join('');
  const none: Lookup = { found: 'none', unit: written };
  const split = splitUnit(tokens);
  if (split === null) return none;
  const { quotient } = DIMENSIONS[rules.dimension];
  const base = baseOf(rules.dimension, rules.colourOf);
  if (base !== null) {
    const key = split.below === null ? split.above : `${split.above}/${split.below}`;
    if (split.belowNumber !== 1) return none;
    const hit = lookUpBase(base, key, rules.bare);
    if (hit) return hit;
    const noun = otherMeaning(key, rules.dimension);
    return noun === undefined ? none : { found: 'other', noun };
  }
  if (quotient === null) return none;
  if (split.below === null) {
    const noun = otherMeaning(split.above, rules.dimension);
    return noun === undefined ? none : { found: 'other', noun };
  }
  const above = lookUpBase(
    quotient.above,
    rules.dimension === 'dose' ? doseOunce(split.above) : split.above,
    rules.bare,
  );
  const below = lookUpBase(quotient.below, split.below, rules.bare);
  if (!above || !below) return none;
  if (above.found !== 'unit') return above;
  if (below.found !== 'unit') return below;
  return {
    found: 'unit',
    factor: (above.factor / (below.factor * split.belowNumber)) * quotient.scale,
    offset: 0,
  };
}
