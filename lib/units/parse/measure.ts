import type { UnitCode } from '../codes.ts';
import { DIMENSIONS, type Units } from '../dimension.ts';
import { didYouMean } from './nearest.ts';
import { fault, type Parsed, parsed, type UnitFault } from './parsed.ts';
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

export const expectedOf = ({ dimension, units }: Ask): string =>
  `${DIMENSIONS[dimension].noun} with its unit, such as ${DIMENSIONS[dimension].written[units].example}`;

/** A fault of the figure that is asked for. */
export const refuse = (
  ask: Ask,
  code: UnitCode,
  mend: string | readonly string[],
  expected = expectedOf(ask),
): UnitFault => fault(code, ask.text, expected, mend);

export const writeExample = ({ dimension, units }: Ask): string =>
  `write, for example, "${DIMENSIONS[dimension].written[units].example}"`;

const withUnits = ({ dimension, units }: Ask, number: string): readonly string[] =>
  DIMENSIONS[dimension].written[units].likely.map((unit) => `${number} ${unit}`);

/** The fault for a number that has no unit. */
export const noUnit = (ask: Ask, number: string, expected?: string): UnitFault =>
  refuse(ask, 'quantity-no-unit', withUnits(ask, number), expected);

function oneNumber(ask: Ask, token: Token & { readonly kind: 'number' }): Parsed<number> {
  const { text, number } = token;
  if (number.twoReadings) {
    const mend = ['', '.'].map((sign) => ask.plain.replace(text, text.replace(',', sign)));
    return refuse(ask, 'quantity-two-readings', mend, 'a number in which the comma can mean one thing only');
  }
  if (number.value !== null) return parsed(number.value);
  return refuse(ask, 'quantity-not-a-number', `write "${text}" as a plain number, such as 1.5 or 1 1/2`);
}

/** The number at the head of the tokens, `2`, `1/2` or `2 1/2`, and how many tokens it took. */
export function leadingNumber(ask: Ask, tokens: readonly Token[]): Parsed<{ value: number; took: number }> {
  const [first, second] = tokens;
  if (first?.kind !== 'number') return refuse(ask, 'quantity-no-number', writeExample(ask));
  const whole = oneNumber(ask, first);
  if (!whole.ok) return whole;
  if (second?.kind !== 'number') return parsed({ value: whole.value, took: 1 });
  const part = oneNumber(ask, second);
  if (!part.ok) return part;
  if (first.number.whole && second.number.fraction && part.value < 1) {
    return parsed({ value: whole.value + part.value, took: 2 });
  }
  const closedUp = second.number.whole ? `, such as "${first.text}${second.text}", without a space` : '';
  return refuse(ask, 'quantity-not-a-number', `two numbers in a row: write one${closedUp}`);
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
  return fault(
    'quantity-two-readings',
    ask.text,
    'a US or an imperial measure, and the word that says which',
    `write ${choices.map(({ said }) => said).join(' or ')}`,
    choices.map(({ offer }) => offer),
  );
}

function unitFault(ask: Ask, tokens: readonly Token[], unit: readonly Token[], number: string): UnitFault {
  const hit = lookUpUnit(unit, ask);
  const mend = withUnits(ask, number);
  switch (hit.found) {
    case 'two gallons':
      return twoGallons(ask, tokens);
    case 'two meanings':
      return refuse(
        ask,
        'quantity-two-readings',
        hit.meanings.map((meaning) => `${number} ${meaning}`),
      );
    case 'other': {
      const fluid = ask.dimension === 'volume' && isOunce(unitKey(unit.map(({ text }) => text)));
      const ounces = ask.bare === null ? ['us fl oz', 'imp fl oz'] : ['fl oz'];
      const meant = fluid ? ounces.map((ounce) => `${number} ${ounce}`) : mend;
      return refuse(ask, 'quantity-wrong-unit', meant, `${expectedOf(ask)}, not ${hit.noun}`);
    }
    case 'none':
      return refuse(
        ask,
        'quantity-unknown-unit',
        didYouMean(hit.unit, unitNames(ask.dimension, ask.colourOf)) || mend,
      );
    default:
      return refuse(ask, 'quantity-unknown-unit', mend);
  }
}

const COMPOUND: ReadonlySet<string> = new Set(['mass', 'volume', 'time']);

/** `30`, `30 g` or `1 lb 4 oz`; the tokens hold no range, uncertainty or `@`. */
export function measure(ask: Ask, tokens: readonly Token[]): Parsed<Measure> {
  const stray = tokens.find(({ kind }) => kind === 'stray');
  if (stray) {
    const clockTime = ask.dimension === 'time' && stray.text === ':';
    const mend = clockTime ? 'write hours and minutes as "1 h 30 min"' : `leave out "${stray.text}"`;
    return refuse(ask, 'quantity-not-a-number', mend);
  }
  if (tokens.some(({ kind }, i) => i > 0 && kind === 'dash'))
    return refuse(ask, 'quantity-extra', 'leave out the "-" behind the number');
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
      return noUnit(ask, written, `${expectedOf(ask)}, every number with its unit`);
    }
    const unit = lookUpUnit(tokens.slice(unitFrom, end), ask);
    if (unit.found !== 'unit') return unitFault(ask, tokens, tokens.slice(unitFrom, end), written);
    const compound = COMPOUND.has(ask.dimension);
    if (last !== null && (!compound || unit.factor >= last.factor)) {
      const mend = compound ? 'the larger unit first, and each unit once' : 'one number and one unit';
      return refuse(ask, 'quantity-extra', `write ${mend}`, `${expectedOf(ask)}, once`);
    }
    total += sign * number.value.value * unit.factor + (last === null ? unit.offset : 0);
    last = unit;
    at = end;
  }
  return parsed({ value: total, unit: last });
}
