import { DIMENSIONS, type Units } from '../dimension.ts';
import { didYouMean } from './nearest.ts';
import { either, fault, type Parsed, parsed, type UnitFault } from './parsed.ts';
import type { Token } from './scan.ts';
import {
  type FoundUnit,
  gallonRow,
  isGallonPrefix,
  isOunce,
  isPer,
  type LookupRules,
  lookUpUnit,
  unitKey,
  unitNames,
} from './unit-lookup.ts';

/** What is being read, for what, and in whose kitchen. */
export interface Ask extends LookupRules {
  /** The plain text that the tokens are of. */
  readonly plain: string;
  /** As the brewer wrote it. */
  readonly text: string;
  readonly units: Units;
}

/** A number without its unit, or a figure in the internal unit. */
export interface Measure {
  /** Number as written, or the internal value where `unit` is not null. */
  readonly value: number;
  /** The unit written last; null where the last number has none. */
  readonly unit: FoundUnit | null;
}

const expectedOf = (ask: Ask): string =>
  `${DIMENSIONS[ask.dimension].noun} with its unit, such as ${exampleOf(ask)}`;

/** What every fault of the figure says that is asked for. */
export const about = (ask: Ask) => ({ text: ask.text, expected: expectedOf(ask) });

export const exampleOf = ({ dimension, units }: Ask): string => DIMENSIONS[dimension].written[units].example;

const withUnits = ({ dimension, units }: Ask, number: string): readonly string[] =>
  DIMENSIONS[dimension].written[units].likely.map((unit) => `${number} ${unit}`);

/** The fault for a number that has no unit. */
export function noUnit(ask: Ask, number: string, each = ''): UnitFault {
  const offers = withUnits(ask, number);
  const expected = `${expectedOf(ask)}${each}`;
  return fault('quantity-no-unit', { text: ask.text, expected, what: either(offers) }, offers);
}

function oneNumber(ask: Ask, token: Token & { readonly kind: 'number' }): Parsed<number> {
  const { text, number } = token;
  if (number.twoReadings) {
    const expected = 'a number in which the comma can mean one thing only';
    const offers = ['', '.'].map((sign) => ask.plain.replace(text, text.replace(',', sign)));
    return fault('quantity-two-readings', { text: ask.text, expected, what: either(offers) }, offers);
  }
  if (number.value !== null) return parsed(number.value);
  return fault('quantity-not-a-number', { ...about(ask), number: text });
}

/** The number at the head of the tokens, `2`, `1/2` or `2 1/2`, and how many tokens it took. */
export function leadingNumber(ask: Ask, tokens: readonly Token[]): Parsed<{ value: number; took: number }> {
  const [first, second] = tokens;
  if (first?.kind !== 'number')
    return fault('quantity-no-number', { ...about(ask), example: exampleOf(ask) });
  const whole = oneNumber(ask, first);
  if (!whole.ok) return whole;
  if (second?.kind !== 'number') return parsed({ value: whole.value, took: 1 });
  const part = oneNumber(ask, second);
  if (!part.ok) return part;
  if (first.number.whole && second.number.fraction && part.value < 1) {
    return parsed({ value: whole.value + part.value, took: 2 });
  }
  const closedUp = second.number.whole ? `, such as "${first.text}${second.text}", without a space` : '';
  return fault('quantity-not-a-number', { ...about(ask), closedUp });
}

/** How many tokens from `from` on belong to a unit: up to the next number that is not below a stroke. */
function unitEnd(tokens: readonly Token[], from: number): number {
  let i = from;
  while (i < tokens.length && (tokens[i]?.kind !== 'number' || (i > from && isPer(tokens[i - 1])))) i++;
  return i;
}

/** The text with `us` or `imp` before every bare gallon, quart, pint, cup and fluid ounce. */
function withGallons(ask: Ask, tokens: readonly Token[], prefix: string): string {
  let out = '';
  let done = 0;
  tokens.forEach((token, i) => {
    if (token.kind !== 'word') return;
    const word = (at: number): string => (tokens[at]?.kind === 'word' ? (tokens[at]?.text ?? '') : '');
    const key = unitKey([token.text]);
    const fluid = word(i - 1) !== '' && gallonRow(unitKey([word(i - 1), token.text])) !== undefined;
    if (fluid || isGallonPrefix(word(i - 1))) return;
    const pair = unitKey([token.text, word(i + 1)]);
    if (gallonRow(key) || gallonRow(pair) || (ask.dimension === 'dose' && isOunce(key))) {
      out += `${ask.plain.slice(done, token.start)}${prefix} `;
      done = token.start;
    }
  });
  return out + ask.plain.slice(done);
}

function twoGallons(ask: Ask, all: readonly Token[]): UnitFault {
  const choices = (['us', 'imp'] as const).map((bare) => {
    const read = measure({ ...ask, bare }, all);
    const value = read.ok && read.value.unit ? Number(read.value.value.toPrecision(4)) : null;
    const offer = withGallons(ask, all, bare);
    const said = value === null ? '' : ` (${value} ${DIMENSIONS[ask.dimension].internal})`;
    return { offer, said: `"${offer}"${said}` };
  });
  const facts = { text: ask.text, expected: 'a US or an imperial measure, and the word that says which' };
  const what = choices.map(({ said }) => said).join(' or ');
  const offers = choices.map(({ offer }) => offer);
  return fault('quantity-two-readings', { ...facts, what }, offers);
}

function unitFault(ask: Ask, tokens: readonly Token[], unit: readonly Token[], number: string): UnitFault {
  const hit = lookUpUnit(unit, ask);
  const offers = withUnits(ask, number);
  switch (hit.found) {
    case 'two gallons':
      return twoGallons(ask, tokens);
    case 'two meanings': {
      const meant = hit.meanings.map((meaning) => `${number} ${meaning}`);
      return fault('quantity-two-readings', { ...about(ask), what: either(meant) }, meant);
    }
    case 'other': {
      const fluid = ask.dimension === 'volume' && isOunce(unitKey(unit.map(({ text }) => text)));
      const ounces = ask.bare === null ? ['us fl oz', 'imp fl oz'] : ['fl oz'];
      const meant = fluid ? ounces.map((ounce) => `${number} ${ounce}`) : offers;
      return fault('quantity-wrong-unit', { ...about(ask), noun: hit.noun, what: either(meant) }, meant);
    }
    default: {
      const near = hit.found === 'none' && didYouMean(hit.unit, unitNames(ask.dimension, ask.colourOf));
      return near
        ? fault('quantity-unknown-unit', { ...about(ask), near })
        : fault('quantity-unknown-unit', { ...about(ask), what: either(offers) }, offers);
    }
  }
}

const COMPOUND: ReadonlySet<string> = new Set(['mass', 'volume', 'time']);

/** `30`, `30 g` or `1 lb 4 oz`; the tokens hold no range, uncertainty or `@`. */
export function measure(ask: Ask, tokens: readonly Token[]): Parsed<Measure> {
  const stray = tokens.find(({ kind }) => kind === 'stray');
  if (stray) {
    const clockTime = ask.dimension === 'time' && stray.text === ':';
    const mend = clockTime ? { what: 'hours and minutes as "1 h 30 min"' } : { stray: stray.text };
    return fault('quantity-not-a-number', { ...about(ask), ...mend });
  }
  if (tokens.some(({ kind }, i) => i > 0 && kind === 'dash'))
    return fault('quantity-extra', { ...about(ask), extra: 'the "-" behind the number' });
  const sign = tokens[0]?.kind === 'dash' ? -1 : 1;
  let at = sign < 0 ? 1 : 0;
  let total = 0;
  let last: FoundUnit | null = null;
  while (at < tokens.length || last === null) {
    const number = leadingNumber(ask, tokens.slice(at));
    if (!number.ok) return number;
    const unitFrom = at + number.value.took;
    const written = `${sign < 0 ? '-' : ''}${ask.plain.slice(tokens[at]?.start, tokens[unitFrom - 1]?.end)}`;
    const end = unitEnd(tokens, unitFrom);
    if (end === unitFrom) {
      if (last === null) return parsed({ value: sign * number.value.value, unit: null });
      return noUnit(ask, written, ', every number with its unit');
    }
    const unit = lookUpUnit(tokens.slice(unitFrom, end), ask);
    if (unit.found !== 'unit') return unitFault(ask, tokens, tokens.slice(unitFrom, end), written);
    const compound = COMPOUND.has(ask.dimension);
    if (last !== null && (!compound || unit.factor >= last.factor)) {
      const what = compound ? 'the larger unit first, and each unit once' : 'one number and one unit';
      return fault('quantity-extra', { text: ask.text, expected: `${expectedOf(ask)}, once`, what });
    }
    total += sign * number.value.value * unit.factor + (last === null ? unit.offset : 0);
    last = unit;
    at = end;
  }
  return parsed({ value: total, unit: last });
}
