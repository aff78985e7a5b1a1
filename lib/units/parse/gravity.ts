import { type Celsius, celsius } from '../brands.ts';
import type { Given, GivenGravity, GivenVolume } from './given.ts';
import { either, fault, type Parsed, parsed, quoted } from './parsed.ts';
import { type ParseContext, parseQuantity, tooLong } from './quantity.ts';
import { LONGEST_TEXT, plainText, scan, type Token } from './scan.ts';
import { unitKey } from './unit-lookup.ts';

type Scale = GivenGravity['scale'];

const SCALES: ReadonlyMap<string, Scale> = new Map([
  ...['sg', 'og', 'fg'].map((name) => [name, 'sg'] as const),
  ...['°p', 'p', 'plato', '°plato'].map((name) => [name, 'plato'] as const),
  ...['bx', '°bx', 'brix', '°brix'].map((name) => [name, 'brix'] as const),
]);

const LIMITS: Readonly<Record<Scale, { low: number; high: number; words: string; widest: number }>> = {
  sg: { low: 0.98, high: 1.2, words: 'a specific gravity from 0.980 to 1.200', widest: 0.05 },
  plato: { low: -2, high: 45, words: 'an extract from −2 to 45 °P', widest: 10 },
  brix: { low: -2, high: 45, words: 'a refractometer reading from −2 to 45 Bx', widest: 10 },
};

const EXPECTED = 'a gravity such as 1.048, 13.2 °P or 11.8 Bx';

interface Figure {
  readonly value: number;
  readonly scale: Scale | null;
}

/** A number with or without a scale behind it; a comma here can only be a decimal one. */
function figure(text: string, tokens: readonly Token[]): Parsed<Figure> {
  const facts = { text, expected: EXPECTED };
  const sign = tokens[0]?.kind === 'dash' ? -1 : 1;
  const [number, ...rest] = sign < 0 ? tokens.slice(1) : tokens;
  if (number?.kind !== 'number')
    return fault('quantity-no-number', { ...facts, what: 'the reading as a number, such as "1.048"' });
  const { value, fraction } = number.number;
  if (value === null || fraction || rest.some(({ kind }) => kind !== 'word'))
    return fault('quantity-not-a-number', { ...facts, what: 'one plain number, such as "1.048"' });
  const scale = rest.length === 0 ? null : SCALES.get(unitKey(rest.map((token) => token.text)));
  const what = '"°P" or "Bx" behind the number, or nothing for a specific gravity';
  return scale === undefined
    ? fault('quantity-unknown-unit', { ...facts, what })
    : parsed({ value: sign * value, scale });
}

function scaleFault(text: string, value: number): Parsed<never> {
  const sg = (gravity: number): string => gravity.toFixed(3);
  const facts = { text, expected: EXPECTED };
  const pointed = [sg(value / 1000)];
  if (value >= 980 && value <= 1200)
    return fault('gravity-no-point', { ...facts, what: either(pointed) }, pointed);
  const points = Number.isInteger(value) && value >= 5 && value <= 200 ? sg(1 + value / 1000) : null;
  const offers = [
    // 1.48 for 1.048: the zero behind the point is the digit most easily dropped.
    ...(value > 1.2 && value < 2 ? [sg(1 + (value - 1) / 10)] : []),
    ...(value >= -2 && value <= 45 ? [`${value} °P`, `${value} Bx`] : []),
  ];
  const asPoints = points === null ? [] : [`"${points}" if these are gravity points`];
  const what = [...(offers.length === 0 ? [] : [either(offers)]), ...asPoints].join(', or ');
  return what === ''
    ? fault('gravity-out-of-range', { text, expected: LIMITS.sg.words })
    : fault('gravity-no-scale', { ...facts, what }, points === null ? offers : [...offers, points]);
}

/** Tokens before and after the first `@`; after is null where there is none. */
function cutAt(plain: string): { readonly head: string; readonly tail: string | null } {
  const at = plain.indexOf('@');
  return at < 0 ? { head: plain, tail: null } : { head: plain.slice(0, at), tail: plain.slice(at + 1) };
}

function sampleTemperature(text: string, tail: string | null): Parsed<Celsius | null> {
  if (tail === null) return parsed(null);
  const read: Parsed<Given<Celsius>> = parseQuantity(tail, 'temperature', { units: 'metric' });
  const expected = 'the temperature behind the "@", such as 24 °C';
  if (!read.ok) return { ...read, found: quoted(text), expected, offers: [] };
  if (read.value.u !== null || read.value.value < -10 || read.value.value > 110) {
    const facts = { text, expected: 'one temperature behind the "@", from −10 to 110 °C' };
    return fault('quantity-out-of-range', { ...facts, what: 'it as "@ 24 °C"' });
  }
  return parsed(celsius(read.value.value));
}

/**
 * A density reading as the instrument shows it: `1.048`, `1.048 @ 24 °C`, `13.2 °P`, `11.8 Bx`,
 * `1.048 ± 0.001`.
 *
 * Range 0.980 to 1.200, −2 to 45 °P or Bx; `1048` is a fault whose mend is `1.048`. Nothing is corrected here.
 */
export function parseGravity(text: string): Parsed<GivenGravity> {
  const long = tooLong(text, EXPECTED);
  if (long) return long;
  const plain = plainText(text);
  const facts = { text, expected: EXPECTED };
  if (plain === '') return fault('quantity-empty', { ...facts, what: 'the reading, or "not taken"' });
  const { head, tail } = cutAt(plain);
  const tokens = scan(head);
  const cut = tokens.findIndex(({ kind }) => kind === 'plusMinus');
  const main = figure(text, cut < 0 ? tokens : tokens.slice(0, cut));
  if (!main.ok) return main;
  const spread = cut < 0 ? null : figure(text, tokens.slice(cut + 1));
  if (spread && !spread.ok) return spread;
  const scale: Scale = main.value.scale ?? spread?.value.scale ?? 'sg';
  const stated = main.value.scale !== null || (spread?.value.scale ?? null) !== null;
  const { low, high, words, widest } = LIMITS[scale];
  const { value } = main.value;
  if (!(value >= low && value <= high)) {
    return stated && scale !== 'sg'
      ? fault('gravity-out-of-range', { text, expected: words })
      : scaleFault(text, value);
  }
  const u = spread ? spread.value.value : null;
  if (u !== null && (u < 0 || u > widest || (spread?.value.scale ?? scale) !== scale)) {
    const sample = scale === 'sg' ? '"1.048 ± 0.001"' : '"13.2 ± 0.2 °P"';
    return fault('quantity-uncertainty', { ...facts, scale: ' on the same scale', sample });
  }
  const sample = sampleTemperature(text, tail);
  if (!sample.ok) return sample;
  return parsed({ scale, value, u, sample_C: sample.value, written: text.trim() });
}

/** A volume as the eye reads it, with the temperature it was read at where that is said: `9.7 L @ 60 °C`. */
export function parseVolumeReading(text: string, ctx: ParseContext): Parsed<GivenVolume> {
  const { head, tail } = text.length > LONGEST_TEXT ? { head: text, tail: null } : cutAt(plainText(text));
  const volume = parseQuantity(head, 'volume', ctx);
  if (!volume.ok) return { ...volume, found: quoted(text) };
  const at = sampleTemperature(text, tail);
  if (!at.ok) return at;
  return parsed({ value: volume.value.value, u: volume.value.u, at_C: at.value, written: text.trim() });
}
