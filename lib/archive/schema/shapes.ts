import { z } from 'zod';
import type { Units } from '../../units/dimension.ts';

/** A schema for a brewer who writes in some units, built once for each. */
export function byUnits<T>(build: (units: Units) => T): (units: Units) => T {
  const built: Partial<Record<Units, T>> = {};
  return (units) => {
    built[units] ??= build(units);
    return built[units];
  };
}

/** Keys that may be left out or left empty. */
export const optional = <S extends Readonly<Record<string, z.ZodType>>>(shape: S) =>
  Object.fromEntries(Object.entries(shape).map(([key, schema]) => [key, schema.nullish()])) as {
    [K in keyof S]: z.ZodOptional<z.ZodNullable<S[K]>>;
  };

/** One thing or a list of them: `packaged`, `package`. */
export function oneOrMany<T extends z.ZodType>(item: T, description: string) {
  return z.union([z.array(item).min(1), item]).describe(description);
}

/** A reading, or the answer that it was not taken. */
export function reading<T extends z.ZodType>(schema: T, description: string) {
  return z
    .union([z.literal('not taken'), schema])
    .nullish()
    .describe(description);
}
