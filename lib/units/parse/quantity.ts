import { DIMENSIONS, type Dimension, type DimensionBrand, type Units } from '../dimension.ts';
import { formatQuantity } from '../format/format.ts';
import type { Given, GivenRange } from './given.ts';
import { type Ask, about, exampleOf, type Measure, measure, noUnit } from './measure.ts';
import { either, fault, type Parsed, parsed, type UnitFault } from './parsed.ts';
import { LONGEST_TEXT, plainText, scan, type Token } from './scan.ts';
import type { FoundUnit } from './unit-lookup.ts';

/** Whose kitchen the text comes from: it decides what a bare gallon is and which units an error suggests. */
export interface ParseContext {
  readonly units: Units;
}

export interface QuantityOptions {
  /** °L of a malt and SRM of a syrup are different scales; malt where left out. */
  readonly colourOf?: 'malt' | 'sugar';
}

function start(
  text: string,
  dimension: Dimension,
  { units }: ParseContext,
  { colourOf = 'malt' }: QuantityOptions,
): Parsed<{ ask: Ask; tokens: readonly Token[] }> {
  const plain = text.length > LONGEST_TEXT ? '' : plainText(text);
  const ask: Ask = { plain, text, dimension, units, bare: units === 'us' ? 'us' : null, colourOf };
  const wrong =
    tooLong(text, about(ask).expected) ??
    (plain === '' ? fault('quantity-empty', { ...about(ask), example: exampleOf(ask) }) : null);
  return wrong ?? parsed({ ask, tokens: scan(plain) });
}

/** The fault for a text that is longer than any figure, or null. */
export const tooLong = (text: string, expected: string): UnitFault | null =>
  text.length <= LONGEST_TEXT ? null : fault('quantity-too-long', { text, expected, under: LONGEST_TEXT });

const sliceText = (ask: Ask, tokens: readonly Token[]): string =>
  ask.plain.slice(tokens[0]?.start ?? 0, tokens.at(-1)?.end ?? 0);

const apply = (bare: Measure, unit: FoundUnit): number =>
  bare.unit ? bare.value : bare.value * unit.factor + unit.offset;

function bounded(ask: Ask, value: number): Parsed<number> {
  const { min, max, noun } = DIMENSIONS[ask.dimension];
  // Below 0.45 °L the linear relation between the malt scales would give a colour below none.
  const colour = ask.dimension === 'colour' && value < 0 && value >= -1.2 ? 0 : value;
  const { text } = ask;
  if (colour < 0 && min === 0)
    return fault('quantity-negative', { text, expected: `${noun} of nothing or more`, or: ', or write 0' });
  if (colour >= min && colour <= max) return parsed(colour);
  const [low, high] = [min, max].map((end) => formatQuantity(end, ask.dimension, ask.units));
  const facts = { text, expected: `${noun} from ${low} to ${high}` };
  return fault('quantity-out-of-range', { ...facts, figure: 'number and its unit' });
}

function uncertainty(ask: Ask, tokens: readonly Token[]): Parsed<Measure> {
  // A width of 2 °F is no temperature of 2 °F: it has no offset.
  const asWidth: Ask = ask.dimension === 'temperature' ? { ...ask, dimension: 'temperatureDifference' } : ask;
  const read = tokens.length === 0 || tokens[0]?.kind === 'dash' ? null : measure(asWidth, tokens);
  if (read?.ok || read?.code === 'quantity-two-readings') return read;
  const sample = 'a plain number in the same unit, such as "2.2 ± 0.3 L/h"';
  return fault('quantity-uncertainty', { ...about(ask), scale: '', sample });
}

/** Standard uncertainty in the internal unit; a unit's offset moves a value, not its width. */
function width(read: Measure, unit: FoundUnit): number {
  return read.unit ? read.value - read.unit.offset : read.value * unit.factor;
}

/**
 * One figure with its unit, as people write it: `30 g`, `1 lb 4 oz`, `2 1/2 gal`, `2.2 ± 0.3 L/h`.
 *
 * The value comes in the internal unit of the dimension. Nothing is guessed: a number without a unit, an unknown
 * unit, a comma that may mean thousands and a bare gallon in a metric kitchen are faults that name the readings.
 * Never throws; time is linear in the length of the text, which is at most 200 characters.
 */
export function parseQuantity<D extends Dimension>(
  text: string,
  dimension: D,
  ctx: ParseContext,
  options: QuantityOptions = {},
): Parsed<Given<DimensionBrand[D]>> {
  const begun = start(text, dimension, ctx, options);
  if (!begun.ok) return begun;
  const { ask, tokens } = begun.value;
  const extra = '"@": only a gravity or volume reading has a temperature';
  if (tokens.some(({ kind }) => kind === 'at')) return fault('quantity-extra', { ...about(ask), extra });
  const cut = tokens.findIndex(({ kind }) => kind === 'plusMinus');
  const main = cut < 0 ? tokens : tokens.slice(0, cut);
  const dash = rangeCut(main);
  if (dash >= 0) {
    const behind = main[dash + 1];
    // `1-1/2 lb` is how some write one and a half.
    const mixed = behind?.kind === 'number' && behind.number.fraction;
    const offers = mixed
      ? [`${sliceText(ask, main.slice(0, dash))} ${sliceText(ask, main.slice(dash + 1))}`]
      : [];
    const what = mixed ? either(offers) : 'one figure instead of a range';
    return fault('quantity-range', { ...about(ask), what }, offers);
  }
  const read = measure(ask, main);
  if (!read.ok) return read;
  const spread = cut < 0 ? null : uncertainty(ask, tokens.slice(cut + 1));
  if (spread && !spread.ok) return spread;
  // In `2.2 ± 0.3 L/h` the unit behind counts for both; the number before it keeps its own scale's offset.
  const behind = spread ? measure(ask, tokens.slice(cut + 1)) : null;
  const unit = read.value.unit ?? (behind?.ok ? behind.value.unit : null);
  if (unit === null) return noUnit(ask, ask.plain);
  const value = bounded(ask, apply(read.value, unit));
  if (!value.ok) return value;
  return parsed({
    value: value.value as number as DimensionBrand[D],
    u: spread ? width(spread.value, unit) : null,
    written: text.trim(),
  });
}

/** Where a range is cut: a dash or `to` between two figures; a dash at the start is a sign. Below 0: none. */
function rangeCut(tokens: readonly Token[]): number {
  return tokens.findIndex((token, i) => {
    const before = tokens[i - 1];
    if (i === 0 || (before?.kind !== 'number' && before?.kind !== 'word')) return false;
    const after = tokens[i + 1]?.kind;
    if (after !== 'number' && after !== 'dash') return false;
    return token.kind === 'dash' || (token.kind === 'word' && token.text.toLowerCase() === 'to');
  });
}

/** `21-17 °C` the right way round: the unit that stood behind the smaller figure only goes behind both. */
function turnedRange(ask: Ask, tokens: readonly Token[], cut: number): string {
  const [below, above] = [tokens.slice(0, cut), tokens.slice(cut + 1)];
  if (below.some((t) => t.kind === 'word')) return `${sliceText(ask, above)} - ${sliceText(ask, below)}`;
  const word = above.findIndex((t) => t.kind === 'word');
  const number = sliceText(ask, above.slice(0, word));
  return `${number} - ${sliceText(ask, below)} ${sliceText(ask, above.slice(word))}`;
}

/**
 * A band such as `17-21 °C`, `62–68 F` or `-2 to 4 °C`; a single figure is a band of no width.
 * The unit may come once, at the end, or after each figure. Faults as for `parseQuantity`.
 */
export function parseRange<D extends Dimension>(
  text: string,
  dimension: D,
  ctx: ParseContext,
): Parsed<GivenRange<DimensionBrand[D]>> {
  const begun = start(text, dimension, ctx, {});
  if (!begun.ok) return begun;
  const { ask, tokens } = begun.value;
  if (tokens.some(({ kind }) => kind === 'at' || kind === 'plusMinus')) {
    const expected = `a range or one figure such as ${exampleOf(ask)}`;
    return fault('quantity-extra', { text, expected, what: 'the two ends, with a hyphen between them' });
  }
  const cut = rangeCut(tokens);
  const above = measure(ask, tokens.slice(cut + 1));
  if (!above.ok) return above;
  const unit = above.value.unit;
  if (unit === null) return noUnit(ask, ask.plain);
  const high = bounded(ask, apply(above.value, unit));
  if (!high.ok) return high;
  const below = cut < 0 ? above : measure(ask, tokens.slice(0, cut));
  if (!below.ok) return below;
  const low = bounded(ask, apply(below.value, unit));
  if (!low.ok) return low;
  if (low.value > high.value)
    return fault('range-backwards', { text, turned: turnedRange(ask, tokens, cut) });
  return parsed({
    low: low.value as number as DimensionBrand[D],
    high: high.value as number as DimensionBrand[D],
    written: text.trim(),
  });
}
