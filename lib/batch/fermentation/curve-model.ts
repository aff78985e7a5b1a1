/** The gravity of one beer against time: five figures, and what follows from them. */
import { dayOfShareLeftSpeers2003, shareLeftSpeers2003 } from '../../formulas/fermentation-curve.ts';
import type { Vector } from '../uncertainty/cholesky.ts';

/**
 * Start, end (SG 20/20), and the logarithms of: days to the half of the fall; rate of the tail per that time; shape.
 *
 * With the half in the place of the inflection, each figure says something of its own, and readings tell them apart.
 */
export type Course = Vector;

export const START = 0;
export const END = 1;
export const HALF = 2;
export const TAIL = 3;
export const SHAPE = 4;
export const SIZE = 5;

interface Curve {
  readonly inflection_d: number;
  readonly rate_per_d: number;
  readonly shape: number;
}

const held = (logarithm: number, low: number, high: number): number =>
  Math.min(high, Math.max(low, Math.exp(logarithm)));

/** The published curve's own figures: half at M + ln((2^s − 1)/s)/B, tail falling off as e^(−B t/s). */
function curveOf(course: Course): Curve {
  const half_d = held(course[HALF]!, 1e-2, 1e3);
  const shape = held(course[SHAPE]!, 0.05, 50);
  const rate_per_d = (shape * held(course[TAIL]!, 1e-2, 1e2)) / half_d;
  const logarithm = Math.log(Math.expm1(shape * Math.LN2) / shape);
  return { inflection_d: half_d - logarithm / rate_per_d, rate_per_d, shape };
}

/** SG 20/20 at a time after pitching, as a function of the days. */
export function gravityOf(course: Course): (day: number) => number {
  const left = shareLeftSpeers2003(curveOf(course));
  const end = course[END]!;
  const fall = course[START]! - end;
  return (day) => end + fall * left(Math.max(0, day));
}

/** Days from pitching until no more of the fall is left than `left_SG`; null where the fall is no larger than that. */
export function dayOfEnd(course: Course, left_SG: number): number | null {
  const share = left_SG / (course[START]! - course[END]!);
  if (!(share > 1e-9 && share < 0.999)) return null;
  return dayOfShareLeftSpeers2003({ ...curveOf(course), share });
}

/** Changes that differences are taken over: a hundredth of a point, a thousandth of a share. */
const NUDGES: readonly number[] = [1e-5, 1e-5, 1e-3, 1e-3, 1e-3];

/** What follows from a course with one figure after the other a little larger and a little smaller. */
export function nudged<R>(
  course: Course,
  result: (course: Course) => R,
): readonly { up: R; down: R; by: number }[] {
  return NUDGES.map((by, k) => {
    const [up, down]: [number[], number[]] = [[...course], [...course]];
    up[k]! += by;
    down[k]! -= by;
    return { up: result(up), down: result(down), by: 2 * by };
  });
}
