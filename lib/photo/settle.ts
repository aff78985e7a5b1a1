import type { Grey } from './grey.ts';
import { type Homography, type Point, sampleAt, solve } from './homography.ts';
import type { BoxMm, PhotoPage } from './strip.ts';

/** How far a curled page and a lens move a box off its place, and how far off a smooth page's a box's place may be. */
const REACH_MM = { first: 3.2, second: 0.8 };
const STEP_MM = 0.1;
/** From a box's outer edge to the middle of its line. */
const HALF_LINE_MM = 0.12;
/** White beside a line, far enough from a line of 0.35 mm. */
const BESIDE = 5;
/** A little for the nearer of two equal fits. */
const PER_MM = 0.004;

const steps = (from: number, to: number): number[] =>
  Array.from({ length: Math.round((to - from) / STEP_MM) + 1 }, (_, i) => from + i * STEP_MM);

/**
 * The shift at which a profile is darkest on the lines and white beside them.
 *
 * Only the weaker half of the lines counts: a table's black rule beside a thin grey box outshines all of its lines.
 */
function bestShift(
  profile: readonly number[],
  from: number,
  lines: readonly number[],
  reach: number,
): number {
  const white = Math.max(...profile, 1);
  let [best, shift] = [Number.NEGATIVE_INFINITY, 0];
  for (const tried of steps(-reach, reach)) {
    const depths = lines.map((line) => {
      const at = Math.round((line + tried - from) / STEP_MM);
      const beside = (profile[at - BESIDE]! + profile[at + BESIDE]!) / 2;
      return (beside - (profile[at - 1]! + profile[at]! * 2 + profile[at + 1]!) / 4) / white;
    });
    const weaker = depths.sort((a, b) => a - b).slice(0, Math.ceil(lines.length / 2));
    const score = weaker.reduce((sum, depth) => sum + depth, 0) / weaker.length - Math.abs(tried) * PER_MM;
    if (score > best) [best, shift] = [score, tried];
  }
  return shift;
}

/**
 * How far the boxes of one blank stand from where `fields.json` puts them, in millimetres.
 *
 * Their printed lines are matched with the picture, first down and then across, twice. The answer lies within
 * `reach` of `about` each way.
 */
export function settle(
  grey: Grey,
  view: Homography,
  boxes: readonly BoxMm[],
  about: Point = { x: 0, y: 0 },
  reach = REACH_MM.first,
): Point {
  const edges = (near: number, far: number): number[] => [near + HALF_LINE_MM, far - HALF_LINE_MM];
  const unique = (values: number[]): number[] => [
    ...new Set(values.map((value) => Math.round(value * 20) / 20)),
  ];
  const xs = unique(boxes.flatMap(({ x, width }) => edges(x + about.x, x + about.x + width)));
  const ys = unique(boxes.flatMap(({ y, height }) => edges(y + about.y, y + about.y + height)));
  const room = reach + (BESIDE + 1) * STEP_MM;
  const [x0, x1] = [Math.min(...xs) - room, Math.max(...xs) + room];
  const [y0, y1] = [Math.min(...ys) - room, Math.max(...ys) + room];
  const [top, height] = [Math.min(...ys), Math.max(...ys) - Math.min(...ys)];
  let [dx, dy] = [0, 0];
  for (let pass = 0; pass < 2; pass += 1) {
    const down = steps(y0, y1).map((y) => {
      let sum = 0;
      for (const box of boxes)
        for (const part of [0.2, 0.35, 0.5, 0.65, 0.8])
          sum += sampleAt(grey, view, box.x + about.x + dx + box.width * part, y);
      return sum;
    });
    dy = bestShift(down, y0, ys, reach);
    const across = steps(x0, x1).map((x) => {
      let sum = 0;
      for (const part of [0.08, 0.2, 0.35, 0.5, 0.65, 0.8, 0.92])
        sum += sampleAt(grey, view, x, top + dy + height * part);
      return sum;
    });
    dx = bestShift(across, x0, xs, reach);
  }
  return { x: about.x + dx, y: about.y + dy };
}

/** From the middle of a page, in about half its width: a shift, a slant, a bow and, of third order, a lens. */
const MIDDLE = { x: 105, y: 148, unit: 100 };
const terms = (at: Point): number[] => {
  const [u, v] = [(at.x - MIDDLE.x) / MIDDLE.unit, (at.y - MIDDLE.y) / MIDDLE.unit];
  const square = u * u + v * v;
  return [1, u, v, u * u, u * v, v * v, u * square, v * square];
};
/** A shift so far from the others' weighs a quarter. */
const USUAL_MM = 0.4;
/** Few blanks say little of a page's shape: each term costs a little. */
const STIFFNESS = 0.02;
const PASSES = 5;

/** A smooth shift over a whole page through the shifts at some places of it; those that fit worst weigh least. */
export function smoothShift(at: readonly Point[], shifts: readonly Point[]): (place: Point) => Point {
  const rows = at.map(terms);
  const count = terms(MIDDLE).length;
  let [bends, weights]: [Record<'x' | 'y', number[]>, number[]] = [{ x: [], y: [] }, rows.map(() => 1)];
  const shiftAt = (row: readonly number[], axis: 'x' | 'y'): number =>
    row.reduce((sum, term, i) => sum + term * (bends[axis][i] ?? 0), 0);
  for (let pass = 0; pass < PASSES; pass += 1) {
    const sums = (of: (row: readonly number[], k: number) => number): number =>
      rows.reduce((sum, row, k) => sum + weights[k]! * of(row, k), 0);
    const bendOf = (axis: 'x' | 'y'): number[] =>
      solve(
        Array.from({ length: count }, (_, i) => [
          ...Array.from(
            { length: count },
            (_term, j) => sums((row) => row[i]! * row[j]!) + (i === j ? STIFFNESS : 0),
          ),
          sums((row, k) => row[i]! * shifts[k]![axis]),
        ]),
      ) ?? [];
    bends = { x: bendOf('x'), y: bendOf('y') };
    weights = rows.map((row, k) => {
      const off = Math.hypot(shifts[k]!.x - shiftAt(row, 'x'), shifts[k]!.y - shiftAt(row, 'y'));
      return 1 / (1 + (off / USUAL_MM) ** 2) ** 2;
    });
  }
  return (place) => ({ x: shiftAt(terms(place), 'x'), y: shiftAt(terms(place), 'y') });
}

const middleOf = ({ x, y, width, height }: BoxMm): Point => ({ x: x + width / 2, y: y + height / 2 });

/** How far each blank of a page stands off its place: on its own printed lines, near where a smooth page has them. */
export function settlePage(grey: Grey, view: Homography, { fields, corner_marks_mm }: PhotoPage): Point[] {
  const printed = fields.map(({ groups }) =>
    groups
      .flatMap(({ cells }) => cells)
      .filter(({ kind }) => kind === 'digit' || kind === 'letter')
      .map(({ box_mm }) => box_mm),
  );
  const first = fields.flatMap(({ box_mm }, i) =>
    printed[i]!.length === 0 ? [] : [{ at: middleOf(box_mm), by: settle(grey, view, printed[i]!) }],
  );
  // The marks are where the view has them.
  const marks = corner_marks_mm.map((mark) => ({ at: middleOf(mark), by: { x: 0, y: 0 } }));
  const all = [...first, ...marks];
  const smooth = smoothShift(
    all.map(({ at }) => at),
    all.map(({ by }) => by),
  );
  return fields.map(({ box_mm }, i) => {
    const about = smooth(middleOf(box_mm));
    return printed[i]!.length === 0 ? about : settle(grey, view, printed[i]!, about, REACH_MM.second);
  });
}
