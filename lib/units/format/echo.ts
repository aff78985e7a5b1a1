/** What a brewer wrote, as a cook would print it. */
import type { Units } from '../dimension.ts';
import { plainText, scan, type Token } from '../parse/scan.ts';
import { gallonPrefix, gallonRow, unitKey, unitRow } from '../parse/unit-lookup.ts';
import { type BaseDimension, LITRES_PER_US_QUART } from '../table.ts';
import { minutesParts, volumeParts } from './amounts.ts';
import { joined, type Parts, trimmed } from './round.ts';
import { temperatureParts } from './scales.ts';

const KEPT = '\u00a0';
/** What is longer than any figure may break after all. */
const LONGEST_FIGURE = 16;

/** One figure with its unit, never parted by the end of a line. */
export const nonBreaking = (figure: string): string => figure.replaceAll(' ', KEPT);

/** The same with plain spaces: no-break ones are for the eye. */
export const breaking = (text: string): string => text.replaceAll(KEPT, ' ');

/** Dimensions that a written unit is looked for in; what one spelling could mean twice is found where it comes first. */
const LOOKED_UP: readonly BaseDimension[] = [
  'mass',
  'volume',
  'temperature',
  'time',
  'percent',
  'bitterness',
  'power',
  'carbonation',
  'pressure',
  'altitude',
];
/** Fractions stay fractions of a spoon or a piece; a scale shows decimals. */
const SPOONS = ['tsp', 'tbsp'];
const FINEST_DECIMALS = 3;

interface Unit {
  readonly symbol: string;
  readonly dimension: BaseDimension | null;
  readonly factor: number;
}

function unitOf(words: readonly string[], units: Units): Unit {
  const key = unitKey(words);
  for (const dimension of LOOKED_UP) {
    const row = unitRow(dimension, key);
    if (row?.imperial === null) return { symbol: row.symbol, dimension, factor: row.factor };
  }
  const { which, rest } = words.length > 1 ? gallonPrefix(key) : { which: null, rest: key };
  const gallon = gallonRow(rest);
  if (gallon === undefined) return { symbol: words.join(' '), dimension: null, factor: 1 };
  const us = (which ?? units) === 'us';
  const symbol = us && units === 'us' ? gallon.symbol : `${us ? 'US' : 'imperial'} ${gallon.symbol}`;
  return { symbol, dimension: 'volume', factor: us ? gallon.factor : (gallon.imperial ?? gallon.factor) };
}

/** A number with its unit, or a number alone where its unit follows a later one: `17-21 °C`. */
interface Piece {
  readonly value: number;
  readonly raw: string;
  readonly fraction: boolean;
  readonly unit: Unit | null;
  /** What is between it and the piece before: nothing for `1 lb 4 oz`. */
  readonly before: string;
}

const BETWEEN: { readonly [K in Token['kind']]?: string } = {
  dash: ` to${KEPT}`,
  plusMinus: `${KEPT}±${KEPT}`,
  at: ` at${KEPT}`,
};

function piecesOf(tokens: readonly Token[], units: Units): readonly Piece[] | null {
  const pieces: Piece[] = [];
  let before = '';
  for (let i = 0; i < tokens.length; i++) {
    const token = tokens[i]!;
    if (token.kind === 'number') {
      const next = tokens[i + 1];
      const mixed = token.number.whole && next?.kind === 'number' && next.number.fraction;
      const value = (token.number.value ?? Number.NaN) + (mixed ? (next.number.value ?? Number.NaN) : 0);
      const raw = mixed ? `${token.text}${KEPT}${next.text}` : token.text;
      const fraction = mixed || token.number.fraction;
      if (mixed) i++;
      const words: string[] = [];
      for (let word = tokens[i + 1]; word?.kind === 'word'; word = tokens[i + 1]) {
        words.push(word.text);
        i++;
      }
      if (!Number.isFinite(value)) return null;
      const unit = words.length === 0 ? null : unitOf(words, units);
      pieces.push({ value, raw, fraction, unit, before });
      before = '';
    } else if (BETWEEN[token.kind] !== undefined && pieces.length > 0) before = BETWEEN[token.kind]!;
    else return null;
  }
  return pieces;
}

const isGallon = ({ unit }: Piece): boolean =>
  unit?.dimension === 'volume' && gallonRow(unitKey([unit.symbol]))?.factor === unit.factor;

/** The figure itself: converted where no brewer of these units can measure what was written, else tidied up. */
function shown(piece: Piece, unit: Unit | null, units: Units): string {
  const { value, raw, fraction } = piece;
  if (fraction && (unit === null || unit.dimension === null || SPOONS.includes(unit.symbol))) return raw;
  const number = trimmed(value, FINEST_DECIMALS);
  if (units === 'us' && unit?.symbol === '°C') return temperatureParts(value, 'us').number;
  return number;
}

/**
 * What a brewer wrote, tidied: `.5 oz` is 0.5 oz, `155 F` 155 °F, `11g` 11 g; spaces inside it do not break. US gallons and
 * quarts come to the quarter quart, and a kitchen in US units reads litres and °C in its own. What is no figure stays as it is.
 */
export function echoed(written: string, units: Units): string {
  const plain = plainText(written);
  const pieces = piecesOf(scan(plain), units);
  if (pieces === null || pieces.length === 0)
    return plain.length > LONGEST_FIGURE ? plain : nonBreaking(plain);
  // Words of the brewer's own, not a unit: `1 oz, a heap`.
  if (plain.includes(', ')) return plain;
  const [first] = pieces;
  const sum = pieces.every(({ before, unit }) => before === '' && unit !== null);
  const total = (): number => pieces.reduce((all, { value, unit }) => all + value * (unit?.factor ?? 1), 0);
  const litres = first?.unit?.dimension === 'volume' && !pieces.some(isGallon) && first.unit.factor >= 0.01;
  if (units === 'us' && sum && (pieces.every(isGallon) || litres) && total() >= LITRES_PER_US_QUART - 1e-9)
    return nonBreaking(joined(volumeParts(total(), 'us')));
  if (sum && pieces.length > 1 && first?.unit?.dimension === 'time')
    return nonBreaking(joined(minutesParts(total())));
  return pieces
    .map((piece, at) => {
      const unit = piece.unit ?? pieces.slice(at + 1).find((one) => one.unit !== null)?.unit ?? null;
      const figure = shown(piece, unit, units);
      if (piece.unit === null) return `${piece.before}${figure}`;
      const converted = units === 'us' && piece.unit.symbol === '°C' ? '°F' : piece.unit.symbol;
      const symbol = converted === 'days' && piece.value === 1 ? 'day' : converted;
      return `${at > 0 && piece.before === '' ? KEPT : ''}${piece.before}${figure}${KEPT}${nonBreaking(symbol)}`;
    })
    .join('');
}

/**
 * The sum of what was written, in the unit that all of it is in: 3.3 lb and 3.3 lb are 6.6 lb. Null where units differ, or where
 * a figure is no plain number with one unit.
 */
export function echoedSum(written: readonly string[], units: Units): Parts | null {
  const all = written.map((one) => piecesOf(scan(plainText(one)), units));
  const symbol = all[0]?.[0]?.unit?.symbol ?? '';
  let sum = 0;
  for (const pieces of all) {
    const [piece, more] = pieces ?? [];
    if (piece === undefined || more !== undefined || (piece.unit?.symbol ?? '') !== symbol) return null;
    sum += piece.value;
  }
  return { number: trimmed(sum, FINEST_DECIMALS), unit: symbol };
}
