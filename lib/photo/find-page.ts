import { type Grey, half } from './grey.ts';
import { type Homography, homography, type Point, project, sampleAt } from './homography.ts';
import { CELL_MM, FRAME_MM, MARK_MM, readStrip, STRIP_CELLS, stripCellBox } from './strip.ts';

/** A page found in a picture. */
export interface FoundPage {
  /** From millimetres of the frame to pixels. */
  readonly view: Homography;
  readonly strip: string;
  /** Grey of solid black as a share of the white beside it. */
  readonly black: number;
}

/** Why no page was found: hardly anything dark, a mark out of the picture, marks without a strip, no marks. */
export type NotFound = 'blank' | 'cropped' | 'strip-unreadable' | 'not-found';

/** A dark part of the picture that could be a mark, with its second moments. */
interface Square extends Point {
  readonly area: number;
  readonly xx: number;
  readonly yy: number;
  readonly xy: number;
  /** Share of a true parallelogram that is dark: 1 for a solid square. */
  readonly fill: number;
}

/** Windows as a part of the longer side, and how much darker than its mean a mark is: usual, pale, in deep shadow. */
const THRESHOLDS = [
  { window: 1 / 22, below: 0.78 },
  { window: 1 / 40, below: 0.88 },
  { window: 1 / 14, below: 0.62 },
] as const;
/** Pixels of a mark in a picture of about a megapixel. */
const MARK_PIXELS = { least: 25, most: 3000 };
/** Squares nearest to solid that are tried with each other. */
const TRIED_SQUARES = 60;
const TRIED_CROPPED = 48;
const TRIED_FRAMES = 6;
const MAX_MISFIT = 1;
/** Below this it is a page, though its strip is not read. */
const GOOD_MISFIT = 0.5;

const [LEFT, RIGHT] = [MARK_MM / 2, FRAME_MM.width - MARK_MM / 2];
const [TOP, BOTTOM] = [MARK_MM / 2, FRAME_MM.height - MARK_MM / 2];
/** Centres of the marks, clockwise from the top left. */
const MARKS_MM: readonly Point[] = [
  { x: LEFT, y: TOP },
  { x: RIGHT, y: TOP },
  { x: RIGHT, y: BOTTOM },
  { x: LEFT, y: BOTTOM },
];

/** Height by width of the frame, and how many times more or less it can be seen at a slant. */
const SHAPE = (BOTTOM - TOP) / (RIGHT - LEFT);
const SLANTED = 1.4;

/** 1 where a pixel is darker than the mean of the window around it (Bradley and Roth 2007). */
function darkPixels({ width, height, pixels }: Grey, window: number, below: number): Uint8Array {
  const stride = width + 1;
  const sums = new Uint32Array(stride * (height + 1));
  for (let y = 0; y < height; y += 1)
    for (let x = 0, row = 0; x < width; x += 1) {
      row += pixels[y * width + x]!;
      sums[(y + 1) * stride + x + 1] = sums[y * stride + x + 1]! + row;
    }
  const dark = new Uint8Array(width * height);
  const reach = Math.round((Math.max(width, height) * window) / 2);
  for (let y = 0; y < height; y += 1) {
    const [y0, y1] = [Math.max(0, y - reach), Math.min(height, y + reach + 1)];
    for (let x = 0; x < width; x += 1) {
      const [x0, x1] = [Math.max(0, x - reach), Math.min(width, x + reach + 1)];
      const inside =
        sums[y1 * stride + x1]! - sums[y0 * stride + x1]! - sums[y1 * stride + x0]! + sums[y0 * stride + x0]!;
      const at = y * width + x;
      if (pixels[at]! * (x1 - x0) * (y1 - y0) < inside * below) dark[at] = 1;
    }
  }
  return dark;
}

/** Dark parts that hang together and whose second moments are those of a solid square, seen at a slant. */
function findSquares(grey: Grey, window: number, below: number): Square[] {
  const { width, height } = grey;
  const dark = darkPixels(grey, window, below);
  const stack = new Int32Array(width * height);
  const squares: Square[] = [];
  for (let start = 0; start < dark.length; start += 1) {
    if (dark[start] !== 1) continue;
    let [top, n, sx, sy, sxx, syy, sxy] = [0, 0, 0, 0, 0, 0, 0];
    const push = (at: number): void => {
      if (dark[at] !== 1) return;
      dark[at] = 2;
      stack[top++] = at;
    };
    push(start);
    while (top > 0) {
      const at = stack[--top]!;
      const [x, y] = [at % width, Math.floor(at / width)];
      n += 1;
      sx += x;
      sy += y;
      sxx += x * x;
      syy += y * y;
      sxy += x * y;
      if (x > 0) push(at - 1);
      if (x < width - 1) push(at + 1);
      if (y > 0) push(at - width);
      if (y < height - 1) push(at + width);
    }
    if (n < MARK_PIXELS.least || n > MARK_PIXELS.most) continue;
    const [x, y] = [sx / n, sy / n];
    // A pixel is itself a square of variance 1/12.
    const [xx, yy, xy] = [sxx / n - x * x + 1 / 12, syy / n - y * y + 1 / 12, sxy / n - x * y];
    const spread = Math.hypot((xx - yy) / 2, xy);
    const [long, short] = [(xx + yy) / 2 + spread, Math.max((xx + yy) / 2 - spread, 1e-6)];
    const fill = n / (12 * Math.sqrt(long * short));
    if (fill > 0.86 && fill < 1.12 && long / short < 4) squares.push({ x, y, area: n, xx, yy, xy, fill });
  }
  return squares.sort((a, b) => Math.abs(a.fill - 1) - Math.abs(b.fill - 1)).slice(0, TRIED_SQUARES);
}

/** Two squares that could be marks of one page: of one size, and as far apart as the short side, seen at a slant. */
const pairs = (a: Square, b: Square): boolean =>
  a.area < b.area * 3 && b.area < a.area * 3 && (a.x - b.x) ** 2 + (a.y - b.y) ** 2 > 20 ** 2 * a.area;

/** How far the marks' moments are from those of equal squares in this view: 0 is a perfect fit. */
function misfit(view: Homography, marks: readonly Square[]): number {
  const wanted = MARKS_MM.map(({ x, y }) => {
    const [a, b] = [project(view, x - 0.5, y), project(view, x + 0.5, y)];
    const [c, d] = [project(view, x, y - 0.5), project(view, x, y + 0.5)];
    const [ux, uy, vx, vy] = [b.x - a.x, b.y - a.y, d.x - c.x, d.y - c.y];
    return { xx: ux * ux + vx * vx, yy: uy * uy + vy * vy, xy: ux * uy + vx * vy };
  });
  const spread = (all: readonly { xx: number; yy: number }[]) => all.reduce((sum, m) => sum + m.xx + m.yy, 0);
  // Blur and threshold make all marks a little larger or smaller.
  const scale = spread(marks) / spread(wanted);
  return wanted.reduce((sum, { xx, yy, xy }, i) => {
    const mark = marks[i]!;
    const off =
      Math.abs(mark.xx - scale * xx) + Math.abs(mark.yy - scale * yy) + 2 * Math.abs(mark.xy - scale * xy);
    return sum + off / (scale * (xx + yy));
  }, 0);
}

/** Four squares that could be the marks, clockwise from the top left or the bottom right. */
interface Frame {
  readonly error: number;
  readonly marks: readonly Square[];
}

const turned = <T>(ring: readonly T[], by: number): T[] => [...ring.slice(by), ...ring.slice(0, by)];

/** Four squares as frames, where their area fits their size: standing or lying, with how badly each fits. */
function framesOf(squares: readonly Square[]): Frame[] {
  const sum = (of: (square: Square, i: number) => number): number =>
    squares.reduce((total, square, i) => total + of(square, i), 0);
  const [mx, my, side] = [
    sum(({ x }) => x) / 4,
    sum(({ y }) => y) / 4,
    sum(({ area }) => Math.sqrt(area)) / 4,
  ];
  const ring = [...squares].sort((a, b) => Math.atan2(a.y - my, a.x - mx) - Math.atan2(b.y - my, b.x - mx));
  const twice = sum((_, i) => ring[i]!.x * ring[(i + 1) % 4]!.y - ring[(i + 1) % 4]!.x * ring[i]!.y);
  const wanted = ((RIGHT - LEFT) * (BOTTOM - TOP) * side ** 2) / MARK_MM ** 2;
  if (twice / 2 < wanted * 0.55 || twice / 2 > wanted * 1.7) return [];
  const length = (i: number): number => {
    const [a, b] = [ring[i % 4]!, ring[(i + 1) % 4]!];
    return Math.hypot(a.x - b.x, a.y - b.y);
  };
  return [0, 1].flatMap((by) => {
    const shape = (length(by + 1) + length(by + 3)) / (length(by) + length(by + 2)) / SHAPE;
    if (shape < 1 / SLANTED || shape > SLANTED) return [];
    const marks = turned(ring, by);
    const view = homography(MARKS_MM, marks);
    const error = view === null ? MAX_MISFIT : misfit(view, marks);
    return error < MAX_MISFIT ? [{ error, marks }] : [];
  });
}

/** The frames that squares could make, best fit first, and how well three fit whose fourth lies outside the picture. */
function findFrames(
  { width, height }: Grey,
  squares: readonly Square[],
): { frames: Frame[]; cropped: number } {
  const frames: Frame[] = [];
  let cropped = MAX_MISFIT;
  for (const [i, a] of squares.entries())
    for (const [j, b] of squares.entries()) {
      if (j <= i || !pairs(a, b)) continue;
      for (let k = j + 1; k < squares.length; k += 1) {
        const c = squares[k]!;
        if (!pairs(a, c) || !pairs(b, c)) continue;
        for (const d of squares.slice(k + 1))
          if (pairs(a, d) && pairs(b, d) && pairs(c, d)) frames.push(...framesOf([a, b, c, d]));
        if (k >= TRIED_CROPPED) continue;
        for (const [p, q, r] of [
          [a, b, c],
          [b, c, a],
          [c, a, b],
        ] as const) {
          const fourth = { ...q, x: p.x + r.x - q.x, y: p.y + r.y - q.y };
          if (fourth.x > 0 && fourth.y > 0 && fourth.x < width && fourth.y < height) continue;
          for (const { error } of framesOf([p, q, r, fourth])) cropped = Math.min(cropped, error);
        }
      }
    }
  return { frames: frames.sort((a, b) => a.error - b.error).slice(0, TRIED_FRAMES), cropped };
}

/** The centre of a dark square to a part of a pixel: the mean place of what is darker than half way. */
function refine({ width, height, pixels }: Grey, start: Point, side: number): Point {
  let { x, y } = start;
  const reach = Math.ceil(side * 0.95);
  for (let pass = 0; pass < 3; pass += 1) {
    const near: Point[] = [];
    for (let j = Math.max(0, Math.round(y - reach)); j <= Math.min(height - 1, Math.round(y + reach)); j += 1)
      for (
        let i = Math.max(0, Math.round(x - reach));
        i <= Math.min(width - 1, Math.round(x + reach));
        i += 1
      )
        near.push({ x: i, y: j });
    const greys = near.map((at) => pixels[at.y * width + at.x]!);
    const middle = (Math.min(...greys) + Math.max(...greys)) / 2;
    const depths = greys.map((grey) => Math.max(0, middle - grey));
    const sum = depths.reduce((total, depth) => total + depth, 0);
    if (sum === 0) break;
    x = near.reduce((total, at, i) => total + depths[i]! * at.x, 0) / sum;
    y = near.reduce((total, at, i) => total + depths[i]! * at.y, 0) / sum;
  }
  return { x, y };
}

/** A bent page bows its lower edge, and a bow seen from above crowds the cells to one side. */
const BOWS_MM = [0, -0.7, 0.7, -1.4, 1.4];
const CROWDINGS_MM = [0, -1, 1];

/** The strip's number where its cells are black and white enough, and the CRC fits; else null. */
function stripIn(grey: Grey, view: Homography): string | null {
  for (const crowding of CROWDINGS_MM)
    for (const bow of BOWS_MM) {
      const cells: number[] = [];
      const above: number[] = [];
      for (let cell = 0; cell < STRIP_CELLS; cell += 1) {
        const box = stripCellBox(cell);
        const along = ((cell + 0.5) / STRIP_CELLS) * 4 * (1 - (cell + 0.5) / STRIP_CELLS);
        const [x, y] = [box.x + crowding * along, box.y + CELL_MM / 2 + bow * along];
        let sum = 0;
        for (const dy of [-0.6, -0.2, 0.2, 0.6])
          for (const dx of [0.5, 1, 1.5, 2]) sum += sampleAt(grey, view, x + dx, y + dy);
        cells.push(sum / 16);
        above.push(sampleAt(grey, view, x + CELL_MM / 2, y - 2.2));
      }
      const shares = cells.map((value, i) => value / Math.max(1, ...above.slice(Math.max(0, i - 4), i + 5)));
      const darkest = Math.min(...shares);
      const code = darkest < 0.75 ? readStrip(shares.map((share) => (1 + darkest) / 2 - share)) : null;
      if (code !== null) return code;
    }
  return null;
}

function blackness(grey: Grey, view: Homography): number {
  const shares = MARKS_MM.map(({ x, y }) => {
    let dark = 0;
    for (const dx of [-1, -0.5, 0, 0.5, 1])
      for (const dy of [-1, -0.5, 0, 0.5, 1]) dark += sampleAt(grey, view, x + dx, y + dy) / 25;
    const beside = [-3.2, 3.2].flatMap((d) => [
      sampleAt(grey, view, x + d, y),
      sampleAt(grey, view, x, y + d),
    ]);
    return dark / Math.max(1, ...beside);
  });
  return Math.min(0.5, shares.reduce((sum, share) => sum + share, 0) / shares.length);
}

/**
 * The page in a picture, by its four marks and its strip; the right way up whichever way the phone was held.
 *
 * Only the strip's CRC is trusted: squares alone are found in tables, tiles and text too. A strip that is not
 * `known` is the answer only where no known one is found.
 */
export function findPage(grey: Grey, known: (strip: string) => boolean): FoundPage | NotFound {
  const scale = grey.width * grey.height > 1500 * 1500 ? 2 : 1;
  const small = scale === 2 ? half(grey) : grey;
  let other: FoundPage | null = null;
  let [squareCount, framed, cropped] = [0, MAX_MISFIT, MAX_MISFIT];
  for (const { window, below } of THRESHOLDS) {
    const squares = findSquares(small, window, below);
    squareCount += squares.length;
    const tried = findFrames(small, squares);
    for (const { error, marks: frame } of tried.frames) {
      framed = Math.min(framed, error);
      for (const marks of [frame, turned(frame, 2)]) {
        const centres = marks.map(({ x, y, area }) =>
          refine(grey, { x: (x + 0.5) * scale - 0.5, y: (y + 0.5) * scale - 0.5 }, Math.sqrt(area) * scale),
        );
        const view = homography(MARKS_MM, centres);
        const strip = view && stripIn(grey, view);
        if (view === null || strip === null) continue;
        const found = { view, strip, black: blackness(grey, view) };
        if (known(strip)) return found;
        other ??= found;
      }
    }
    if (other !== null) return other;
    cropped = Math.min(cropped, tried.cropped);
  }
  if (Math.min(framed, cropped) < GOOD_MISFIT) return cropped < framed ? 'cropped' : 'strip-unreadable';
  return squareCount === 0 ? 'blank' : 'not-found';
}
