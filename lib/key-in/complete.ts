import {
  parseAmount,
  parseClock,
  parseGravity,
  parseQuantity,
  parseVolumeReading,
} from '../units/parse/parse.ts';
import { fault, type Parsed, parsed, quoted, type UnitFault } from '../units/parse/parsed.ts';
import { type Catalogue, type Facts, type Said, say } from '../units/problem.ts';
import { completeMoment, type DateContext } from './dates.ts';
import { type Blank, LEFT_OUT, NOT_TAKEN } from './key-in.ts';

/** What can be wrong with answers together, beside what can be with single figures. */
export const KEY_IN_PROBLEMS = {
  'row-without-day': [
    'Something of a row, or of a packaging, was keyed in but not its day.',
    'nothing',
    'the day, such as 14 Feb',
    'key in the day of this row',
  ],
  'reason-missing': [
    'A batch was given up on a day, and nothing says why.',
    'nothing',
    'a few words',
    'say why it was given up',
  ],
  'taken-and-not-taken': [
    'A figure was keyed in, and that it was not taken.',
    '{figure} together with "{word}"',
    'one of the two',
    'empty the figure, or take the tick away',
  ],
  'keyed-differently': [
    'The two times that a figure was keyed in are not the same.',
    '"{line}" and then "{again}"',
    'the same figure twice',
    'look at the paper again',
  ],
} as const satisfies Catalogue;
type KeyInCode = keyof typeof KEY_IN_PROBLEMS;

/** What is wrong with an answer. */
export type Fault = Said<KeyInCode | UnitFault['code']> & Pick<UnitFault, 'ok' | 'offers'>;

export const keyInFault = <C extends KeyInCode>(
  code: C,
  ...facts: Facts<(typeof KEY_IN_PROBLEMS)[C]>
): Fault => ({ ok: false, ...say(KEY_IN_PROBLEMS, code, ...facts), offers: [] });

/** A keyed line as the file would hold it, or what is wrong with it and what might have been meant. */
export type Completed = { readonly ok: true; readonly value: string } | Fault;

const LONGEST_WORDS = 400;

/**
 * Makes what was typed into a blank into what the file holds: a bare number gets the blank's unit, a comma becomes a point,
 * `1720` a clock time, `14 Feb` a date. Nothing is guessed: a figure that is impossible, or that could be read in two ways,
 * is a fault, and the readings that it may have been meant for are offered. An empty line stays empty.
 */
export function complete(blank: Blank, line: string, ctx: DateContext): Completed {
  // Control characters and odd spaces become plain spaces: notes are one line.
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are what is taken out
  const typed = line.replaceAll(/[\s\u0000-\u001f\u007f-\u009f\u200b\ufeff]+/g, ' ').trim();
  if (typed === '') return parsed('');
  const word = ([NOT_TAKEN, LEFT_OUT] as const).find((each) => sameWord(each, typed));
  if (word !== undefined) {
    if (blank.words.includes(word)) return parsed(word);
    return fault('quantity-no-number', { text: typed, expected: 'an answer, or nothing' });
  }
  const both = blank.words.find((each) => typed.endsWith(` ${each}`));
  if (both !== undefined) {
    const figure = quoted(typed.slice(0, -both.length - 1));
    return keyInFault('taken-and-not-taken', { figure, word: both });
  }
  const read = byKind(blank, typed, ctx);
  if (read.ok) return read;
  const meant = read.offers.map((offer) => byKind(blank, offer, ctx));
  return { ...read, offers: [...new Set(meant.flatMap((offer) => (offer.ok ? [offer.value] : [])))] };
}

const sameWord = (word: string, typed: string): boolean =>
  word.replace(' ', '') === typed.toLowerCase().replace(/[ -]/, '');

function byKind(blank: Blank, typed: string, ctx: DateContext): Parsed<string> {
  switch (blank.kind) {
    case 'clock':
      return parseClock(typed);
    case 'date':
      return completeMoment(typed, ctx);
    case 'gravity':
      return gravity(blank, typed);
    case 'volume':
    case 'temperature':
    case 'mass':
    case 'count':
      return figure(blank, typed, ctx);
    case 'score':
      return score(typed);
    case 'text':
      return typed.length <= LONGEST_WORDS
        ? parsed(typed)
        : fault('quantity-too-long', { text: typed, expected: `at most ${LONGEST_WORDS} characters` });
  }
}

/** `1,054 @ 24`: the comma is a decimal one, and a bare temperature is in the unit of the paper. */
function gravity(blank: Blank, typed: string): Parsed<string> {
  const [value = '', sample = ''] = typed.split('@').map((part) => part.trim());
  const tail = sample === '' ? '' : ` @ ${withUnit(pointed(sample), blank.sampleUnit)}`;
  const text = `${pointed(value.replace(/ ?SG$/i, ''))}${tail}`;
  const read = parseGravity(text);
  return read.ok
    ? parsed(text)
    : { ...read, found: quoted(typed), offers: read.offers.map((offer) => `${offer}${tail}`) };
}

function figure(blank: Blank, typed: string, { units }: DateContext): Parsed<string> {
  if (blank.kind === 'count' && blank.unit === '') {
    return /^\d{1,6}$/.test(typed) && Number(typed) <= 100_000
      ? parsed(String(Number(typed)))
      : fault('quantity-not-a-number', {
          text: typed,
          expected: 'a whole number',
          what: 'it in digits, without a unit',
        });
  }
  const text = withUnit(typed, blank.unit);
  const context = { units };
  const { bounds, kind } = blank.spec;
  const read: Parsed<{ readonly value: number }> =
    kind === 'amount'
      ? parseAmount(text, context)
      : blank.kind === 'volume'
        ? parseVolumeReading(text, context)
        : parseQuantity(text, blank.kind === 'mass' ? 'mass' : 'temperature', context);
  if (!read.ok) return { ...read, found: quoted(typed) };
  const { value } = read.value;
  if (bounds !== undefined && (value < bounds.low || value > bounds.high)) {
    const facts = { text: typed, expected: bounds.text[units], figure: 'figure and its unit' };
    return fault('quantity-out-of-range', facts);
  }
  return parsed(pointed(text));
}

function score(typed: string): Parsed<string> {
  const text = pointed(typed.replace('½', '.5'));
  if (/^[0-5]?(\.[05])?$/.test(text) && Number(text) <= 5)
    return parsed(text.startsWith('.') ? `0${text}` : text);
  const facts = { text: typed, expected: '0 to 5, halves allowed', what: 'for example 3.5' };
  return fault('quantity-out-of-range', facts);
}

/** A number alone is in the unit that is printed behind its boxes. */
const withUnit = (typed: string, unit: string): string =>
  unit !== '' && /^[-−]?[\d.,½¼¾⅓⅔/ ]+$/.test(typed) ? `${typed} ${unit}` : typed;

/** A decimal comma as a point; which commas are decimal the parser has decided before. */
const pointed = (text: string): string => text.replaceAll(/(\d),(?=\d)/g, '$1.');
