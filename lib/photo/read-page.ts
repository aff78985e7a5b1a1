import { cropOf } from './crop.ts';
import { decode, type Guess, textOf } from './decode.ts';
import { type FoundPage, findPage, type NotFound } from './find-page.ts';
import { type Grey, MAX_PIXELS, MIN_LONG_SIDE } from './grey.ts';
import { type Homography, moved, type Point } from './homography.ts';
import { classify, MARKED_CIRCLE, type Net } from './net.ts';
import { settle, steadied } from './settle.ts';
import { type BoxMm, type PhotoField, type PhotoPage, type Sheet, stripSheet } from './strip.ts';

/** One number of a blank. */
export interface GroupReading extends Guess {
  readonly part: PhotoField['groups'][number]['part'];
  /** As it is keyed in, signs in their places; empty for empty boxes; null where there is no guess. */
  readonly text: string | null;
  /** For each digit box what `classify` says. */
  readonly boxes: readonly (readonly number[])[];
}

/** What a photograph shows in one blank: a guess for a person to confirm, never a reading. */
export interface BlankReading {
  readonly id: string;
  readonly key: string;
  /** The blank in this picture, in millimetres of the paper: what `straighten` is asked to show. */
  readonly crop_mm: BoxMm;
  readonly groups: readonly GroupReading[];
  /** Probability that the "left out" circle is marked; null where the blank has none. */
  readonly leftOut: number | null;
}

export interface PageReading {
  readonly kind: 'read';
  readonly page: PhotoPage;
  /** From millimetres of the paper to pixels of the grey picture. */
  readonly view: Homography;
  readonly blanks: readonly BlankReading[];
}

/** Why a picture was not read. `other-page`: a page of this tool, but none of those at hand. */
export type Refusal =
  | { readonly kind: 'refused'; readonly code: NotFound | 'too-large' | 'too-small' }
  | {
      readonly kind: 'refused';
      readonly code: 'other-page';
      readonly strip: string;
      readonly shows: { readonly sheet: Sheet; readonly page: number } | null;
    };

/** White around a blank in its crop, for what is written beside the boxes. */
const AROUND_MM = { x: 3, y: 2 };

const shifted = ({ x, y, width, height }: BoxMm, by: Point): BoxMm => ({
  x: x + by.x,
  y: y + by.y,
  width,
  height,
});

const printedBoxes = ({ groups }: PhotoField): BoxMm[] =>
  groups
    .flatMap(({ cells }) => cells)
    .filter(({ kind }) => kind === 'digit' || kind === 'letter')
    .map(({ box_mm }) => box_mm);

function readBlank(
  grey: Grey,
  { view, black }: Pick<FoundPage, 'view' | 'black'>,
  net: Net,
  field: PhotoField,
  by: Point,
): BlankReading {
  const seen = (box: BoxMm, shows: 'box' | 'circle'): number[] =>
    classify(net, cropOf(grey, view, shifted(box, by), black), shows);
  const groups = field.groups.map((group): GroupReading => {
    const boxes = group.cells.filter(({ kind }) => kind === 'digit').map(({ box_mm }) => seen(box_mm, 'box'));
    const guess = decode(field.kind, group.part, boxes);
    const text = guess.digits === null ? null : textOf(group, guess.digits);
    return { part: group.part, text, boxes, ...guess };
  });
  const { x, y, width, height } = shifted(field.box_mm, by);
  const crop_mm = {
    x: x - AROUND_MM.x,
    y: y - AROUND_MM.y,
    width: width + 2 * AROUND_MM.x,
    height: height + 2 * AROUND_MM.y,
  };
  const leftOut = field.circle_mm === null ? null : seen(field.circle_mm, 'circle')[MARKED_CIRCLE]!;
  return { id: field.id, key: field.key, crop_mm, groups, leftOut };
}

/**
 * Reads a photographed page: which of `pages` it is by its strip, and for every blank where it stands and what
 * its boxes seem to say.
 *
 * A picture is refused, with a code, where it shows none of these pages whole. The same picture always gives the
 * same answer. About a second of work for 3 megapixels.
 */
export function readPage(grey: Grey, pages: readonly PhotoPage[], net: Net): PageReading | Refusal {
  if (grey.width * grey.height > MAX_PIXELS) return { kind: 'refused', code: 'too-large' };
  if (Math.max(grey.width, grey.height) < MIN_LONG_SIDE) return { kind: 'refused', code: 'too-small' };
  const found = findPage(grey, (code) => pages.some(({ strip }) => strip === code));
  if (typeof found === 'string') return { kind: 'refused', code: found };
  const page = pages.find(({ strip }) => strip === found.strip);
  const frame = page?.corner_marks_mm[0];
  if (page === undefined || frame === undefined)
    return { kind: 'refused', code: 'other-page', strip: found.strip, shows: stripSheet(found.strip) };
  const view = moved(found.view, -frame.x, -frame.y);
  const shifts = steadied(
    page.fields.map((field) => settle(grey, view, printedBoxes(field))),
    page.fields.map(({ box_mm }) => box_mm),
  );
  const blanks = page.fields.map((field, i) => readBlank(grey, { ...found, view }, net, field, shifts[i]!));
  return { kind: 'read', page, view, blanks };
}
