/**
 * Standard uncertainty of a result from those of its inputs: the law of propagation.
 *
 * Formula: u² = Σ (cᵢuᵢ)² + 2 Σᵢ<ⱼ cᵢcⱼuᵢuⱼrᵢⱼ, c the sensitivities (partial derivatives), r a symmetric
 *   matrix of correlations with ones on its diagonal, none where left out.
 * Source: JCGM 100:2008 (GUM), equation 13; equation 10 without correlations.
 * Range: u 0 or more, r −1 to 1; result in the unit of the result; RangeError for lengths that differ,
 *   figures outside, or correlations that no set of quantities can have.
 * Cases: tests/formulas/uncertainty.test.ts.
 */
export function combine(
  sensitivities: readonly number[],
  us: readonly number[],
  correlations?: readonly (readonly number[])[],
): number {
  if (sensitivities.length !== us.length) {
    throw new RangeError(`${sensitivities.length} sensitivities, but ${us.length} uncertainties`);
  }
  const parts = sensitivities.map((c, i) => {
    const u = us[i]!;
    if (!(u >= 0) || !Number.isFinite(c * u)) throw new RangeError(`input ${i}: sensitivity ${c}, u ${u}`);
    return c * u;
  });
  let uncorrelated = 0;
  for (const part of parts) uncorrelated += part * part;
  const variance = uncorrelated + (correlations === undefined ? 0 : 2 * crossTerms(parts, correlations));
  // Wholly correlated inputs may cancel: what rounding leaves of that is no error.
  if (variance < -1e-9 * uncorrelated)
    throw new RangeError('correlations that no set of quantities can have');
  return Math.sqrt(Math.max(0, variance));
}

function crossTerms(parts: readonly number[], correlations: readonly (readonly number[])[]): number {
  if (correlations.length !== parts.length || correlations.some((row) => row.length !== parts.length)) {
    throw new RangeError(`correlations must be ${parts.length} rows of ${parts.length}`);
  }
  let sum = 0;
  for (let i = 0; i < parts.length; i++) {
    if (correlations[i]![i] !== 1) throw new RangeError(`correlation of input ${i} with itself must be 1`);
    for (let j = i + 1; j < parts.length; j++) {
      const r = correlations[i]![j]!;
      if (!(r >= -1 && r <= 1) || r !== correlations[j]![i]) {
        throw new RangeError(`correlation of inputs ${i} and ${j} must be symmetric and from -1 to 1`);
      }
      sum += parts[i]! * parts[j]! * r;
    }
  }
  return sum;
}
