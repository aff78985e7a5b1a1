import { z } from 'zod';
import type { UnitCode } from '../../units/codes.ts';
import { quoted } from '../../units/parse/parsed.ts';
import { type Said, say } from '../../units/problem.ts';
import { SCHEMA_PROBLEMS, type SchemaCode, type SchemaFacts } from './codes.ts';

export { quoted };

/** What a reader of one value returns: the value, or what is wrong with it in the words of a problem. */
export type Read<T> = { readonly ok: true; readonly value: T } | Fault;

export interface Fault extends Said<SchemaCode | UnitCode> {
  readonly ok: false;
  /** Of a value that is missing, or a name that cannot be used: one that would do. */
  readonly sample?: string;
}

/** What the editor's JSON Schema says of a key. */
export interface LeafMeta {
  readonly description: string;
  readonly samples?: readonly string[];
  readonly type?: string | readonly string[];
  readonly pattern?: string;
  readonly choices?: readonly string[];
}

export type Leaf<T> = z.ZodPipe<z.ZodUnknown, z.ZodTransform<T, unknown>>;

export const fault = <C extends SchemaCode>(code: C, ...facts: SchemaFacts<C>): Fault => ({
  ok: false,
  ...say(SCHEMA_PROBLEMS, code, ...facts),
});

export function shapeOf(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return 'a list';
  return typeof value === 'object' ? 'a group of keys' : quoted(String(value));
}

/**
 * A zod schema for one value that is written as text in the file.
 *
 * Values reach it as text whatever they look like, because `1.050` and `1.5 kg` must be kept as written; the
 * reader decides the type. A fault becomes a zod issue that carries code, found, expected and mend.
 */
export function leaf<T>(read: (text: string) => Read<T>, meta: LeafMeta): Leaf<T> {
  return z
    .unknown()
    .transform((raw, context): T => {
      const result = readRaw(raw, read, meta);
      if (result.ok) return result.value;
      context.issues.push({ code: 'custom', input: raw, message: result.code, params: { fault: result } });
      return z.NEVER;
    })
    .meta({ ...meta });
}

function readRaw<T>(raw: unknown, read: (text: string) => Read<T>, meta: LeafMeta): Read<T> {
  if (raw === null || raw === undefined) {
    const facts = { expected: sampleOf(meta), what: 'the value after the colon' };
    const missing = fault('missing-key', facts);
    return meta.samples?.[0] === undefined ? missing : { ...missing, sample: meta.samples[0] };
  }
  if (typeof raw === 'object') {
    const facts = { found: shapeOf(raw), expected: `one value, ${sampleOf(meta)}`, what: 'a single value' };
    return fault('wrong-shape', facts);
  }
  return read(String(raw));
}

function sampleOf({ samples, description }: LeafMeta): string {
  return samples?.[0] === undefined ? description.toLowerCase() : `${quoted(samples[0])} or the like`;
}
