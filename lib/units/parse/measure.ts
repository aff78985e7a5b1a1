import { DIMENSIONS, type Dimension, type UnitSystem } from '../dimension.ts';
import { didYouMean } from './nearest.ts';
import { fault, type Parsed, parsed } from './parsed.ts';
import type { Token } from './scan.ts';
import {
  type BareGallon,
  type FoundUnit,
  gallonRow,
  isGallonPrefix,
  isOunce,
  lookUpUnit,
  unitKey,
  unitNames,
} from './unit-lookup.ts';

/** What is being read, for what, and in whose kitchen. */
export interface Ask {
  /** The plain text that the tokens stand in. */
  readonly plain: string;
  /** As the brewer wrote it. */
  readonly text: string;
  readonly dimension: Dimension;
  readonly units: UnitSystem;
  readonly bare: BareGallon;
  readonly colourOf: 'malt' | 'sugar';
}

/** A number without its unit, or a figure in the internal unit. */
export interface Measure {
  /** Number as written, or the internal value where `unit` is not null. */
  readonly value: number;
  /** The unit written last; null where the last number has none. */
  readonly unit: FoundUnit | null;
}

export function expectedOf(ask: Ask): string {
  const facts = DIMENSIONS[ask.dimension];
  return `${facts.noun} with its unit, such as ${facts.example[ask.units]}`;
}

export function writeExample(ask: Ask): string {
  return `write, for example, "${DIMENSIONS[ask.dimension].example[ask.units]}"`;
}

function withUnits(ask: Ask, number: string): string {
  const { likely } = DIMENSIONS[ask.dimension];
  const choices = likely[ask.units].map((unit) => `"${number} ${unit}"`);
  return `write ${choices.join(' or ')}`;
}

type NumberToken = Extract<Token, { kind: 'number' }>;

function badNumber(ask: Ask, token: NumberToken): Parsed<never> {
  return fault(
    'quantity-not-a-number',
    ask.text,
    expectedOf(ask),
    `write "${token.number.raw}" as a plain number, such as 1.5 or 1 1/2`,
  );
}

function oneNumber(ask: Ask, token: NumberToken): Parsed<number> {
  const { raw, value, twoReadings } = token.number;
  if (twoReadings) {
    const thousands = ask.plain.replace(raw, raw.replace(',', ''));
    const decimal = ask.plain.replace(raw, raw.replace(',', '.'));
    return fault(
      'quantity-two-readings',
      ask.text,
      'a number in which the comma can mean one thing only',
      `write "${thousands}" or "${decimal}", whichever is meant`,
    );
  }
  return value === null ? badNumber(ask, token) : parsed(value);
}

/** The number at the head of the tokens, `2`, `1/2` or `2 1/2`, and how many tokens it took. */
export function leadingNumber(ask: Ask, tokens: readonly Token[]): Parsed<{ value: number; took: number }> {
  const [first, second] = tokens;
  if (first?.kind !== 'number') {
    return fault('quantity-no-number', ask.text, expectedOf(ask), writeExample(ask));
  }
  const whole = oneNumber(ask, first);
  if (!whole.ok) return whole;
  if (second?.kind !== 'number') return parsed({ value: whole.value, took: 1 });
  const part = oneNumber(ask, second);
  if (!part.ok) return part;
  if (first.number.whole && second.number.fraction && part.value < 1) {
    return parsed({ value: whole.value + part.value, took: 2 });
  }
  const closedUp = second.number.whole
    ? `, such as "${first.number.raw}${second.number.raw}", without a space`
    : '';
  return fault(
    'quantity-not-a-number',
    ask.text,
    expectedOf(ask),
    `two numbers stand side by side: write one${closedUp}`,
  );
}

function isPer(token: Token | undefined): boolean {
  return token?.kind === 'slash' || (token?.kind === 'word' && token.text.toLowerCase() === 'per');
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
    const before = tokens[i - 1];
    const next = tokens[i + 1];
    const pair = next?.kind === 'word' ? unitKey([token.text, next.text]) : '';
    const ounce = ask.dimension === 'dose' && isOunce(unitKey([token.text]));
    const fluid = before?.kind === 'word' && gallonRow(unitKey([before.text, token.text])) !== undefined;
    if (fluid || (before?.kind === 'word' && isGallonPrefix(before.text))) return;
    if (gallonRow(unitKey([token.text])) || gallonRow(pair) || ounce) {
      out += `${ask.plain.slice(done, token.start)}${prefix} `;
      done = token.start;
    }
  });
  return out + ask.plain.slice(done);
}

function twoGallons(ask: Ask, all: readonly Token[]): Parsed<never> {
  const internal = DIMENSIONS[ask.dimension].internal;
  const choice = (bare: 'us' | 'imp'): string => {
    const read = measure({ ...ask, bare }, all);
    const value =
      read.ok && read.value.unit ? ` (${Number(read.value.value.toPrecision(4))} ${internal})` : '';
    return `"${withGallons(ask, all, bare)}"${value}`;
  };
  return fault(
    'quantity-two-readings',
    ask.text,
    'a US or an imperial measure, and the word that says which',
    `write ${choice('us')} or ${choice('imp')}`,
  );
}

function unitFault(
  ask: Ask,
  tokens: readonly Token[],
  unit: readonly Token[],
  number: string,
): Parsed<never> {
  const hit = lookUpUnit(unit, ask);
  const expected = expectedOf(ask);
  switch (hit.found) {
    case 'two gallons':
      return twoGallons(ask, tokens);
    case 'two meanings':
      return fault(
        'quantity-two-readings',
        ask.text,
        expected,
        `write ${hit.meanings.map((m) => `"${number} ${m}"`).join(' or ')}, whichever is meant`,
      );
    case 'other': {
      const fluid =
        ask.dimension === 'volume' && isOunce(unitKey(unit.flatMap((t) => ('text' in t ? [t.text] : []))));
      const ounces =
        ask.bare === null ? `"${number} us fl oz" or "${number} imp fl oz"` : `"${number} fl oz"`;
      const mend = fluid ? `write ${ounces}` : withUnits(ask, number);
      return fault('quantity-wrong-unit', ask.text, `${expected}, not ${hit.noun}`, mend);
    }
    case 'none': {
      const near = didYouMean(hit.unit, unitNames(ask.dimension, ask.colourOf));
      return fault('quantity-unknown-unit', ask.text, expected, near === '' ? withUnits(ask, number) : near);
    }
    default:
      return fault('quantity-unknown-unit', ask.text, expected, withUnits(ask, number));
  }
}

/** `30`, `30 g` or `1 lb 4 oz`; the tokens hold no range, uncertainty or `@`. */
export function measure(ask: Ask, tokens: readonly Token[]): Parsed<Measure> {
  if (tokens.length === 0) return fault('quantity-no-number', ask.text, expectedOf(ask), writeExample(ask));
  const stray = tokens.find((t) => t.kind === 'stray');
  if (stray) {
    const clockTime = ask.dimension === 'time' && stray.text === ':';
    return fault(
      'quantity-not-a-number',
      ask.text,
      expectedOf(ask),
      clockTime ? 'write hours and minutes as "1 h 30 min"' : `leave out "${stray.text}"`,
    );
  }
  const dash = tokens.findIndex((t, i) => i > 0 && t.kind === 'dash');
  if (dash > 0) {
    return fault('quantity-extra', ask.text, expectedOf(ask), 'leave out the "-" behind the number');
  }
  const negative = tokens[0]?.kind === 'dash';
  let at = negative ? 1 : 0;
  let total = 0;
  let last: FoundUnit | null = null;
  while (at < tokens.length) {
    const number = leadingNumber(ask, tokens.slice(at));
    if (!number.ok) return number;
    const unitFrom = at + number.value.took;
    const size = ask.plain.slice(tokens[at]?.start, tokens[unitFrom - 1]?.end);
    const written = negative ? `-${size}` : size;
    const end = unitEnd(tokens, unitFrom);
    if (end === unitFrom) {
      if (last !== null) {
        return fault(
          'quantity-no-unit',
          ask.text,
          `${expectedOf(ask)}, every number with its unit`,
          withUnits(ask, written),
        );
      }
      return parsed({ value: negative ? -number.value.value : number.value.value, unit: null });
    }
    const unit = lookUpUnit(tokens.slice(unitFrom, end), ask);
    if (unit.found !== 'unit') return unitFault(ask, tokens, tokens.slice(unitFrom, end), written);
    const first = last === null;
    const compound = ask.dimension === 'mass' || ask.dimension === 'volume' || ask.dimension === 'time';
    if (last !== null && (!compound || unit.factor >= last.factor)) {
      return fault(
        'quantity-extra',
        ask.text,
        `${expectedOf(ask)}, once`,
        compound ? 'write the larger unit first, and each unit once' : 'write one number and one unit',
      );
    }
    const sign = negative ? -1 : 1;
    total += sign * number.value.value * unit.factor + (first ? unit.offset : 0);
    last = unit;
    at = end;
  }
  if (last === null) return fault('quantity-no-number', ask.text, expectedOf(ask), writeExample(ask));
  return parsed({ value: total, unit: last });
}

/** The fault for a number that has no unit. */
export function noUnit(ask: Ask, number: string): Parsed<never> {
  return fault('quantity-no-unit', ask.text, expectedOf(ask), withUnits(ask, number));
}
