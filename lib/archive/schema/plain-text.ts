/** Signs that turn, embed or isolate the direction of writing (Unicode Standard Annex 9, section 2). */
const DIRECTIONS = /[\u202a-\u202e\u2066-\u2069]/g;
/** Control characters that no line of words needs, a terminal may obey, and no web page may hold. */
// biome-ignore lint/suspicious/noControlCharactersInRegex: control characters are what is looked for
const CONTROLS = /[\u0000-\u0008\u000b\u000c\u000e-\u001f\u007f-\u009f]/g;
/** Halves of a pair of code units without the other half, which cannot be written as UTF-8. */
const HALVES = /[\ud800-\udbff](?![\udc00-\udfff])|(?<![\ud800-\udbff])[\udc00-\udfff]/g;
const STRONG = /[\p{L}\u200e\u200f\u061c]/gu;
const RIGHT_TO_LEFT =
  /[\u0590-\u08ff\ufb1d-\ufdff\ufe70-\ufefc\u200f\u061c\u{10800}-\u{10fff}\u{1e800}-\u{1efff}]/u;
const LEFT_TO_RIGHT_MARK = '\u200e';

/** Text without signs that turn the direction of writing, and without characters that only machines obey. */
export function withoutControls(text: string): string {
  return text.replace(DIRECTIONS, '').replace(CONTROLS, '').replace(HALVES, '\ufffd');
}

/**
 * A brewer's words, fit to be put before a figure: a name that is written from right to left ends with a mark that
 * turns the direction back, since a figure after it would else be drawn in front of it (Unicode Standard Annex 9,
 * rule N1).
 */
export function plainText(text: string): string {
  const plain = withoutControls(text).trim();
  const last = plain.match(STRONG)?.at(-1);
  return last !== undefined && RIGHT_TO_LEFT.test(last) ? plain + LEFT_TO_RIGHT_MARK : plain;
}
