/** The course of a fermentation from its readings and from what was expected of it: a Bayesian least-squares fit. */
import { type Course, END, gravityOf, HALF, nudged, SIZE } from './ferment-model.ts';
import { lowerTriangle, solved } from './symmetric.ts';

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
  readonly u: Float64Array;
  /** How far a beer strays from any such curve, SG. */
  readonly misfit_SG: number;
}

export interface Fitted {
  readonly course: Course;
  readonly covariance: readonly Float64Array[];
  /** Distance of each sample from the curve, in its own standard uncertainties. */
  readonly off: readonly number[];
}

/** Beyond so many standard uncertainties a sample counts less and less: a slip of the pen does not bend the curve. */
const SAMPLE_REACH = 3;
/** Fermentations that stop far from the expected end do exist: past this it gives way to what is read. */
const END_REACH = 2;
const MOST_STEPS = 60;

/** Half of squared distance within the reach; beyond it grows as the logarithm (weight (reach/z)²). */
const cost = (z: number, reach: number): number =>
  Math.abs(z) <= reach ? (z * z) / 2 : reach * reach * (0.5 + Math.log(Math.abs(z) / reach));
const weight = (z: number, reach: number): number => (Math.abs(z) <= reach ? 1 : (reach / z) ** 2);

/** By figure of the course; the paces have none. */
const REACHES = [Infinity, END_REACH, Infinity, Infinity, Infinity];
/** Times to the half to set out from, of the one expected. */
const SLOWER = [0.35, 0.6, 1, 1.7, 3];
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
  let at = likelyStart(task);
  let damping = 1e-3;
  for (let step = 0; step < MOST_STEPS && damping < 1e9; step++) {
    const move = nextMove(task, at, damping);
    if (move === null) break;
    const next = weighed(
      task,
      at.course.map((figure, i) => figure + move[i]!),
    );
    if (costOf(task, next.course, at.u) > costOf(task, at.course, at.u)) {
      damping *= 5;
      continue;
    }
    at = next;
    damping = Math.max(1e-9, damping / 5);
    if (move.every((by, i) => Math.abs(by) < SETTLED * expected.u[i]!)) break;
  }
  return {
    course: at.course,
    covariance: inverse(normalEquations(task, at).matrix),
    off: at.off,
  };
}

interface Task {
  readonly samples: readonly Sample[];
  readonly expected: Expected;
  /** Variance of the misfit, by sample. */
  readonly misfit: Float64Array;
}

/** A course with the effective standard uncertainty of each sample, and its distance in it. */
interface Weighed {
  readonly course: Course;
  readonly u: Float64Array;
  readonly off: readonly number[];
}

/** Readings of one stretch of the curve stray together: the more there are, the less each one tells. */
function sharedMisfit(samples: readonly Sample[], { course, misfit_SG }: Expected): Float64Array {
  const stretch_d = Math.exp(course[HALF]!) / 2;
  const stretches = samples.map(({ day }) => Math.floor(day / stretch_d));
  const count = new Map<number, number>();
  for (const stretch of stretches) count.set(stretch, (count.get(stretch) ?? 0) + 1);
  return Float64Array.from(stretches, (stretch) => misfit_SG ** 2 * count.get(stretch)!);
}

function weighed({ samples, misfit }: Task, course: Course): Weighed {
  const gravity = gravityOf(course);
  const u = new Float64Array(samples.length);
  const off = samples.map(({ day, sg, u: own, hour_u }, i) => {
    const moved = hour_u > 0 ? (gravity(day + hour_u) - gravity(day - hour_u)) / 2 : 0;
    u[i] = Math.sqrt(own * own + misfit[i]! + moved * moved);
    return (sg - gravity(day)) / u[i]!;
  });
  return { course, u, off };
}

const distance = ({ expected }: Task, course: Course, figure: number): number =>
  (course[figure]! - expected.course[figure]!) / expected.u[figure]!;

function costOf(task: Task, course: Course, u: Float64Array): number {
  const gravity = gravityOf(course);
  let sum = 0;
  for (let k = 0; k < SIZE; k++) sum += cost(distance(task, course, k), REACHES[k]!);
  task.samples.forEach(({ day, sg }, i) => {
    sum += cost((sg - gravity(day)) / u[i]!, SAMPLE_REACH);
  });
  return sum;
}

/** The best of a few courses to set out from: slower and faster ones, ending as expected or where the last readings are. */
function likelyStart(task: Task): Weighed {
  const { course } = task.expected;
  const last = task.samples
    .slice(-3)
    .map(({ sg }) => sg)
    .sort((a, b) => a - b);
  const ends = [course[END]!, last[Math.floor(last.length / 2)] ?? course[END]!];
  let best: Weighed | null = null;
  let least = Number.POSITIVE_INFINITY;
  for (const end of ends) {
    for (const slower of SLOWER) {
      const start = Float64Array.from(course);
      start[END] = end;
      start[HALF]! += Math.log(slower);
      const at = weighed(task, start);
      const found = costOf(task, start, at.u);
      if (best !== null && found >= least) continue;
      best = at;
      least = found;
    }
  }
  return best!;
}

interface Equations {
  readonly matrix: Float64Array[];
  readonly right: Float64Array;
}

/** JᵀWJ and JᵀW(observed − fitted), the expectation's own rows included. */
function normalEquations(task: Task, at: Weighed): Equations {
  const { samples, expected } = task;
  const matrix = Array.from({ length: SIZE }, () => new Float64Array(SIZE));
  const right = new Float64Array(SIZE);
  for (let k = 0; k < SIZE; k++) {
    const off = distance(task, at.course, k);
    const counts = weight(off, REACHES[k]!) / expected.u[k]! ** 2;
    matrix[k]![k] = counts;
    right[k] = -counts * off * expected.u[k]!;
  }
  const either = nudged(at.course, gravityOf);
  const row = new Float64Array(SIZE);
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

function nextMove(task: Task, at: Weighed, damping: number): Float64Array | null {
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

function inverse(matrix: readonly Float64Array[]): Float64Array[] {
  const lower = lowerTriangle(matrix);
  return matrix.map((_, k) => {
    const unit = new Float64Array(SIZE);
    unit[k] = 1;
    return lower === null ? unit : solved(lower, unit);
  });
}
