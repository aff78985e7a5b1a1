import type { Problem } from '../../units/problem.ts';
import { type LocatedProblem, type Place, placeAt, placesIn, type TextProblem } from './located.ts';
import { type Positions, positionsOf } from './positions.ts';

export interface Source {
  /** Relative to the working folder, with forward slashes. */
  readonly file: string;
  readonly text: string;
  readonly yaml: string;
  readonly start: number;
}

/** Problems of these kinds are about the key, not about its value. */
const ABOUT_KEY = new Set(['unknown-key', 'key-not-wanted']);

interface Found {
  readonly positions: Positions;
  readonly placeOf: (offset: number) => Place;
}

/** Of one file at a time: problems come file by file, and a parsed file is twenty times the size of its text. */
let last: { readonly source: Source; readonly found: Found } | null = null;

function foundIn(source: Source): Found {
  if (last?.source !== source)
    last = { source, found: { positions: positionsOf(source.yaml), placeOf: placesIn(source.text) } };
  return last.found;
}

/**
 * Line and column, from 1, of the value at a key path, of its key where `prefer` says so, or of the nearest
 * thing around it that is there.
 */
export function locate(source: Source, path: Problem['path'], prefer: 'key' | 'value' = 'value'): Place {
  const found = foundIn(source);
  return found.placeOf(source.start + found.positions.at(path, prefer));
}

export function locateProblem(source: Source, problem: Problem): LocatedProblem {
  const prefer = ABOUT_KEY.has(problem.code) ? 'key' : 'value';
  return { ...problem, file: source.file, ...locate(source, problem.path, prefer) };
}

export const locateProblems = (source: Source, found: readonly Problem[]): LocatedProblem[] =>
  found.map((problem) => locateProblem(source, problem));

/** A problem of the text itself with its place in the file; `start` is where the text begins in it. */
export function locateText(file: string, text: string, problem: TextProblem, start = 0): LocatedProblem {
  const { offset, ...rest } = problem;
  return { ...rest, severity: 'error', file, ...placeAt(text, start + offset) };
}
