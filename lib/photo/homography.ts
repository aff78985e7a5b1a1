import { type Grey, sample } from './grey.ts';

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** A plane seen in perspective: nine numbers, row by row, the last one 1. */
export type Homography = readonly number[];

/** Solves a square system by elimination with the largest pivot; null where it has no single answer. */
export function solve(rows: number[][]): number[] | null {
  const n = rows.length;
  for (let i = 0; i < n; i += 1) {
    let pivot = i;
    for (let r = i + 1; r < n; r += 1) if (Math.abs(rows[r]![i]!) > Math.abs(rows[pivot]![i]!)) pivot = r;
    [rows[i], rows[pivot]] = [rows[pivot]!, rows[i]!];
    const lead = rows[i]!;
    if (Math.abs(lead[i]!) < 1e-12) return null;
    for (let r = 0; r < n; r += 1) {
      const row = rows[r]!;
      const factor = r === i ? 0 : row[i]! / lead[i]!;
      if (factor !== 0) for (let c = i; c <= n; c += 1) row[c]! -= factor * lead[c]!;
    }
  }
  return rows.map((row, i) => row[n]! / row[i]!);
}

/** The view that takes four points of one plane to four of another; null where three of them are in line. */
export function homography(from: readonly Point[], to: readonly Point[]): Homography | null {
  const rows = from.flatMap(({ x, y }, i) => {
    const { x: u, y: v } = to[i]!;
    return [
      [x, y, 1, 0, 0, 0, -u * x, -u * y, u],
      [0, 0, 0, x, y, 1, -v * x, -v * y, v],
    ];
  });
  const solved = solve(rows);
  return solved && [...solved, 1];
}

export function project(h: Homography, x: number, y: number): Point {
  const d = h[6]! * x + h[7]! * y + h[8]!;
  return { x: (h[0]! * x + h[1]! * y + h[2]!) / d, y: (h[3]! * x + h[4]! * y + h[5]!) / d };
}

/** The same view of a plane whose origin is moved: `moved(h, a, b)` takes (x, y) to where `h` takes (x + a, y + b). */
export const moved = (h: Homography, a: number, b: number): Homography =>
  h.map((value, i) => (i % 3 === 2 ? h[i - 2]! * a + h[i - 1]! * b + value : value));

/** The grey of the picture where the view takes (x, y). */
export function sampleAt(grey: Grey, h: Homography, x: number, y: number): number {
  const d = h[6]! * x + h[7]! * y + h[8]!;
  return sample(grey, (h[0]! * x + h[1]! * y + h[2]!) / d, (h[3]! * x + h[4]! * y + h[5]!) / d);
}
