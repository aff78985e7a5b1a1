import { nearest } from '../../units/parse/nearest.ts';
import { parseClock, parseDate, parseMoment } from '../../units/parse/parse.ts';
import { plainText } from './plain-text.ts';
import { fault, type Leaf, leaf, quoted, type Read } from './value-fault.ts';

const LONGEST_LINE = 400;
const LONGEST_TEXT = 20_000;

/** One line of words: a title, a name, a note. */
export function line(description: string, ...samples: string[]): Leaf<string> {
  return leaf((text) => readText(text, LONGEST_LINE), { description, samples, type: ['string', 'number'] });
}

/** Free text of any number of lines. */
export function prose(description: string): Leaf<string> {
  return leaf((text) => readText(text, LONGEST_TEXT), { description, type: 'string' });
}

function readText(text: string, longest: number): Read<string> {
  const value = plainText(text);
  if (value === '') return fault('missing-key', { expected: 'some words', what: 'them after the colon' });
  if (value.length <= longest) return { ok: true, value };
  return fault('text-too-long', { length: value.length, longest });
}

/** One of a few fixed words; the nearest is suggested. */
export function choice<const W extends string>(words: readonly W[], description: string): Leaf<W> {
  return leaf(
    (text) => {
      const value = words.find((word) => word === asFlag(text.trim()));
      if (value !== undefined) return { ok: true, value };
      const near = nearest(text.trim().toLowerCase(), words)[0];
      return fault('not-a-choice', { text: quoted(text), words: listed(words), near });
    },
    { description, choices: words, samples: words.slice(0, 1), type: 'string' },
  );
}

/** `True` and `TRUE` are `true` in YAML 1.2 core; other words are taken as they are. */
function asFlag(word: string): string {
  return /^(True|TRUE|False|FALSE)$/.test(word) ? word.toLowerCase() : word;
}

export function listed(words: readonly string[]): string {
  if (words.length < 2) return words.join('');
  return `${words.slice(0, -1).join(', ')} or ${words[words.length - 1]}`;
}

/** `true` or `false` as YAML 1.2 writes them. */
export function flag(description: string): Leaf<boolean> {
  return leaf(
    (text) => {
      if (/^(true|True|TRUE)$/.test(text)) return { ok: true, value: true };
      if (/^(false|False|FALSE)$/.test(text)) return { ok: true, value: false };
      return fault('not-a-flag', { text: quoted(text) });
    },
    { description, samples: ['true'], type: 'boolean' },
  );
}

export function count(description: string, low: number, high: number): Leaf<number> {
  return leaf((text) => readNumber(text, COUNT, low, high), {
    description,
    samples: [String(Math.max(low, 1))],
    type: 'integer',
  });
}

/** A plain decimal number without a unit, with a point or, in quotes where YAML wants them, a comma. */
export function decimal(description: string, low: number, high: number, sample: string): Leaf<number> {
  return leaf((text) => readNumber(text, DECIMAL, low, high), {
    description,
    samples: [sample],
    type: ['number', 'string'],
  });
}

interface NumberForm {
  readonly form: RegExp;
  readonly code: 'not-a-count' | 'not-a-number';
  readonly what: string;
  readonly how: string;
}

const COUNT: NumberForm = {
  form: /^[0-9]{1,9}$/,
  code: 'not-a-count',
  what: 'a whole number',
  how: ', without decimals',
};
const DECIMAL: NumberForm = {
  form: /^[0-9]{1,9}([.,][0-9]{1,9})?$/,
  code: 'not-a-number',
  what: 'a number',
  how: ', with a point or a comma for decimals',
};

function readNumber(
  text: string,
  { form, code, what, how }: NumberForm,
  low: number,
  high: number,
): Read<number> {
  const facts = { text: quoted(text), range: `${what} from ${low} to ${high}` };
  if (!form.test(text.trim())) return fault(code, { ...facts, how });
  const value = Number(text.trim().replace(',', '.'));
  if (value >= low && value <= high) return { ok: true, value };
  return fault('out-of-range', { ...facts, possible: `${facts.range}, without a unit`, figure: 'figure' });
}

/** A tasting score: 0 to 5, halves allowed. */
export function score(description: string): Leaf<number> {
  return leaf(
    (text) => {
      const word = text.trim().replace('½', '.5').replace(',', '.');
      const value = Number(word.startsWith('.') ? `0${word}` : word);
      if (/^[0-5]?(\.[05])?$/.test(word) && word !== '' && value <= 5) return { ok: true, value };
      return fault('not-a-score', { text: quoted(text) });
    },
    { description, samples: ['4'], type: ['number', 'string'] },
  );
}

/** A day of the calendar, `2026-02-14`. */
export function date(description: string): Leaf<string> {
  return leaf((text) => parseDate(text), {
    description,
    samples: ['2026-02-14'],
    type: 'string',
    pattern: DAY,
  });
}

/** A clock time, `13:30`. */
export function clock(description: string, twelveHours: boolean): Leaf<string> {
  return leaf((text) => parseClock(text, twelveHours), {
    description,
    samples: ['13:30', '1:30 PM'],
    type: ['string', 'number'],
    pattern: '^\\d{1,2}[:.h]?(\\d{2})?h? ?([AaPp][.]?[Mm][.]?)?$',
  });
}

/** A day, with or without the time of day. */
export function moment(
  description: string,
  twelveHours: boolean,
): Leaf<{ readonly date: string; readonly clock: string | null }> {
  return leaf((text) => parseMoment(text, null, twelveHours), {
    description,
    samples: ['2026-02-14', '2026-02-14 17:20', 'Feb 14 5:20 PM'],
    type: 'string',
    pattern: DAY,
  });
}

/** Loose on purpose, the reader itself is exact: figures and signs, perhaps with the name of a month. */
const DAY = '^[A-Za-z0-9.,:/ -]*[0-9][A-Za-z0-9.,:/ -]*$';
const SLUG = /^[a-z0-9][a-z0-9-]{0,79}$/;
const RESERVED = /^(con|prn|aux|nul|com[0-9]|lpt[0-9])$/;

/** Reads a slug: small letters, digits and hyphens, at most 80, and no name that Windows keeps for itself. */
export function readSlug(text: string): Read<string> {
  const value = text.trim();
  if (SLUG.test(value) && !RESERVED.test(value)) return { ok: true, value };
  const mended = value
    .toLowerCase()
    .normalize('NFD')
    .replaceAll(/[^a-z0-9]+/g, '-')
    .replaceAll(/^-+|-+$/g, '')
    .slice(0, 80);
  return SLUG.test(mended) && !RESERVED.test(mended)
    ? { ...fault('bad-slug', { text: quoted(text), mended }), sample: mended }
    : fault('bad-slug', { text: quoted(text) });
}

/** A slug inside a file: the name of another batch or of a setup. */
export function slug(description: string): Leaf<string> {
  return leaf(readSlug, {
    description,
    samples: ['winding-hole-bitter-1'],
    type: 'string',
    pattern: SLUG.source,
  });
}
