import { type Document, isMap, isScalar, isSeq, type Pair, parseDocument } from 'yaml';

const AS_WRITTEN = {
  schema: 'failsafe',
  uniqueKeys: false,
  logLevel: 'silent',
  prettyErrors: false,
} as const;

/** A text with the places of all that is in it, every scalar as text; null where it cannot be taken apart. */
export function parseQuietly(text: string): Document.Parsed | null {
  try {
    return parseDocument(text, AS_WRITTEN);
  } catch {
    return null;
  }
}

/** The same with the signs between values, to be edited; null where it is no YAML. */
export function parseInPlace(text: string): Document.Parsed | null {
  const document = parseDocument(text, { ...AS_WRITTEN, keepSourceTokens: true });
  return document.errors.length > 0 ? null : document;
}

/** The pairs of a group with this key: one, none, or several where the key is doubled. */
export const pairsOf = (pairs: readonly Pair[], name: string | number): readonly Pair[] =>
  pairs.filter(({ key }) => isScalar(key) && String(key.value) === name);

/** Bytes from the end of a key to the first behind its colon. */
export const colonAfter = (text: string, keyEnd: number): number =>
  /^[ \t]*:/.exec(text.slice(keyEnd))?.[0].length ?? 0;

/** Whether nothing is written behind a key. */
export const isBlank = (value: unknown): boolean =>
  value === null || value === undefined || (isScalar(value) && value.source === '');

/** Offsets of the first byte of a node and of the first behind it. */
export function rangeOf(node: unknown): readonly [number, number] | undefined {
  const range = (node as { readonly range?: readonly number[] | null } | null | undefined)?.range;
  return range ? [range[0] ?? 0, range[1] ?? 0] : undefined;
}

/** End of what was written last inside a value. */
export function endOf(node: unknown): number {
  if (isMap(node) && !node.flow && node.items.length > 0) return endOfPair(node.items.at(-1) as Pair);
  if (isSeq(node) && !node.flow && node.items.length > 0) return endOf(node.items.at(-1));
  return rangeOf(node)?.[1] ?? 0;
}

export function endOfPair(pair: Pair): number {
  const key = rangeOf(pair.key)?.[1] ?? 0;
  return Math.max(key, pair.value === null ? 0 : endOf(pair.value));
}

export const lineStart = (text: string, offset: number): number => text.lastIndexOf('\n', offset - 1) + 1;

/** The beginning of the next line; an offset that begins a line stays. */
export function lineEnd(text: string, offset: number): number {
  if (offset > 0 && text[offset - 1] === '\n') return offset;
  const end = text.indexOf('\n', offset);
  return end < 0 ? text.length : end + 1;
}
