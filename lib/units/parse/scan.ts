/** One written number: `30`, `1,5`, `1/2`, `½`. */
export interface WrittenNumber {
  /** null where the text is no number that can be trusted. */
  readonly value: number | null;
  readonly fraction: boolean;
  /** Digits only, so that a fraction may follow it. */
  readonly whole: boolean;
  /** `1,500`: one and a half, or one thousand five hundred. */
  readonly twoReadings: boolean;
}

/** The pieces that a written figure is made of. */
export type Token = { readonly start: number; readonly end: number; readonly text: string } & (
  | { readonly kind: 'number'; readonly number: WrittenNumber }
  | { readonly kind: 'word' | 'plusMinus' | 'dash' | 'slash' | 'at' | 'stray' }
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

/** A text without look-alikes, as nearly all are. */
const ALREADY_PLAIN = /^[!-~]+(?: [!-~]+)*$/;

/** The text with look-alike characters made plain and every run of white space one space; linear in its length. */
export function plainText(text: string): string {
  if (ALREADY_PLAIN.test(text)) return text;
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

const VULGAR: Readonly<Record<string, number>> = {
  ...{ '½': 1 / 2, '⅓': 1 / 3, '⅔': 2 / 3, '¼': 1 / 4, '¾': 3 / 4, '⅕': 1 / 5, '⅖': 2 / 5, '⅗': 3 / 5 },
  ...{ '⅘': 4 / 5, '⅙': 1 / 6, '⅚': 5 / 6, '⅛': 1 / 8, '⅜': 3 / 8, '⅝': 5 / 8, '⅞': 7 / 8 },
};

const DECIMAL = String.raw`(?:\d|\.(?=\d))(?:\d|[.,](?=\d))*`;
/** Programmers' notations (`1e3`, `0x1F`) are not what people write beside a kettle; none is guessed at. */
const PROGRAMMERS = String.raw`${DECIMAL}(?:_|[eE][+-]?\d)[^ ]*|0(?:[xX](?=[^ ])|[bBoO]\d)[^ ]*`;
const LETTER = String.raw`[°'’\p{L}\p{M}]`;
/** Every character that is not a space is in exactly one piece; a comma behind a word is none. */
const PIECES: { readonly [K in Token['kind']]: string } = {
  number: String.raw`${PROGRAMMERS}|\d+/\d+|${DECIMAL}|[${Object.keys(VULGAR).join('')}]`,
  plusMinus: String.raw`±|\+/?-`,
  dash: '-',
  slash: '/',
  at: '@',
  word: String.raw`%|${LETTER}(?:${LETTER}|\.(?!\d))*`,
  stray: '[^ ]',
};
const KINDS = Object.keys(PIECES) as readonly Token['kind'][];
// Names of groups would cost more than all the rest: the groups are in the order of the kinds.
const TOKEN = new RegExp(KINDS.map((kind) => `(${PIECES[kind]})`).join('|'), 'gu');

function writtenNumber(raw: string, next: string): WrittenNumber {
  const vulgar = VULGAR[raw];
  if (vulgar !== undefined) return { value: vulgar, fraction: true, whole: false, twoReadings: false };
  const [above, below] = raw.includes('/') ? raw.split('/').map(Number) : [];
  if (below !== undefined) {
    const clean = below > 0 && !/^[.,/]/.test(next);
    return { value: clean ? (above ?? 0) / below : null, fraction: true, whole: false, twoReadings: false };
  }
  return {
    value: /^\d*(?:[.,]\d+)?$/.test(raw) ? Number(raw.replace(',', '.')) : null,
    fraction: false,
    whole: /^\d+$/.test(raw),
    twoReadings: /^[1-9]\d{0,2},\d{3}$/.test(raw),
  };
}

export function scan(plain: string): readonly Token[] {
  const tokens: Token[] = [];
  TOKEN.lastIndex = 0;
  for (let match = TOKEN.exec(plain); match !== null; match = TOKEN.exec(plain)) {
    const [text] = match;
    const { index: start } = match;
    const end = start + text.length;
    const kind = KINDS[match.indexOf(text, 1) - 1]!;
    if (kind === 'number')
      tokens.push({ start, end, text, kind, number: writtenNumber(text, plain.charAt(end)) });
    else if (text !== ',' || tokens.at(-1)?.kind !== 'word') tokens.push({ start, end, text, kind });
  }
  return tokens;
}
