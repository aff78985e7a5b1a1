/**
 * The code strip: what tells a photograph which page it shows, and the contract between paper and reader.
 *
 * **What the paper draws.** All lengths are millimetres. A frame of `FRAME_MM` stands anywhere on the paper, with
 * a solid black square of `MARK_MM` in each of its corners, outer edges on the frame. Between the two bottom
 * marks stand `STRIP_CELLS` cells of `CELL_MM` by `CELL_MM` from left to right without gaps: black where
 * a bit of `stripDigits()` is set, white elsewhere. `stripCellBox(i)` is the box of cell `i`, from the frame's top left.
 * 1.5 mm around each mark and above and below the strip stay white. Nothing else on the page is a solid
 * square of three to five millimetres.
 *
 * **What `fields.json` version 2 holds.** Per page a `PhotoPage`: the strip's number (`stripCode()`), the marks,
 * and a `PhotoField` for every blank, with every printed box of it. Boxes are in millimetres from the top left
 * of the paper, outer edges of the printed line, good to 0.3 mm.
 *
 * **The cells.** 1 0, then 60 bits, then 0 1. The bits, most significant first: 4 sheet, 4 page, 36 of the hash
 * of `slug/revision`, 16 of CRC over the 44 before. Each bit is turned over where `MASK` says, so that no long
 * run has one colour. Nothing private: the hash only tells pages apart.
 */

/** The frame whose corners hold the marks; it fits A4 and Letter. */
export const FRAME_MM = { width: 190, height: 259 } as const;
/** Side of a corner mark. */
export const MARK_MM = 4;
export const STRIP_CELLS = 64;
/** Side of a cell of the strip. */
export const CELL_MM = 2.5;

export interface BoxMm {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** One printed box, sign or gap of a number: only a `digit` is read. */
export interface PhotoCell {
  readonly kind: 'digit' | 'letter' | 'sign' | 'gap';
  /** What is printed: `.` or `:` for a sign, else nothing. */
  readonly text: string;
  readonly box_mm: BoxMm;
}

/** Boxes that are written into as one number. */
export interface PhotoGroup {
  readonly part: 'value' | 'sample' | 'day' | 'clock';
  readonly cells: readonly PhotoCell[];
}

/** One blank as `fields.json` version 2 holds it. */
export interface PhotoField {
  /** As printed beside the blank: `C4`. */
  readonly id: string;
  /** Path below `readings`. */
  readonly key: string;
  /** What is asked for. It says which digits are possible: `clock`, `gravity` and `score` have rules of their own. */
  readonly kind:
    | 'clock'
    | 'gravity'
    | 'volume'
    | 'temperature'
    | 'mass'
    | 'count'
    | 'date'
    | 'text'
    | 'score';
  /** Empty for a line of text, which is shown and not read. */
  readonly groups: readonly PhotoGroup[];
  /** The blank as a whole: what is shown beside the form. */
  readonly box_mm: BoxMm;
  /** The "left out" circle of this blank, or of its row. */
  readonly circle_mm: BoxMm | null;
}

/** One printed page as `fields.json` version 2 holds it. */
export interface PhotoPage {
  readonly sheet: Sheet;
  /** From 1. */
  readonly page: number;
  /** `stripCode()` of the page. */
  readonly strip: string;
  readonly paper_mm: { readonly width: number; readonly height: number };
  /** Top left, top right, bottom left, bottom right. */
  readonly corner_marks_mm: readonly BoxMm[];
  readonly fields: readonly PhotoField[];
}

/** Place in the list plus one is the sheet's number in the strip. */
const SHEETS = ['kettle', 'cellar', 'card'] as const;
export type Sheet = (typeof SHEETS)[number];

export interface StripPage {
  readonly sheet: Sheet;
  /** 1 to 15. */
  readonly page: number;
  readonly slug: string;
  readonly revision: string;
}

/** Box of a cell of the strip in millimetres from the frame's top left. */
export function stripCellBox(index: number): BoxMm {
  const x = (FRAME_MM.width - STRIP_CELLS * CELL_MM) / 2 + index * CELL_MM;
  return { x, y: FRAME_MM.height - (MARK_MM + CELL_MM) / 2, width: CELL_MM, height: CELL_MM };
}

const MASK = (bit: number): boolean => (bit * 7 + (bit >> 2)) % 2 === 1;
const HEAD = [true, false];
const TAIL = [false, true];
const BODY_BITS = 44;
const CRC_BITS = 16;

/** FNV-1a of 64 bits over UTF-8 (RFC 9923): in two halves, whose products with the prime 2⁴⁰ + 0x1b3 are exact. */
export function fnv1a64(text: string): bigint {
  let [high, low] = [0xcbf29ce4, 0x84222325];
  const bytes = new TextEncoder().encode(text);
  for (let at = 0; at < bytes.length; at++) {
    const turned = (low ^ bytes[at]!) >>> 0;
    const product = turned * 0x1b3;
    high = (high * 0x1b3 + Math.floor(product / 2 ** 32) + turned * 2 ** 8) >>> 0;
    low = product >>> 0;
  }
  return (BigInt(high) << 32n) | BigInt(low);
}

/** CRC-16 with polynomial 0x1021 and start 0xFFFF (CRC-16/IBM-3740 in the reveng catalogue) over single bits. */
export function crc16(bits: readonly boolean[]): number {
  let crc = 0xffff;
  for (const bit of bits) {
    const over = crc >= 0x8000 !== bit;
    crc = (crc << 1) & 0xffff;
    if (over) crc ^= 0x1021;
  }
  return crc;
}

function bitsOf(value: bigint, count: number): boolean[] {
  const digits = value.toString(2).padStart(count, '0');
  return Array.from({ length: count }, (_, at) => digits[at] === '1');
}

const numberOf = (bits: readonly boolean[]): bigint =>
  bits.reduce((value, bit) => value * 2n + (bit ? 1n : 0n), 0n);

/** The strip's number as 11 hexadecimal digits: sheet, page, 36 bits of hash (64 folded by exclusive or, RFC 9923). */
export function stripCode({ sheet, page, slug, revision }: StripPage): string {
  if (!Number.isInteger(page) || page < 1 || page > 15) throw new RangeError(`page ${page}, not 1 to 15`);
  const whole = fnv1a64(`${slug}/${revision}`);
  const hash = BigInt.asUintN(36, whole ^ (whole >> 36n));
  const head = BigInt((SHEETS.indexOf(sheet) + 1) * 16 + page);
  return ((head << 36n) | hash).toString(16).padStart(BODY_BITS / 4, '0');
}

/** The 64 cells of a page's strip from left to right as 16 hexadecimal digits, a bit for each; the first is black. */
export function stripDigits(page: StripPage): string {
  const body = BigInt(`0x${stripCode(page)}`);
  const bits = (body << BigInt(CRC_BITS)) | BigInt(crc16(bitsOf(body, BODY_BITS)));
  return ((numberOf(HEAD) << 62n) | ((bits ^ MASKED) << 2n) | numberOf(TAIL)).toString(16);
}
const MASKED = numberOf(Array.from({ length: BODY_BITS + CRC_BITS }, (_, at) => MASK(at)));

/**
 * The strip's number from 64 samples, or null where its ends or its CRC do not fit.
 *
 * A sample above zero is a black cell. The CRC lets one wrong strip in 65,536 pass, and the number must be one of
 * the pages at hand besides.
 */
export function readStrip(samples: ArrayLike<number>): string | null {
  const cells = Array.from(samples, (sample) => sample > 0);
  const ends = [...cells.slice(0, 2), ...cells.slice(-2)];
  if (cells.length !== STRIP_CELLS || [...HEAD, ...TAIL].some((cell, at) => cell !== ends[at])) return null;
  const bits = cells.slice(2, -2).map((cell, at) => cell !== MASK(at));
  const body = bits.slice(0, BODY_BITS);
  if (Number(numberOf(bits.slice(BODY_BITS))) !== crc16(body)) return null;
  return numberOf(body)
    .toString(16)
    .padStart(BODY_BITS / 4, '0');
}

/** Sheet and page of a strip's number, or null where no such sheet exists. */
export function stripSheet(code: string): { readonly sheet: Sheet; readonly page: number } | null {
  const sheet = SHEETS[Number.parseInt(code.slice(0, 1), 16) - 1];
  return sheet === undefined ? null : { sheet, page: Number.parseInt(code.slice(1, 2), 16) };
}

/** `Kettle sheet, page 2`. */
export const sheetPage = ({ sheet, page }: { readonly sheet: Sheet; readonly page: number }): string =>
  `${{ kettle: 'Kettle sheet', cellar: 'Cellar sheet', card: 'Recipe card' }[sheet]}, page ${page}`;
