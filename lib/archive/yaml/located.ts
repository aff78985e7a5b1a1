import type { Problem } from '../../units/problem.ts';

/** A problem with its place in a file; lines and columns count from 1. */
export interface LocatedProblem extends Problem {
  /** Relative to the working folder, with forward slashes. */
  readonly file: string;
  readonly line: number;
  readonly column: number;
}

export interface Place {
  readonly line: number;
  readonly column: number;
}

/** What is wrong with a text, at an offset in it, before line and column are known. */
export interface TextProblem extends Omit<Problem, 'severity'> {
  readonly offset: number;
}

/** Finds line and column of offsets in one text; `\r\n`, `\n` and `\r` each end a line. */
export function placesIn(text: string): (offset: number) => Place {
  const starts = [0];
  for (const end of text.matchAll(/\r\n|\n|\r/g)) starts.push(end.index + end[0].length);
  return (offset) => {
    const at = Math.min(Math.max(0, offset), text.length);
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if ((starts[middle] ?? 0) <= at) low = middle;
      else high = middle - 1;
    }
    return { line: low + 1, column: at - (starts[low] ?? 0) + 1 };
  };
}

export function placeAt(text: string, offset: number): Place {
  return placesIn(text)(offset);
}

/** By file, line and column, errors before warnings at the same place. */
export function inOrder(a: LocatedProblem, b: LocatedProblem): number {
  if (a.file !== b.file) return a.file < b.file ? -1 : 1;
  const place = a.line - b.line || a.column - b.column || a.severity.localeCompare(b.severity, 'en');
  return place || (a.code < b.code ? -1 : Number(a.code > b.code));
}
