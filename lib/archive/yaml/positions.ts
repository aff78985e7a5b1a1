import { type Document, isAlias, isMap, isScalar, isSeq, type Node, type Pair, type YAMLMap } from 'yaml';
import type { KeyPath } from '../../units/problem.ts';
import { isBlank, parseQuietly, rangeOf } from './places.ts';

/** A YAML text with the place of every key and value; slower than reading, so only for files with problems. */
export interface Positions {
  /** Offset of the value at a path, of its key, or of the nearest thing around it that is there. */
  readonly at: (path: KeyPath, prefer?: 'key' | 'value') => number;
  readonly document: Document.Parsed | null;
}

/** Parses for positions; a document that cannot be taken apart has all its places at its beginning. */
export function positionsOf(text: string): Positions {
  const document = parseQuietly(text);
  return {
    document,
    at: (path, prefer = 'value') => (document === null ? 0 : offsetOf(document, path, prefer)),
  };
}

function offsetOf(document: Document.Parsed, path: KeyPath, prefer: 'key' | 'value'): number {
  let node: Node | null = document.contents;
  let place = startOf(node) ?? 0;
  for (const [index, part] of path.entries()) {
    const last = index === path.length - 1;
    const target: Node | null = isAlias(node) ? (node.resolve(document) ?? null) : node;
    if (isMap(target)) {
      // `package[0]` where the file has one thing instead of a list.
      const pair = pairOf(target, String(part));
      if (part === 0 && pair === undefined) continue;
      if (pair === undefined) return place;
      const value = pair.value;
      const keyPlace = startOf(pair.key) ?? place;
      const scalar = last && prefer === 'value' && !isBlank(value) && !isMap(value) && !isSeq(value);
      place = (scalar ? startOf(value) : undefined) ?? keyPlace;
      node = value;
    } else if (isSeq(target) && typeof part === 'number') {
      const item = target.items[part] as Node | undefined;
      if (item === undefined) return place;
      place = startOf(item) ?? place;
      node = item;
    } else {
      return place;
    }
  }
  return place;
}

const pairsByKey = new WeakMap<YAMLMap, ReadonlyMap<string, Pair<Node, Node | null>>>();

/** The last pair of a key: the one that counts where there are two. */
function pairOf(map: YAMLMap, key: string): Pair<Node, Node | null> | undefined {
  let pairs = pairsByKey.get(map);
  if (pairs === undefined) {
    const items = map.items as Pair<Node, Node | null>[];
    pairs = new Map(items.flatMap((pair) => (isScalar(pair.key) ? [[String(pair.key.value), pair]] : [])));
    pairsByKey.set(map, pairs);
  }
  return pairs.get(key);
}

const startOf = (node: unknown): number | undefined => rangeOf(node)?.[0];

export interface Duplicate {
  readonly path: KeyPath;
  readonly key: string;
  readonly offset: number;
  readonly firstOffset: number;
}

/** Every key that comes again in its group. */
export function duplicateKeys(document: Document.Parsed): Duplicate[] {
  const found: Duplicate[] = [];
  const visit = (node: unknown, path: KeyPath): void => {
    if (isSeq(node)) for (const [index, item] of node.items.entries()) visit(item, [...path, index]);
    if (!isMap(node)) return;
    const first = new Map<string, number>();
    for (const { key, value } of node.items) {
      if (!isScalar(key)) continue;
      const name = String(key.value);
      const offset = key.range?.[0] ?? 0;
      const firstOffset = first.get(name);
      if (firstOffset === undefined) first.set(name, offset);
      else found.push({ path: [...path, name], key: name, offset, firstOffset });
      visit(value, [...path, name]);
    }
  };
  visit(document.contents, []);
  return found;
}
