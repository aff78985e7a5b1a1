import type { Grey } from '../../../lib/photo/grey.ts';
import {
  type BoxMm,
  CELL_MM,
  FRAME_MM,
  MARK_MM,
  type PhotoCell,
  type PhotoField,
  type PhotoPage,
  STRIP_CELLS,
  type StripPage,
  stripCellBox,
  stripCode,
  stripDigits,
} from '../../../lib/photo/strip.ts';
import {
  CIRCLE_MARKS,
  CROSSINGS,
  type Hands,
  type Layer,
  PEN_ONLY,
  scribble,
  stamp,
  type Writer,
  writeDigit,
  writerFrom,
} from './handwriting.ts';
import type { Random } from './random.ts';

/** The cells of a strip as the paper draws them from its digits, true where black. */
export const stripCells = (page: StripPage): readonly boolean[] =>
  [...stripDigits(page)].flatMap((digit) =>
    [8, 4, 2, 1].map((bit) => (Number.parseInt(digit, 16) & bit) > 0),
  );

/** Pixels a millimetre of printed and written layers. */
export const PER_MM = 8;

export const layerFor = (
  { paper_mm: { width, height } }: Pick<PhotoPage, 'paper_mm'>,
  perMm = PER_MM,
): Layer => ({
  width: Math.round(width * perMm),
  height: Math.round(height * perMm),
  perMm,
  values: new Float32Array(Math.round(width * perMm) * Math.round(height * perMm)),
});

/** What a picture of a printed page shows, at `PER_MM`. */
export function layerOf({ width, pixels }: Grey, page: PhotoPage): Layer {
  const layer = layerFor(page);
  for (let at = 0; at < layer.values.length; at += 1) {
    const y = Math.floor(at / layer.width);
    layer.values[at] = 1 - (pixels[y * width + (at % layer.width)] ?? 255) / 255;
  }
  return layer;
}

const A4_MM = { width: 210, height: 297 };
/** A batch of the tests' own. */
export const BATCH = { slug: 'lock-house', revision: '3f9c' };

type Row = readonly {
  readonly kind: PhotoField['kind'];
  readonly pattern: string;
  readonly small?: boolean;
}[];

/** Rows as the real sheets have them. */
const SHEET_ROWS: readonly Row[] = [
  [
    { kind: 'clock', pattern: '##:##' },
    { kind: 'temperature', pattern: '##' },
    { kind: 'volume', pattern: '##.#' },
  ],
  [
    { kind: 'gravity', pattern: '#.###' },
    { kind: 'mass', pattern: '###' },
    { kind: 'count', pattern: '##' },
  ],
  [
    { kind: 'clock', pattern: '##:##', small: true },
    { kind: 'gravity', pattern: '#.###', small: true },
  ],
  [
    { kind: 'score', pattern: '#.#' },
    { kind: 'volume', pattern: '##.#' },
    { kind: 'clock', pattern: '##:##' },
  ],
];
/** As many boxes as fit, to train with. */
const DENSE_ROWS: readonly Row[] = [
  Array.from({ length: 4 }, () => ({ kind: 'count', pattern: '####' }) as const),
  Array.from({ length: 5 }, () => ({ kind: 'count', pattern: '#.###', small: true }) as const),
  Array.from({ length: 6 }, () => ({ kind: 'count', pattern: '##:#', small: true }) as const),
];

/** A page of blanks drawn by this generator: `sheet` like the real ones, `dense` to train with. */
export function drawnPage(layout: 'sheet' | 'dense', page = 1, batch = BATCH): PhotoPage {
  const rows = layout === 'sheet' ? SHEET_ROWS : DENSE_ROWS;
  const [left, top] = [(A4_MM.width - FRAME_MM.width) / 2, (A4_MM.height - FRAME_MM.height) / 2];
  const pitch = layout === 'sheet' ? 19 : 12.5;
  const fields: PhotoField[] = [];
  for (let y = top + 10; y + 14 < top + FRAME_MM.height - 8; y += pitch) {
    const row = rows[Math.round((y - top - 10) / pitch) % rows.length]!;
    row.forEach(({ kind, pattern, small = false }, column) => {
      const [width, height] = small ? [6, 9] : [8, 10];
      const start = left + 4 + (column * (FRAME_MM.width - 6)) / row.length;
      let x = start;
      const cells = [...pattern].map((sign): PhotoCell => {
        const cell = sign === '#' ? width : 3;
        const box_mm = { x, y, width: cell, height };
        x += cell;
        return { kind: sign === '#' ? 'digit' : 'sign', text: sign === '#' ? '' : sign, box_mm };
      });
      const id = `A${fields.length + 1}`;
      const circle_mm = { x: x + 2, y: y + (height - 4.2) / 2, width: 4.2, height: 4.2 };
      const box_mm = { x: start, y, width: x - start, height };
      fields.push({ id, key: id, kind, groups: [{ part: 'value', cells }], box_mm, circle_mm });
    });
  }
  const corner_marks_mm = [0, FRAME_MM.height - MARK_MM].flatMap((dy) =>
    [0, FRAME_MM.width - MARK_MM].map((dx) => ({
      x: left + dx,
      y: top + dy,
      width: MARK_MM,
      height: MARK_MM,
    })),
  );
  const strip = stripCode({ sheet: 'kettle', page, ...batch });
  return { sheet: 'kettle', page, strip, paper_mm: A4_MM, corner_marks_mm, fields };
}

function fillBox({ width, perMm, values }: Layer, box: BoxMm, value: number): void {
  const [x0, x1] = [Math.round(box.x * perMm), Math.round((box.x + box.width) * perMm)];
  for (let y = Math.round(box.y * perMm); y < Math.round((box.y + box.height) * perMm); y += 1)
    values.fill(value, y * width + x0, y * width + x1);
}

function frameBox(layer: Layer, { x, y, width, height }: BoxMm, line: number, value: number): void {
  fillBox(layer, { x, y, width, height: line }, value);
  fillBox(layer, { x, y: y + height - line, width, height: line }, value);
  fillBox(layer, { x, y, width: line, height }, value);
  fillBox(layer, { x: x + width - line, y, width: line, height }, value);
}

function ring({ width, perMm, values }: Layer, box: BoxMm, line: number): void {
  const [cx, cy, radius] = [box.x + box.width / 2, box.y + box.height / 2, (box.width - line) / 2];
  for (let y = Math.floor(box.y * perMm); y <= (box.y + box.height) * perMm; y += 1)
    for (let x = Math.floor(box.x * perMm); x <= (box.x + box.width) * perMm; x += 1) {
      const off = Math.abs(Math.hypot((x + 0.5) / perMm - cx, (y + 0.5) / perMm - cy) - radius);
      const value = Math.min(1, Math.max(0, (line / 2 - off) * perMm + 0.5));
      values[y * width + x] = Math.max(values[y * width + x]!, value);
    }
}

/** Marks, strip, boxes, signs and circles of a page, with printed words about where there are any. */
export function printPage(
  page: PhotoPage,
  random: Random,
  { print }: Hands,
  {
    batch = BATCH,
    perMm = PER_MM,
    cells = stripCells({ ...page, ...batch }),
  }: { batch?: typeof BATCH; perMm?: number; cells?: readonly boolean[] } = {},
): Layer {
  const layer = layerFor(page, perMm);
  const [frame] = page.corner_marks_mm;
  for (const mark of page.corner_marks_mm) fillBox(layer, mark, 1);
  for (let cell = 0; cell < STRIP_CELLS; cell += 1) {
    const { x, y } = stripCellBox(cell);
    if (cells[cell]) fillBox(layer, { x: x + frame!.x, y: y + frame!.y, width: CELL_MM, height: CELL_MM }, 1);
  }
  const [line, shade] = [random.between(0.12, 0.35), random.between(0.3, 1)];
  for (const { groups, circle_mm, box_mm } of page.fields) {
    for (const { kind, text, box_mm: box } of groups.flatMap(({ cells: all }) => all)) {
      if (kind === 'digit' || kind === 'letter') frameBox(layer, box, line, shade);
      const dots = kind !== 'sign' ? [] : text === ':' ? [0.35, 0.75] : [0.85];
      for (const part of dots)
        fillBox(layer, { x: box.x + 0.9, y: box.y + box.height * part - 0.6, width: 1.2, height: 1.2 }, 1);
    }
    if (circle_mm) ring(layer, circle_mm, random.between(0.2, 0.35));
    const y =
      box_mm.y + (random.chance(0.5) ? -random.between(0.6, 2) : box_mm.height + random.between(0.6, 2));
    if (random.chance(0.3)) fillBox(layer, { ...box_mm, y, height: 0.3 }, 1);
    if (print.length === 0) continue;
    const beside = { x: box_mm.x + box_mm.width + 8.7, y: box_mm.y + 7 };
    if (random.chance(0.5))
      stamp(layer, random, random.pick(print), { ...beside, height: 3.6, widest: 4 }, null);
    const above = { x: box_mm.x + random.between(5, 25), y: box_mm.y - random.between(1.7, 2.2) };
    if (random.chance(0.5))
      stamp(layer, random, random.pick(print), { ...above, height: 2.6, widest: 30 }, null);
  }
  return layer;
}

/** What a page can be that is none of those at hand; `foreign` has the marks, and cells in no order of ours. */
export const STRANGERS = ['other batch', 'other revision', 'other page', 'foreign'] as const;

/** A printed page, and pages at hand of which it is none. */
export function strangePage(
  random: Random,
  kind: (typeof STRANGERS)[number],
): { readonly layer: Layer; readonly atHand: readonly PhotoPage[] } {
  const own = { slug: `lock-${random.below(1000)}`, revision: random.below(1e6).toString(16) };
  const [shown, perMm] = [1 + random.below(4), 6];
  const page = drawnPage('sheet', shown, own);
  const others = Array.from({ length: 10 }, (_, nth) =>
    kind === 'other batch'
      ? { ...own, slug: `${own.slug}-${nth}` }
      : { ...own, revision: `${own.revision}${nth}` },
  );
  const atHand = [...(kind === 'other page' || kind === 'foreign' ? [own] : []), ...others].flatMap((batch) =>
    [1, 2, 3, 4]
      .filter((at) => kind !== 'other page' || at !== shown)
      .map((at) => ({
        ...page,
        page: at,
        strip: stripCode({ sheet: 'kettle', page: at, ...batch }),
        fields: [],
      })),
  );
  const cells = Array.from({ length: STRIP_CELLS }, () => random.chance(0.5));
  const foreign = kind === 'foreign' ? { cells } : {};
  return { layer: printPage(page, random, PEN_ONLY, { batch: own, perMm, ...foreign }), atHand };
}

/** What was written into one blank. */
export interface Truth {
  /** For each group one sign a digit box: the digit, a space, `x` for what was crossed out or overwritten. */
  readonly digits: readonly string[];
  readonly circle: boolean;
}

export interface Written {
  readonly ink: Layer;
  readonly writer: string;
  /** By the blank's number. */
  readonly truth: ReadonlyMap<string, Truth>;
}

const two = (value: number): string => String(value).padStart(2, '0');

/** Digits as they would be written into so many boxes, spaces where a leading box is left empty. */
function likelyValue(random: Random, { kind, key }: PhotoField, part: string, length: number): string {
  if (part === 'clock' || (kind === 'clock' && length === 4))
    return `${two(random.chance(0.8) ? 8 + random.below(15) : random.below(24))}${two(random.below(60))}`;
  if (part === 'day') return two(1 + random.below(31));
  if (kind === 'gravity' && part === 'value') return String(994 + random.below(118)).padStart(4, '0');
  if (kind === 'score') return two(10 + random.below(41));
  const most = kind === 'temperature' && /steep|mash/.test(key) ? 78 : Math.min(10 ** length, 300);
  const digits = String(1 + random.below(most - 1));
  return digits.padStart(length, random.chance(0.4) ? '0' : ' ').slice(-length);
}

/** Any digits at all, each as often as another: to train with, so that no value is learnt. */
const anyValue = (random: Random, _field: PhotoField, _part: string, length: number): string =>
  Array.from({ length }, () => (random.chance(0.1) ? ' ' : random.below(10))).join('');

/** Fills in a page: most blanks, some left out by their circle, some empty, some corrected; stray words beside. */
export function fillPage(
  page: PhotoPage,
  random: Random,
  hands: Hands,
  use: 'train' | 'test',
  perMm = PER_MM,
): Written {
  const ink = layerFor(page, perMm);
  const truth = new Map<string, Truth>();
  const circles = new Map<string, boolean>();
  let writer = writerFrom(random, hands, use);
  const value = use === 'train' ? anyValue : likelyValue;
  const corrected = use === 'train' ? 0.2 : 0.05;
  const stray = (at: { x: number; y: number }, height: number): void => {
    if (writer.hand !== null && writer.hand.words.length > 0)
      stamp(ink, random, random.pick(writer.hand.words), { ...at, height, widest: 40 }, writer);
    else writeDigit(ink, random, writer, random.below(10), { ...at, height, widest: 8 });
  };
  for (const field of page.fields) {
    if (use === 'train' && random.chance(0.4)) writer = writerFrom(random, hands, use);
    const state = random.unit();
    const circle = field.circle_mm;
    const place = circle && `${circle.x} ${circle.y}`;
    if (circle && place !== null && !circles.has(place)) {
      circles.set(place, state > (use === 'train' ? 0.6 : 0.95));
      const [x, y] = [circle.x + 2.1 + random.normal(0.3), circle.y + 2.1 + random.normal(0.3)];
      const size = random.between(3, 5.2);
      if (circles.get(place))
        scribble(ink, random, writer, random.pick(CIRCLE_MARKS), { x, y, height: size, widest: size });
    }
    const marked = place !== null && circles.get(place) === true;
    const empty = use === 'train' ? false : marked || state < 0.05;
    const digits = field.groups.map(({ part, cells }) => {
      const boxes = cells.filter(({ kind }) => kind === 'digit');
      const text = empty ? ' '.repeat(boxes.length) : value(random, field, part, boxes.length);
      const wrong = !empty && random.chance(corrected) ? random.below(boxes.length) : -1;
      const shown = boxes.map(({ box_mm }, i) =>
        writeBox(ink, random, writer, box_mm, text[i]!, i === wrong),
      );
      const last = boxes.at(-1)?.box_mm;
      if (wrong >= 0 && last && (use === 'test' || random.chance(0.5)))
        stray({ x: last.x + last.width + 7, y: last.y + 4 }, 6);
      return shown.join('');
    });
    truth.set(field.id, { digits, circle: marked });
  }
  if (random.chance(0.5))
    stray({ x: random.between(60, 180), y: random.between(60, 250) }, random.between(4, 7));
  return { ink, writer: writer.name, truth };
}

/** Writes one sign into its box, or something that is no digit; says which. */
function writeBox(
  ink: Layer,
  random: Random,
  writer: Writer,
  box: BoxMm,
  sign: string,
  wrong: boolean,
): string {
  if (sign === ' ' && !wrong) return ' ';
  const { size, sloppy } = writer;
  const x = box.x + box.width / 2 + random.normal(0.5) * sloppy;
  const y = box.y + box.height / 2 + random.normal(0.45) * sloppy;
  const height = Math.min(box.height * size * random.between(0.9, 1.1), box.height * 1.05);
  const place = { x, y, height, widest: box.width * (0.92 + 0.2 * sloppy) };
  const digit = sign === ' ' ? random.below(10) : Number(sign);
  writeDigit(ink, random, writer, digit, place);
  if (!wrong) return sign;
  // Overwritten by another digit, or crossed out.
  if (random.chance(0.35)) writeDigit(ink, random, writer, (digit + 1 + random.below(9)) % 10, place);
  else
    scribble(ink, random, writer, random.pick(CROSSINGS), {
      ...place,
      height: box.height * random.between(0.7, 1),
    });
  return 'x';
}
