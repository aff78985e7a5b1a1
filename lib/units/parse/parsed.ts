import type { UnitCode } from '../codes.ts';

/** What is wrong with a figure; the caller adds its key. */
export interface UnitFault {
  readonly ok: false;
  readonly code: UnitCode;
  /** The brewer's own words in quotation marks. */
  readonly found: string;
  readonly expected: string;
  readonly mend: string;
  /** What may have been meant, each as it could be written. */
  readonly offers: readonly string[];
}

export type Parsed<T> = { readonly ok: true; readonly value: T } | UnitFault;

export function parsed<T>(value: T): Parsed<T> {
  return { ok: true, value };
}

/** A fault whose mend is a sentence, or the texts of which one may have been meant. */
export function fault(
  code: UnitCode,
  text: string,
  expected: string,
  mend: string | readonly string[],
  offers: readonly string[] = typeof mend === 'string' ? [] : mend,
): UnitFault {
  const said = typeof mend === 'string' ? mend : `write ${mend.map((offer) => `"${offer}"`).join(' or ')}`;
  return { ok: false, code, found: quoted(text), expected, mend: said, offers };
}

const LONGEST_QUOTE = 60;
/** What a terminal would obey instead of showing it, and what turns the direction of writing. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const UNSEEN = /^[\u0000-\u001f\u007f-\u009f\u2028-\u202e\u2066-\u2069\ud800-\udfff]/u;

/** A brewer's text in quotation marks, on one line, cut where it is long. */
export function quoted(text: string): string {
  // A pasted book is cut before it is looked at.
  const line = Array.from(text.slice(0, 4 * LONGEST_QUOTE).trim(), (c) => (UNSEEN.test(c) ? ' ' : c));
  return line.length > LONGEST_QUOTE ? `"${line.slice(0, LONGEST_QUOTE).join('')}…"` : `"${line.join('')}"`;
}
