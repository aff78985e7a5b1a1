/** What the tests use of odex, whose own sources strict mode refuses. */
export class Solver {
  constructor(n: number);
  absoluteTolerance: number;
  relativeTolerance: number;
  solve(
    derivative: (x: number, y: number[]) => number[],
    x: number,
    y: readonly number[],
    xEnd: number,
  ): { y: number[] };
}
