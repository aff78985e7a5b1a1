/** Small symmetric positive definite systems, by Cholesky's decomposition. Plain arrays: typed ones cost more to make than to fill. */

export type Vector = readonly number[];

export const zeros = (size: number): number[] => new Array<number>(size).fill(0);

/**
 * Lower triangle L of a matrix A = L Lᵀ; null where A is not positive definite.
 *
 * Only the lower triangle of `matrix` is read.
 */
export function lowerTriangle(matrix: readonly Vector[]): number[][] | null {
  const lower = matrix.map((row) => zeros(row.length));
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
export function solved(lower: readonly Vector[], right: Vector): number[] {
  const x = [...right];
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
export function inverse(matrix: readonly Vector[]): number[][] {
  const lower = lowerTriangle(matrix);
  return matrix.map((_, k) => {
    const unit = zeros(matrix.length);
    unit[k] = 1;
    return lower === null ? unit : solved(lower, unit);
  });
}
