import { type BillionCells, billionCells, type Gram, type Ibu, ibu, type Litre } from '../brands.ts';
import type { GivenAmount } from './given.ts';
import { leadingNumber } from './measure.ts';
import { didYouMean, slips } from './nearest.ts';
import { fault, type Parsed, parsed, quoted } from './parsed.ts';
import { type ParseContext, parseQuantity, tooLong } from './quantity.ts';
import { plainText, scan, type Token } from './scan.ts';
import { otherMeaning, unitKey, unitNames } from './unit-lookup.ts';

const EXPECTED = 'an amount such as 15 g, 125 ml, 1 tsp, 2 packs or 1';

/** Spoons stay counts: how much a spoon holds depends on what is in it. */
const COUNT_WORDS = new Set(
  (
    'tsp tsps teaspoon teaspoons tbsp tbsps tablespoon tablespoons pinch pinches handful handfuls drop drops dash dashes ' +
    'pack packs packet packets sachet sachets pouch pouches vial vials smackpack bag bags tin tins can cans ' +
    'tablet tablets capsule capsules cap caps piece pieces slice slices stick sticks pod pods sprig sprigs leaf leaves ' +
    'round rounds clove cloves bean beans bottle bottles jar jars spoon spoons whole half halves each'
  ).split(' '),
);

/** Unit names long enough that a slip of the pen cannot be another word. */
function slippedUnit(word: string): string | undefined {
  if (word.length < 4 || COUNT_WORDS.has(word)) return undefined;
  return [...unitNames('mass', 'malt'), ...unitNames('volume', 'malt')].find(
    (name) => name.length >= 4 && slips(word, name) === 1,
  );
}

function isUnitOf(dimension: 'mass' | 'volume', tokens: readonly Token[], ctx: ParseContext): boolean {
  if (tokens.length === 0) return false;
  const probe = parseQuantity(`1 ${tokens.map(({ text }) => text).join(' ')}`, dimension, ctx);
  return probe.ok || probe.code === 'quantity-two-readings';
}

/** The words of the first unit: those behind the first number, up to the next one. */
function firstUnit(tokens: readonly Token[]): readonly Token[] {
  const from = tokens.findIndex(({ kind }) => kind === 'word');
  const to = tokens.findIndex(({ kind }, i) => i > from && kind !== 'word');
  return from < 0 ? [] : tokens.slice(from, to < 0 ? undefined : to);
}

/** `15 g peel` is fifteen grams, never a count of fifteen. */
function startsWithUnit(unit: readonly Token[], ctx: ParseContext): boolean {
  return [1, 2].some(
    (n) => isUnitOf('mass', unit.slice(0, n), ctx) || isUnitOf('volume', unit.slice(0, n), ctx),
  );
}

/**
 * An amount of something that no formula weighs: `15 g`, `1 lb 4 oz`, `125 ml`, or a count with or without a word
 * (`1`, `½ tsp`, `2 packs`, `1 vanilla pod`).
 *
 * Weights come in grams and volumes in litres; spoons and words stay counts. An uncertainty is read and left in
 * the words. Faults as for `parseQuantity`.
 */
export function parseAmount(text: string, ctx: ParseContext): Parsed<GivenAmount> {
  const long = tooLong(text, EXPECTED);
  if (long) return long;
  const plain = plainText(text);
  const facts = { text, expected: EXPECTED };
  if (plain === '') return fault('quantity-empty', { ...facts, what: 'an amount such as "15 g" or "1"' });
  const tokens = scan(plain);
  const unit = firstUnit(tokens);
  const words = unit.map((token) => token.text.toLowerCase());
  const written = text.trim();
  const isCountWord = words.length > 0 && words.every((w) => COUNT_WORDS.has(w.replaceAll('.', '')));
  if (!isCountWord) {
    for (const [dimension, internal] of [['mass', 'g'] as const, ['volume', 'L'] as const]) {
      if (!isUnitOf(dimension, unit, ctx)) continue;
      const read = parseQuantity(text, dimension, ctx);
      return read.ok ? parsed({ value: read.value.value, unit: internal, written }) : read;
    }
    const noun = words.length === 0 ? undefined : otherMeaning(unitKey(words), 'mass');
    if (noun !== undefined)
      return fault('quantity-wrong-unit', { ...facts, noun, what: 'a weight, a volume or a count' });
    if (unit.length > 1 && startsWithUnit(unit, ctx)) {
      const what = 'the amount alone; what it is belongs in "name" or "note"';
      return fault('quantity-extra', { ...facts, what });
    }
    const slipped = words.length === 1 ? slippedUnit(words[0] ?? '') : undefined;
    if (slipped) return fault('quantity-unknown-unit', { ...facts, near: didYouMean(slipped, [slipped]) });
  }
  return count(text, plain, tokens, written);
}

function count(text: string, plain: string, tokens: readonly Token[], written: string): Parsed<GivenAmount> {
  const facts = { text, expected: EXPECTED };
  if (tokens[0]?.kind === 'dash') return fault('quantity-negative', { ...facts, or: '' });
  const firstWord = tokens.findIndex(({ kind }) => kind !== 'number');
  if (firstWord === 0) {
    const thing = plain.replace(/^(?:an?|some|one) /i, '').slice(0, 30);
    return fault('quantity-no-number', { ...facts, what: `how many, such as "1 ${thing}"` });
  }
  if (firstWord > 0 && tokens.slice(firstWord).some(({ kind }) => kind !== 'word' && kind !== 'dash')) {
    return fault('quantity-extra', { ...facts, what: 'one amount; the rest belongs in "note"' });
  }
  const ask = { plain, text, dimension: 'mass', units: 'metric', bare: null, colourOf: 'malt' } as const;
  const number = leadingNumber(ask, tokens);
  if (!number.ok) return { ...number, expected: EXPECTED };
  const { value } = number.value;
  if (value > 10_000)
    return fault('quantity-out-of-range', { text, expected: 'a count up to 10000', figure: 'number' });
  return parsed({ value, unit: 'count', written });
}

const CELLS_EXPECTED = 'cells such as 10 billion/g, 1.2 billion/ml or 100 billion/pack';
const CELL_UNITS: ReadonlyMap<string, 'g' | 'ml' | 'pack'> = new Map([
  ...['g', 'gram'].map((name) => [name, 'g'] as const),
  ...['ml', 'millilitre', 'milliliter'].map((name) => [name, 'ml'] as const),
  ...['pack', 'packet', 'sachet', 'pouch', 'vial'].map((name) => [name, 'pack'] as const),
]);

/** Living yeast cells: `10 billion/g`, `100 billion per pack`, `10 ± 2 billion/g`; a billion is 10⁹. */
export function parseCells(
  text: string,
): Parsed<{ readonly billion: BillionCells; readonly per: 'g' | 'ml' | 'pack'; readonly u: number | null }> {
  const long = tooLong(text, CELLS_EXPECTED);
  if (long) return long;
  const wrong = fault('cells-form', { text, expected: CELLS_EXPECTED });
  const plain = plainText(text).toLowerCase();
  const form = /^([^a-z]+?) ?(billion|million|bn)(?: cells)? ?(?:\/| per | an? ) ?([a-z]+)$/.exec(plain);
  const per = CELL_UNITS.get(form?.[3] ?? '');
  if (!form || per === undefined) return wrong;
  // The number grammar is the one of every other figure; a unit without an offset is lent to it.
  const lent = parseQuantity(`${form[1]} IBU`, 'bitterness', { units: 'metric' });
  if (!lent.ok) return { ...lent, found: quoted(text), expected: CELLS_EXPECTED, mend: wrong.mend };
  const scale = form[2] === 'million' ? 0.001 : 1;
  return parsed({
    billion: billionCells(lent.value.value * scale),
    per,
    u: lent.value.u === null ? null : lent.value.u * scale,
  });
}

const KIT_EXPECTED = 'a bitterness and the volume that the label gives it for, such as 25 IBU in 23 L';

/**
 * What a kit's label promises of its hopped extract: `25 IBU in 23 L`, or `25 IBU in 23 L for 1.7 kg` where the
 * label speaks of another weight than the recipe uses.
 */
export function parseKitBitterness(
  text: string,
  ctx: ParseContext,
): Parsed<{
  readonly ibu: Ibu;
  readonly in_L: Litre;
  readonly labelWeight_g: Gram | null;
  readonly written: string;
}> {
  const long = tooLong(text, KIT_EXPECTED);
  if (long) return long;
  const plain = plainText(text);
  const wrong = (what: string) => fault('kit-bitterness-form', { text, expected: KIT_EXPECTED, what });
  const form = /^(.*?) in (.*?)(?: for (.*))?$/i.exec(plain);
  if (form === null) return wrong('it as "25 IBU in 23 L"');
  const [, label = '', over = '', of] = form;
  const bitterness = parseQuantity(label, 'bitterness', ctx);
  const volume = parseQuantity(over, 'volume', ctx);
  const weight = of === undefined ? null : parseQuantity(of, 'mass', ctx);
  if (!bitterness.ok) return { ...bitterness, found: quoted(text) };
  if (!volume.ok) return { ...volume, found: quoted(text) };
  if (weight?.ok === false) return { ...weight, found: quoted(text) };
  const labelWeight_g = weight === null ? null : weight.value.value;
  if (volume.value.value === 0 || labelWeight_g === 0) return wrong('a volume and a weight above zero');
  const read = { ibu: ibu(bitterness.value.value), in_L: volume.value.value, labelWeight_g };
  return parsed({ ...read, written: text.trim() });
}
