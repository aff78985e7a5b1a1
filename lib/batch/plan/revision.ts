/** Engines differ in the last bits of a power; digits that no paper shows must not change what a plan is called. */
const DIGITS = 6;

/**
 * Short hash of what a plan is made of, for the header of every sheet: two prints with the same revision say the same.
 *
 * FNV-1a, 32 bits, run twice with different offsets; seven base-32 characters without the look-alikes 0/o and 1/l.
 * Source of the hash: Fowler, Noll and Vo, draft-eastlake-fnv (prime 16777619, offset basis 2166136261).
 */
export function revisionOf(content: unknown): string {
  const text = written(content);
  const first = fnv1a(text, 2166136261);
  const second = fnv1a(text, first ^ 0x5bd1e995);
  const alphabet = '23456789abcdefghijkmnpqrstuvwxyz';
  let out = '';
  for (let i = 0; i < 7; i++) out += alphabet[((i < 4 ? first : second) >>> ((i % 4) * 5)) & 31];
  return out;
}

function written(value: unknown): string {
  if (typeof value === 'number') return value.toPrecision(DIGITS);
  if (typeof value === 'string') return JSON.stringify(value);
  if (typeof value !== 'object' || value === null) return String(value);
  if (Array.isArray(value)) return `[${value.map(written).join()}]`;
  let text = '{';
  for (const key in value) text += `${key}:${written((value as Record<string, unknown>)[key])},`;
  return `${text}}`;
}

function fnv1a(text: string, offset: number): number {
  let hash = offset >>> 0;
  for (let i = 0; i < text.length; i++) {
    hash ^= text.charCodeAt(i);
    hash = Math.imul(hash, 16777619) >>> 0;
  }
  return hash >>> 0;
}
