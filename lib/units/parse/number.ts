/** One written number: `30`, `1,5`, `1/2`, `½`. */
export interface WrittenNumber {
  readonly raw: string;
  /** null where the text is no number that can be trusted. */
  readonly value: number | null;
  readonly fraction: boolean;
  /** Digits only, so that a fraction may follow it. */
  readonly whole: boolean;
  /** `1,500`: one and a half, or one thousand five hundred. */
  readonly twoReadings: boolean;
}

const VULGAR: Readonly<Record<string, number>> = {
  '½': 1 / 2,
  '⅓': 1 / 3,
  '⅔': 2 / 3,
  '¼': 1 / 4,
  '¾': 3 / 4,
  '⅕': 1 / 5,
  '⅖': 2 / 5,
  '⅗': 3 / 5,
  '⅘': 4 / 5,
  '⅙': 1 / 6,
  '⅚': 5 / 6,
  '⅛': 1 / 8,
  '⅜': 3 / 8,
  '⅝': 5 / 8,
  '⅞': 7 / 8,
};

export function isDigit(c: string | undefined): boolean {
  return c !== undefined && c >= '0' && c <= '9';
}

export function isVulgar(c: string | undefined): boolean {
  return c !== undefined && Object.hasOwn(VULGAR, c);
}

export function vulgarNumber(c: string): WrittenNumber {
  return { raw: c, value: VULGAR[c] ?? null, fraction: true, whole: false, twoReadings: false };
}

function digitsEnd(text: string, from: number): number {
  let i = from;
  while (isDigit(text[i])) i++;
  return i;
}

function isSlash(c: string | undefined): boolean {
  return c === '/' || c === '⁄';
}

/** Programmers' notations (`1e3`, `0x1F`) are not what people write beside a kettle; none is guessed at. */
function programmersTail(text: string, from: number, raw: string): boolean {
  const mark = text[from]?.toLowerCase();
  const next = text[from + 1];
  if (mark === '_') return true;
  if (mark === 'e') return isDigit(next) || ((next === '+' || next === '-') && isDigit(text[from + 2]));
  if (raw !== '0') return false;
  return mark === 'x' ? next !== undefined && next !== ' ' : (mark === 'b' || mark === 'o') && isDigit(next);
}

/** The number that starts at `from`, which is a digit or a point before one, and where it ends. */
export function scanNumber(
  text: string,
  from: number,
): { readonly number: WrittenNumber; readonly end: number } {
  let end = from;
  while (isDigit(text[end]) || ((text[end] === '.' || text[end] === ',') && isDigit(text[end + 1]))) end++;
  const raw = text.slice(from, end);
  const whole = digitsEnd(text, from) === end;
  if (whole && isSlash(text[end]) && isDigit(text[end + 1])) {
    const last = digitsEnd(text, end + 1);
    const divisor = Number(text.slice(end + 1, last));
    const clean = divisor > 0 && text[last] !== '.' && text[last] !== ',' && !isSlash(text[last]);
    const value = clean ? Number(raw) / divisor : null;
    return {
      number: { raw: text.slice(from, last), value, fraction: true, whole: false, twoReadings: false },
      end: last,
    };
  }
  if (programmersTail(text, end, raw)) {
    let last = end;
    while (last < text.length && text[last] !== ' ') last++;
    return {
      number: { raw: text.slice(from, last), value: null, fraction: false, whole: false, twoReadings: false },
      end: last,
    };
  }
  const marks = Array.from(raw).filter((c) => c === '.' || c === ',').length;
  const value = marks > 1 ? null : Number(raw.replace(',', '.'));
  const twoReadings = /^[1-9]\d{0,2},\d{3}$/.test(raw);
  return { number: { raw, value, fraction: false, whole, twoReadings }, end };
}
