import type { Problem } from '../units/problem.ts';

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
export interface TextProblem {
  readonly code: string;
  readonly path: Problem['path'];
  readonly offset: number;
  readonly found: string;
  readonly expected: string;
  readonly mend: string;
}

/** Line and column of an offset; `\r\n`, `\n` and `\r` each end a line. */
export function placeAt(text: string, offset: number): Place {
  const before = text.slice(0, Math.max(0, offset));
  const lines = before.split(/\r\n|\n|\r/);
  return { line: lines.length, column: (lines[lines.length - 1]?.length ?? 0) + 1 };
}

/** By file, line and column, errors before warnings at the same place. */
export function inOrder(a: LocatedProblem, b: LocatedProblem): number {
  if (a.file !== b.file) return a.file < b.file ? -1 : 1;
  const place = a.line - b.line || a.column - b.column || a.severity.localeCompare(b.severity);
  return place || (a.code < b.code ? -1 : Number(a.code > b.code));
}
