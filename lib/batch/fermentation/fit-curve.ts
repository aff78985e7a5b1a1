/** The course of a fermentation from its readings and from what was expected of it: a Bayesian least-squares fit. */

import { inverse, lowerTriangle, solved, type Vector, zeros } from '../uncertainty/cholesky.ts';
import { type Course, END, gravityOf, HALF, nudged, SIZE } from './curve-model.ts';

/** One gravity, days after pitching. */
export interface Sample {
  readonly day: number;
  readonly sg: number;
  readonly u: number;
  /** Of the hour, days. */
  readonly hour_u: number;
}

/** What is expected before a reading. */
export interface Expected {
  readonly course: Course;
  readonly u: Vector;
  /** How far a beer strays from any such curve, SG. */
  readonly misfit_SG: number;
}

export interface Fitted {
  readonly course: Course;
  readonly covariance: readonly Vector[];
  /** Distance of each sample from the curve, in its own standard uncertainties. */
  readonly off: readonly number[];
}

/** Beyond so many standard uncertainties a sample counts less and less: a slip of the pen does not bend the curve. */
const SAMPLE_REACH = 3;
/** One fermentation in twenty, say, stops anywhere (common practice, no source): past this the expected end gives way to what is read. */
const END_REACH = 1.5;
const MOST_STEPS = 60;

/** Half of squared distance within the reach; beyond it grows as the logarithm (weight (reach/z)²). */
const cost = (z: number, reach: number): number =>
  Math.abs(z) <= reach ? (z * z) / 2 : reach * reach * (0.5 + Math.log(Math.abs(z) / reach));
const weight = (z: number, reach: number): number => (Math.abs(z) <= reach ? 1 : (reach / z) ** 2);

/** By figure of the course; the paces have none. */
const REACHES = [Infinity, END_REACH, Infinity, Infinity, Infinity];
/** Moves smaller than this share of the expectation's uncertainty change no figure that is printed. */
const SETTLED = 1e-3;

/**
 * The likeliest course given readings and expectation, with its covariance.
 *
 * Formula: least Σ ρ((gᵢ − g(tᵢ))/uᵢ) + Σ ρ((θₖ − expected)/uₖ) by Levenberg and Marquardt, ρ half the square near and a
 *   logarithm far out; uᵢ² = u² of the reading + (slope × u of the hour)² + misfit², the last shared by all readings of one
 *   stretch of the curve, which stray together. Covariance: inverse of JᵀWJ + the expectation's precision.
 * Source: Gelman et al., Bayesian Data Analysis, 3rd ed. 2013, 4.1 and 17.2 (from memory); Marquardt 1963, J. SIAM 11:431 (from
 *   memory); the hour's part as "effective variance", Orear 1982, Am. J. Phys. 50:912 (from memory).
 * Range: any finite samples with u above 0; linear in their number.
 */
export function fitCourse(samples: readonly Sample[], expected: Expected): Fitted {
  const task: Task = { samples, expected, misfit: sharedMisfit(samples, expected) };
  const [first, ...others] = endsToTry(task).map((end) => settled(task, expected.course.with(END, end)));
  const at = others.reduce((best, next) => (costOf(task, next) < costOf(task, best) ? next : best), first!);
  return { course: at.course, covariance: inverse(normalEquations(task, at).matrix), off: at.off };
}

/** Where the last readings are far from the expected end, they are tried as the end too: the cost has a valley about each. */
function endsToTry({ samples, expected }: Task): readonly number[] {
  const planned = expected.course[END]!;
  const last = samples.slice(-3).map(({ sg }) => sg);
  const middle = last.sort((a, b) => a - b)[Math.floor(last.length / 2)];
  const far = middle !== undefined && Math.abs(middle - planned) > expected.u[END]!;
  return far ? [planned, middle] : [planned];
}

/** The bottom of the valley that a course lies in, by Levenberg and Marquardt's steps. */
function settled(task: Task, from: Course): Weighed {
  let at = weighed(task, from);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS && damping < 1e9; step++) {
    const move = nextMove(task, at, damping);
    if (move === null) break;
    const course = at.course.map((figure, k) => figure + move[k]!);
    if (costOf(task, at, course) > costOf(task, at)) {
      damping *= 5;
      continue;
    }
    at = weighed(task, course);
    damping = Math.max(1e-9, damping / 5);
    if (move.every((by, k) => Math.abs(by) < SETTLED * task.expected.u[k]!)) break;
  }
  return at;
}

interface Task {
  readonly samples: readonly Sample[];
  readonly expected: Expected;
  /** Variance of the misfit, by sample. */
  readonly misfit: Vector;
}

/** A course with the effective standard uncertainty of each sample, and its distance in it. */
interface Weighed {
  readonly course: Course;
  readonly u: Vector;
  readonly off: readonly number[];
}

/** Readings of one stretch of the curve stray together: the more there are, the less each one tells. */
function sharedMisfit(samples: readonly Sample[], { course, misfit_SG }: Expected): Vector {
  const stretch_d = Math.exp(course[HALF]!) / 2;
  const stretches = samples.map(({ day }) => Math.floor(day / stretch_d));
  const count = new Map<number, number>();
  for (const stretch of stretches) count.set(stretch, (count.get(stretch) ?? 0) + 1);
  return stretches.map((stretch) => misfit_SG ** 2 * count.get(stretch)!);
}

function weighed({ samples, misfit }: Task, course: Course): Weighed {
  const gravity = gravityOf(course);
  const u = zeros(samples.length);
  const off = samples.map(({ day, sg, u: own, hour_u }, i) => {
    const moved = (gravity(day + hour_u) - gravity(day - hour_u)) / 2;
    u[i] = Math.sqrt(own * own + misfit[i]! + moved * moved);
    return (sg - gravity(day)) / u[i]!;
  });
  return { course, u, off };
}

const distance = ({ expected }: Task, course: Course, figure: number): number =>
  (course[figure]! - expected.course[figure]!) / expected.u[figure]!;

/** Cost of a course, in the uncertainties that the samples have about the course they were weighed by. */
function costOf(task: Task, { u, course: own }: Weighed, course: Course = own): number {
  const gravity = gravityOf(course);
  let sum = 0;
  for (let k = 0; k < SIZE; k++) sum += cost(distance(task, course, k), REACHES[k]!);
  task.samples.forEach(({ day, sg }, i) => {
    sum += cost((sg - gravity(day)) / u[i]!, SAMPLE_REACH);
  });
  return sum;
}

interface Equations {
  readonly matrix: number[][];
  readonly right: number[];
}

/** JᵀWJ and JᵀW(observed − fitted), the expectation's own rows included. */
function normalEquations(task: Task, at: Weighed): Equations {
  const { samples, expected } = task;
  const matrix = Array.from({ length: SIZE }, () => zeros(SIZE));
  const right = zeros(SIZE);
  for (let k = 0; k < SIZE; k++) {
    const off = distance(task, at.course, k);
    const counts = weight(off, REACHES[k]!) / expected.u[k]! ** 2;
    matrix[k]![k] = counts;
    right[k] = -counts * off * expected.u[k]!;
  }
  const either = nudged(at.course, gravityOf);
  const row = zeros(SIZE);
  samples.forEach(({ day }, i) => {
    const counts = weight(at.off[i]!, SAMPLE_REACH) / at.u[i]! ** 2;
    for (let k = 0; k < SIZE; k++) {
      const { up, down, by } = either[k]!;
      row[k] = (up(day) - down(day)) / by;
      right[k]! += counts * row[k]! * at.off[i]! * at.u[i]!;
      for (let j = 0; j <= k; j++) matrix[k]![j]! += counts * row[k]! * row[j]!;
    }
  });
  return { matrix, right };
}

function nextMove(task: Task, at: Weighed, damping: number): Vector | null {
  const { matrix, right } = normalEquations(task, at);
  for (let k = 0; k < SIZE; k++) matrix[k]![k]! *= 1 + damping;
  const lower = lowerTriangle(matrix);
  if (lower === null) return null;
  // No figure moves further at once than its expectation is wide: the linear picture is not true beyond.
  return solved(lower, right).map((by, k) => {
    const most = 2 * task.expected.u[k]!;
    return Math.min(most, Math.max(-most, by));
  });
}
