import { UNIT_PROBLEMS, type UnitCode } from '../codes.ts';
import { type Facts, type Said, say } from '../problem.ts';

/** What is wrong with a figure; the caller adds its key. */
export interface UnitFault extends Said<UnitCode> {
  readonly ok: false;
  /** What may have been meant, each as it could be written. */
  readonly offers: readonly string[];
}

export type Parsed<T> = { readonly ok: true; readonly value: T } | UnitFault;

export function parsed<T>(value: T): Parsed<T> {
  return { ok: true, value };
}

type UnitFacts<C extends UnitCode> = Facts<(typeof UNIT_PROBLEMS)[C]>;

/** A fault of a text, which is shown in quotation marks. */
export function fault<C extends UnitCode>(
  code: C,
  facts: UnitFacts<C>[0],
  offers: readonly string[] = [],
): UnitFault {
  const said = say(UNIT_PROBLEMS, code, ...([facts] as unknown as UnitFacts<C>));
  return { ok: false, ...said, found: quoted(said.found), offers };
}

/** `"30 g" or "30 kg"`: what may have been meant, in words. */
export const either = (offers: readonly string[]): string => offers.map((one) => `"${one}"`).join(' or ');

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
