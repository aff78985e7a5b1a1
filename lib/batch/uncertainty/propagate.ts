import { runModel } from '../model/model.ts';
import type { Case } from '../model/model-input.ts';
import { emptyOutcome, type Outcome } from '../model/target-vector.ts';
import type { Input } from './inputs.ts';

/** Contributions of every input to every target: rows by input, columns by target, each a signed standard deviation. */
export interface Propagation {
  readonly nominal: Outcome;
  readonly contributions: readonly Outcome[];
  /** Variance that each input brings to each target, the second-order term included. */
  readonly variances: readonly Outcome[];
}

/**
 * Law of propagation with numerical sensitivities (JCGM 100:2008, 5.1.2 and note 2 to 5.1.3): the contribution of
 * an input is half the change of the target between its value plus and minus one standard uncertainty. Where
 * the target bends over that width (a time is one over a power), the bend's own variance, half the square of the second
 * difference (first term of the note to 5.1.2), is added.
 *
 * Inputs are independent by construction (shared instruments are one input), so there are no covariance terms.
 * The case is nudged in place and left as it was; inputs that do not move the boil share its one run.
 */
export function propagate(c: Case, inputs: readonly Input[]): Propagation {
  const { outcome: nominal, detail } = runModel(c);
  const up = emptyOutcome();
  const down = emptyOutcome();
  const variances: Outcome[] = [];
  const contributions = inputs.map((input) => {
    const row = emptyOutcome();
    const variance = emptyOutcome();
    input.set(c, input.u);
    const kettle = input.movesKettle ? undefined : detail.kettle;
    runModel(c, up, kettle);
    input.set(c, -input.u);
    runModel(c, down, kettle);
    input.set(c, 0);
    for (let i = 0; i < row.length; i++) {
      const bend = up[i]! + down[i]! - 2 * nominal[i]!;
      row[i] = (up[i]! - down[i]!) / 2;
      variance[i] = row[i]! ** 2 + bend ** 2 / 2;
    }
    variances.push(variance);
    return row;
  });
  return { nominal, contributions, variances };
}
