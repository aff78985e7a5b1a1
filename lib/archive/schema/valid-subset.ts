import type { z } from 'zod';
import type { KeyPath } from '../../units/problem.ts';
import { problemsOf, valueAt } from './issues.ts';

/** Rounds of cutting out what is wrong until the rest holds; each round climbs at least one level. */
const MOST_ROUNDS = 8;

/** A file with more slips than this has no sound part worth looking for. */
const MOST_PROBLEMS = 200;

export interface SoundPart<T> {
  readonly data: T;
  /** A path in the sound part as it is in the whole file: list items before it may have been cut. */
  readonly original: (path: KeyPath) => KeyPath;
}

/**
 * What is left of a file without its faulty parts, so that the rest can be checked in the same run; null where
 * nothing holds.
 */
export function soundPart<T>(schema: z.ZodType<T>, raw: unknown): SoundPart<T> | null {
  const copy: unknown = structuredClone(raw);
  const places = new Map<object, number>();
  notePlaces(copy, places);
  for (let round = 0; round < MOST_ROUNDS; round++) {
    const parsed = schema.safeParse(copy);
    if (parsed.success) {
      return { data: parsed.data, original: (path) => originalPath(copy, path, places) };
    }
    const problems = problemsOf(parsed.error.issues, copy, schema);
    if (problems.length > MOST_PROBLEMS) return null;
    const cuts = problems.map(({ path }) => cutAt(copy, path));
    for (const cut of cuts) cut();
  }
  return null;
}

function notePlaces(value: unknown, places: Map<object, number>): void {
  if (typeof value !== 'object' || value === null) return;
  for (const [key, item] of Object.entries(value)) {
    if (Array.isArray(value) && typeof item === 'object' && item !== null) places.set(item, Number(key));
    notePlaces(item, places);
  }
}

/** How to empty a path, or the nearest thing around it that is there; found before anything has moved. */
function cutAt(root: unknown, path: KeyPath): () => void {
  for (let length = path.length; length > 0; length--) {
    const parent = valueAt(root, path.slice(0, length - 1));
    const key = path[length - 1];
    if (typeof parent !== 'object' || parent === null || key === undefined) continue;
    if (!Object.hasOwn(parent, key)) continue;
    const value = (parent as Record<string | number, unknown>)[key];
    if (Array.isArray(parent)) {
      return () => {
        const place = parent.indexOf(value);
        if (place >= 0) parent.splice(place, 1);
      };
    }
    if (value !== null || length === path.length) {
      return () => {
        delete (parent as Record<string | number, unknown>)[key];
      };
    }
  }
  return () => {};
}

function originalPath(root: unknown, path: KeyPath, places: ReadonlyMap<object, number>): KeyPath {
  return path.map((part, index) => {
    if (typeof part !== 'number') return part;
    const item = valueAt(root, path.slice(0, index + 1));
    return typeof item === 'object' && item !== null ? (places.get(item) ?? part) : part;
  });
}
