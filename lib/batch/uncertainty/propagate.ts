import { inRange } from '../../formulas/range.ts';
import { type Run, runAgain, runModel, runOnly, type Stage } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { withSugar } from '../model/packaging.ts';
import { emptyOutcome, type Outcome, TARGET_INDEX as T } from '../model/target-vector.ts';
import type { Input } from './inputs.ts';

/** Contributions of every input to every target: rows by input, columns by target, each a signed standard deviation. */
export interface Propagation {
  readonly nominal: Outcome;
  readonly contributions: readonly Outcome[];
  /** Variance that each input brings to each target, the second-order term included. */
  readonly variances: readonly Outcome[];
  /** Ranges that come from the ends of the function, by the index of the target. */
  readonly ends?: ReadonlyMap<number, Ends>;
}

export interface Ends {
  readonly low: number;
  readonly high: number;
}

/** Temperatures that are bent by what can be poured and what water can be: a straight line past the bend means nothing. */
const BENT: readonly number[] = [T.chill_to_c, T.top_up_c];
/** The limits that these temperatures are shown within, °C. */
const COLDEST_C = 0;
const WARMEST_C = 40;

/**
 * Law of propagation with numerical sensitivities (JCGM 100:2008, 5.1.2 and note 2 to 5.1.3): the contribution of
 * an input is half the change of the target between its value plus and minus one standard uncertainty. Where
 * the target bends over that width (a time is one over a power), the bend's own variance, half the square of the second
 * difference (first term of the note to 5.1.2), is added.
 *
 * Inputs are independent by construction (shared instruments are one input), so there are no covariance terms.
 * Of the model only what an input moves is run again.
 */
export function propagate(planned: Case, inputs: readonly Input[]): Propagation {
  const run = runModel(planned);
  const { outcome: nominal, detail } = run;
  const c = withSugar(planned, detail.packed);
  const up = emptyOutcome();
  const down = emptyOutcome();
  const variances: Outcome[] = [];
  const wider = emptyOutcome();
  const spans = new Map(
    BENT.filter((i) => Number.isFinite(nominal[i]!)).map((i) => [i, { below: 0, above: 0 }]),
  );
  const contributions = inputs.map((input) => {
    const row = emptyOutcome();
    const variance = emptyOutcome();
    input.moved(c, input.u, (moved) => runMoved(moved, input, run, up));
    input.moved(c, -input.u, (moved) => runMoved(moved, input, run, down));
    // One that does not apply here may do so further off: NaN differs from itself.
    const bends = spans.size > 0 && movesHeat(input) && BENT.some((i) => up[i] !== down[i]);
    for (const once of bends ? [up, down] : []) {
      const change = (once === up ? 2 : -2) * input.u;
      // A range makes no plan impossible.
      const twice = inRange(() =>
        input.moved(c, change, (moved) => runMoved(moved, input, run, wider, ['heat'])),
      );
      for (const [i, span] of spans) {
        const moved = twice ? twice[i]! - nominal[i]! : 2 * (once[i]! - nominal[i]!);
        if (moved < 0) span.below += moved ** 2;
        if (moved > 0) span.above += moved ** 2;
      }
    }
    for (let i = 0; i < row.length; i++) {
      const bend = up[i]! + down[i]! - 2 * nominal[i]!;
      row[i] = (up[i]! - down[i]!) / 2;
      variance[i] = row[i]! ** 2 + bend ** 2 / 2;
    }
    variances.push(variance);
    return row;
  });
  const ends = new Map([...spans].map(([i, span]) => [i, endsOf(nominal[i]!, span)]));
  return { nominal, contributions, variances, ends };
}

const movesHeat = ({ moves }: Input): boolean => typeof moves === 'string' || moves.includes('heat');

/** The model on a case in which one input is moved: only what that moves is run again, and of it only what is asked for. */
export function runMoved(
  c: Case,
  { moves }: Input,
  before: Run,
  out = emptyOutcome(),
  only?: readonly Stage[],
): Outcome {
  if (typeof moves !== 'string') return runAgain(c, before, only ?? moves, out);
  const kettle = moves === 'boil' ? undefined : before.detail.kettle;
  // What does not apply to this case is not left as another run had it.
  out.fill(Number.NaN);
  return runOnly(c, only, out, kettle);
}

/** What two standard uncertainties of all inputs do to each side, held to what these temperatures can be. */
function endsOf(value: number, { below, above }: { below: number; above: number }): Ends {
  return {
    low: Math.min(value, Math.max(COLDEST_C, value - Math.sqrt(below))),
    high: Math.max(value, Math.min(WARMEST_C, value + Math.sqrt(above))),
  };
}
