import type { Grey } from './grey.ts';
import { type Homography, type Point, sampleAt } from './homography.ts';
import type { BoxMm } from './strip.ts';

/** How far a curled page or a lens moves a box off its place. */
const REACH_MM = 1.6;
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
function bestShift(profile: readonly number[], from: number, lines: readonly number[]): number {
  const white = Math.max(...profile, 1);
  let [best, shift] = [Number.NEGATIVE_INFINITY, 0];
  for (const tried of steps(-REACH_MM, REACH_MM)) {
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
 * Their printed lines are matched with the picture, first across and then along, twice. The answer lies within
 * `REACH_MM` each way; without boxes it is null.
 */
export function settle(grey: Grey, view: Homography, boxes: readonly BoxMm[]): Point | null {
  if (boxes.length === 0) return null;
  const edges = (near: number, far: number): number[] => [near + HALF_LINE_MM, far - HALF_LINE_MM];
  const unique = (values: number[]): number[] => [
    ...new Set(values.map((value) => Math.round(value * 20) / 20)),
  ];
  const xs = unique(boxes.flatMap(({ x, width }) => edges(x, x + width)));
  const ys = unique(boxes.flatMap(({ y, height }) => edges(y, y + height)));
  const room = REACH_MM + (BESIDE + 1) * STEP_MM;
  const [x0, x1] = [Math.min(...xs) - room, Math.max(...xs) + room];
  const [y0, y1] = [Math.min(...ys) - room, Math.max(...ys) + room];
  const [top, height] = [Math.min(...ys), Math.max(...ys) - Math.min(...ys)];
  let [dx, dy] = [0, 0];
  for (let pass = 0; pass < 2; pass += 1) {
    const down = steps(y0, y1).map((y) => {
      let sum = 0;
      for (const box of boxes)
        for (const part of [0.2, 0.35, 0.5, 0.65, 0.8])
          sum += sampleAt(grey, view, box.x + dx + box.width * part, y);
      return sum;
    });
    dy = bestShift(down, y0, ys);
    const across = steps(x0, x1).map((x) => {
      let sum = 0;
      for (const part of [0.08, 0.2, 0.35, 0.5, 0.65, 0.8, 0.92])
        sum += sampleAt(grey, view, x, top + dy + height * part);
      return sum;
    });
    dx = bestShift(across, x0, xs);
  }
  return { x: dx, y: dy };
}

/** Blanks that lie close together on a page move together. */
const NEIGHBOURS = 5;
const APART_MM = 0.6;

/**
 * The shifts of a page's blanks, where each that strays from its neighbours', or was not found, takes their median.
 */
export function steadied(shifts: readonly (Point | null)[], boxes: readonly BoxMm[]): Point[] {
  return shifts.map((shift, i) => {
    const away = (j: number): number => Math.hypot(boxes[j]!.x - boxes[i]!.x, boxes[j]!.y - boxes[i]!.y);
    const near = [...shifts.keys()]
      .filter((j) => shifts[j] !== null)
      .sort((a, b) => away(a) - away(b))
      .slice(0, NEIGHBOURS);
    const median = (axis: 'x' | 'y'): number =>
      near.map((j) => shifts[j]![axis]).sort((a, b) => a - b)[near.length >> 1] ?? 0;
    const usual = { x: median('x'), y: median('y') };
    const strays =
      shift === null || Math.max(Math.abs(shift.x - usual.x), Math.abs(shift.y - usual.y)) > APART_MM;
    return strays ? usual : shift;
  });
}
