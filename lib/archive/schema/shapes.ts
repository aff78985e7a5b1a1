import { z } from 'zod';

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
