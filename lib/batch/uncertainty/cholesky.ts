/** Small symmetric positive definite systems, by Cholesky's decomposition. */

/**
 * Lower triangle L of a matrix A = L Lᵀ; null where A is not positive definite.
 *
 * Only the lower triangle of `matrix` is read.
 */
export function lowerTriangle(matrix: readonly Float64Array[]): Float64Array[] | null {
  const lower = matrix.map((row) => new Float64Array(row.length));
  for (let i = 0; i < matrix.length; i++) {
    for (let j = 0; j <= i; j++) {
      let sum = matrix[i]![j]!;
      for (let k = 0; k < j; k++) sum -= lower[i]![k]! * lower[j]![k]!;
      if (i !== j) lower[i]![j] = sum / lower[j]![j]!;
      else if (sum > 0) lower[i]![i] = Math.sqrt(sum);
      else return null;
    }
  }
  return lower;
}

/** x of L Lᵀ x = right. */
export function solved(lower: readonly Float64Array[], right: Float64Array): Float64Array {
  const x = Float64Array.from(right);
  const n = lower.length;
  for (let i = 0; i < n; i++) {
    for (let k = 0; k < i; k++) x[i]! -= lower[i]![k]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  for (let i = n - 1; i >= 0; i--) {
    for (let k = i + 1; k < n; k++) x[i]! -= lower[k]![i]! * x[k]!;
    x[i]! /= lower[i]![i]!;
  }
  return x;
}

/** A⁻¹, line by line; of a matrix that is not positive definite, where nothing is known, the unit matrix. */
export function inverse(matrix: readonly Float64Array[]): Float64Array[] {
  const lower = lowerTriangle(matrix);
  return matrix.map((_, k) => {
    const unit = new Float64Array(matrix.length);
    unit[k] = 1;
    return lower === null ? unit : solved(lower, unit);
  });
}
