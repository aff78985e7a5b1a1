import { cropOf, straighten, whitened } from './crop.ts';
import { decode, type Guess, textOf } from './decode.ts';
import { type FoundPage, findPage, type NotFound } from './find-page.ts';
import type { Grey, WrongSize } from './grey.ts';
import { type Homography, moved, type Point } from './homography.ts';
import { classify, MARKED_CIRCLE, type Net } from './net.ts';
import { settlePage } from './settle.ts';
import { type BoxMm, type PhotoField, type PhotoPage, sheetPage, stripSheet } from './strip.ts';

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
  /** The blank and a little around it, straight and on white. */
  readonly crop: Grey;
  readonly groups: readonly GroupReading[];
  /** Probability that the "left out" circle is marked, zero beside a number; null where the blank has no circle. */
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
  | { readonly kind: 'refused'; readonly code: NotFound | WrongSize | 'no-picture' | 'video' }
  | { readonly kind: 'refused'; readonly code: 'other-page'; readonly shows: ReturnType<typeof stripSheet> };

const REFUSED: { readonly [C in Exclude<Refusal['code'], 'other-page'>]: string } = {
  'too-large': 'It has more than 110 megapixels. Take it again with the usual setting of the camera.',
  'too-small': 'It has fewer than 1,000 pixels along its longer side, too few for digits. Take it closer.',
  'no-picture': 'It cannot be opened as a picture. A JPEG from a phone’s camera always can.',
  video: 'It is a video. Take a photograph of each page.',
  blank: 'Nothing dark is on it: no page of a sheet, or one too pale to be seen.',
  cropped:
    'A corner of the page is cut off or hidden. All four black squares in the corners and the strip of cells at the foot have to be seen.',
  'strip-unreadable':
    'A page is there, but the strip of cells at its foot cannot be read: it is covered, blurred or in glare.',
  'not-found':
    'No page of a sheet was found. Lay it flat in even light and take it from straight above, all four corners in.',
};

/** Why a picture was not read, and what helps. `atHand` says which pages were looked for. */
export function refusalText(refusal: Refusal, atHand: string): string {
  if (refusal.code !== 'other-page') return REFUSED[refusal.code];
  const what = refusal.shows === null ? 'a page of an unknown sheet' : sheetPage(refusal.shows).toLowerCase();
  return `It shows ${what}, but of another batch or of another print. Looked for: ${atHand}.`;
}

/** White around a blank in its crop, for what is written beside the boxes. */
const AROUND_MM = { x: 3, y: 2 };
const CROP_PER_MM = 6;
const PAGE_PER_MM = 5;

const shifted = ({ x, y, width, height }: BoxMm, by: Point): BoxMm => ({
  x: x + by.x,
  y: y + by.y,
  width,
  height,
});

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
  const around = {
    x: x - AROUND_MM.x,
    y: y - AROUND_MM.y,
    width: width + 2 * AROUND_MM.x,
    height: height + 2 * AROUND_MM.y,
  };
  const crop = whitened(straighten(grey, view, around, CROP_PER_MM));
  // What is written in the boxes may run on into the circle, and does not mark it.
  const isEmpty = groups.every(({ text }) => text === '');
  const leftOut = field.circle_mm && (isEmpty ? seen(field.circle_mm, 'circle')[MARKED_CIRCLE]! : 0);
  return { id: field.id, key: field.key, crop, groups, leftOut };
}

/**
 * Reads a photographed page: which of `pages` it is by its strip, and for every blank where it stands and what
 * its boxes seem to say.
 *
 * A picture is refused, with a code, where it shows none of these pages whole. The same picture always gives the
 * same answer. About a second of work for 3 megapixels.
 */
export function readPage(grey: Grey, pages: readonly PhotoPage[], net: Net): PageReading | Refusal {
  const found = findPage(grey, (code) => pages.some(({ strip }) => strip === code));
  if (typeof found === 'string') return { kind: 'refused', code: found };
  const page = pages.find(({ strip }) => strip === found.strip);
  const frame = page?.corner_marks_mm[0];
  if (page === undefined || frame === undefined)
    return { kind: 'refused', code: 'other-page', shows: stripSheet(found.strip) };
  const view = moved(found.view, -frame.x, -frame.y);
  const shifts = settlePage(grey, view, page);
  const blanks = page.fields.map((field, i) => readBlank(grey, { ...found, view }, net, field, shifts[i]!));
  return { kind: 'read', page, view, blanks };
}

/** The whole page as it would look from straight above, to be kept. */
export const wholePage = (grey: Grey, { view, page }: PageReading): Grey =>
  straighten(grey, view, { x: 0, y: 0, ...page.paper_mm }, PAGE_PER_MM);
