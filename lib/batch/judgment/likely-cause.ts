/** Which input most likely explains why a reading is not what was planned. */

import { TARGET_INDEX } from '../model/target-vector.ts';
import type { Observation } from '../readings/normalise-readings.ts';
import { kindAt } from '../types/places.ts';
import { lowerTriangle, solved } from '../uncertainty/cholesky.ts';
import type { Input } from '../uncertainty/inputs.ts';
import type { Propagation } from '../uncertainty/propagate.ts';

/** A brewer may fill the fermenter to another mark than planned by about this, L. Wide on purpose: the reading decides. */
const ASSUMED_FILL_U_L = 1;

/**
 * Expected value of every input given all readings of the day together (linear Gaussian conditioning, as in JCGM 102's
 * multivariate model): z = Aᵀ (A Aᵀ + R)⁻¹ d, A the contributions of the inputs to the targets read, R the
 * instruments' variances, d the differences. For each reading, the part of its difference that each input (or
 * the instrument itself) accounts for follows, and the largest of them is named.
 */
export function explain(
  readings: readonly Observation[],
  propagation: Propagation,
  inputs: readonly Input[],
  intoFermenter_L: number,
): Map<string, string> {
  const names = [...inputs.map((input) => input.label), 'the volume in the fermenter'];
  const usable = readings.filter(
    (reading) =>
      reading.value !== null &&
      reading.u > 0 &&
      // The sugar is weighed out for what is there: it follows from the other readings, and explains none.
      kindAt(reading.key) !== 'mass' &&
      (reading.key === 'fermenter_volume' ||
        (reading.target !== null && Number.isFinite(propagation.nominal[TARGET_INDEX[reading.target]]!))),
  );
  const mark = inputs.findIndex((input) => input.key === 'fermenterMark_L');
  const rows = usable.map((reading) => {
    if (reading.key === 'fermenter_volume') return [...inputs.map(() => 0), ASSUMED_FILL_U_L];
    const index = TARGET_INDEX[reading.target!];
    const row = propagation.contributions.map((contribution) => contribution[index] || 0);
    // Another filling moves the wort's strength just as a wrong mark does.
    const perLitre = mark >= 0 ? row[mark]! / inputs[mark]!.u : 0;
    return [...row, perLitre * ASSUMED_FILL_U_L];
  });
  const differences = usable.map((reading) =>
    reading.key === 'fermenter_volume'
      ? reading.value! - intoFermenter_L
      : reading.value! - propagation.nominal[TARGET_INDEX[reading.target!]]!,
  );
  const lower = lowerTriangle(
    rows.map((a, i) => rows.map((b, j) => dot(a, b) + (i === j ? usable[i]!.u ** 2 : 0))),
  );
  if (lower === null) return new Map();
  const weights = solved(lower, differences);
  const z = names.map((_, k) => rows.reduce((sum, row, r) => sum + row[k]! * weights[r]!, 0));
  const causes = new Map<string, string>();
  usable.forEach((reading, r) => {
    const sign = Math.sign(differences[r]!);
    let best = 'the reading itself';
    let most = usable[r]!.u ** 2 * weights[r]! * sign;
    names.forEach((name, k) => {
      const part = rows[r]![k]! * z[k]! * sign;
      if (part > most) {
        most = part;
        best = name;
      }
    });
    causes.set(reading.key, best);
  });
  return causes;
}

const dot = (a: readonly number[], b: readonly number[]) => a.reduce((sum, x, i) => sum + x * b[i]!, 0);
