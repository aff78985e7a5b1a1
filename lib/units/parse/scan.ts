import { isDigit, isVulgar, scanNumber, vulgarNumber, type WrittenNumber } from './number.ts';

/** The pieces that a written figure is made of. */
export type Token = { readonly start: number; readonly end: number } & (
  | { readonly kind: 'number'; readonly number: WrittenNumber }
  | { readonly kind: 'word'; readonly text: string }
  | { readonly kind: 'plus-minus' | 'dash' | 'slash' | 'at' }
  | { readonly kind: 'stray'; readonly text: string }
);

/** Longer than any figure with its unit, uncertainty and temperature. */
export const LONGEST_TEXT = 200;

const LOOKALIKES: Readonly<Record<string, string>> = {
  '\u2212': '-', // minus sign
  '\u2010': '-',
  '\u2011': '-',
  '\u2012': '-',
  '\u2013': '-',
  '\u2014': '-',
  '\u00ba': '°', // masculine ordinal
  '\u02da': '°', // ring above
  '\u2103': '°C',
  '\u2109': '°F',
  '\u2215': '/',
  '\u2044': '/',
};

/** The text with look-alike characters made plain and every run of white space one space; linear in its length. */
export function plainText(text: string): string {
  let plain = '';
  for (const c of text) {
    const code = c.codePointAt(0) ?? 0;
    if (code >= 0xff01 && code <= 0xff5e) plain += String.fromCodePoint(code - 0xfee0);
    else if (c === '\u200b' || c === '\ufeff' || c === '\u2060') continue;
    else if (/\s/u.test(c)) plain += plain.endsWith(' ') ? '' : ' ';
    else plain += LOOKALIKES[c] ?? c;
  }
  return plain.trim();
}

function isLetter(c: string | undefined): boolean {
  return c !== undefined && (c === '°' || c === "'" || c === '’' || /\p{L}|\p{M}/u.test(c));
}

function wordEnd(text: string, from: number): number {
  if (text[from] === '%') return from + 1;
  let i = from;
  while (isLetter(text[i]) || (text[i] === '.' && i > from && !isDigit(text[i + 1]))) i++;
  return i;
}

/** The pieces of a plain text; every character that is not a space stands in exactly one. */
export function scan(text: string): readonly Token[] {
  const tokens: Token[] = [];
  let i = 0;
  while (i < text.length) {
    const c = text[i] ?? '';
    const start = i;
    if (c === ' ') {
      i++;
    } else if (isDigit(c) || (c === '.' && isDigit(text[i + 1]))) {
      const { number, end } = scanNumber(text, i);
      i = end;
      tokens.push({ kind: 'number', number, start, end });
    } else if (isVulgar(c)) {
      i++;
      tokens.push({ kind: 'number', number: vulgarNumber(c), start, end: i });
    } else if (c === '±' || (c === '+' && (text[i + 1] === '-' || text.startsWith('/-', i + 1)))) {
      i += c === '±' ? 1 : text[i + 1] === '-' ? 2 : 3;
      tokens.push({ kind: 'plus-minus', start, end: i });
    } else if (c === '-' || c === '/' || c === '@') {
      i++;
      tokens.push({ kind: c === '-' ? 'dash' : c === '/' ? 'slash' : 'at', start, end: i });
    } else if (isLetter(c) || c === '%') {
      i = wordEnd(text, i);
      tokens.push({ kind: 'word', text: text.slice(start, i), start, end: i });
    } else if (c === ',' && tokens.at(-1)?.kind === 'word') {
      i++;
    } else {
      i += c >= '\ud800' && c <= '\udbff' ? 2 : 1;
      tokens.push({ kind: 'stray', text: text.slice(start, i), start, end: i });
    }
  }
  return tokens;
}
