import { isAlias, isMap, isScalar, isSeq, type Pair, type Scalar, type YAMLMap, type YAMLSeq } from 'yaml';
import type { KeyPath } from '../../units/problem.ts';
import { yamlQuoted, yamlText } from '../../units/yaml-text.ts';
import {
  colonAfter,
  endOf,
  endOfPair,
  isBlank,
  lineEnd,
  lineStart,
  pairsOf,
  parseInPlace,
  rangeOf,
} from './places.ts';

/** Keys of a group in the order of the format; null where a new key simply goes last. */
export type OrderOf = (path: KeyPath) => readonly string[] | null;

/** One value as text, or the values of a new group by their keys, which is then written in braces. */
export type NewValue = string | Readonly<Record<string, string>>;

interface Splice {
  readonly start: number;
  readonly end: number;
  readonly text: string;
}

interface Slot {
  readonly start: number;
  readonly end: number;
  readonly flow: boolean;
  /** Column of the key or hyphen that the value hangs on. */
  readonly indent: number;
  /** Where a line below the key may be put; null for an item of a list. */
  readonly below: number | null;
}

interface Context {
  readonly text: string;
  readonly newline: string;
  readonly orderOf: OrderOf;
  readonly path: KeyPath;
  readonly value: NewValue;
}

/** What to change; null where the text cannot be edited safely. */
type Splices = readonly Splice[] | null;

/**
 * Sets one value in a YAML text by changing as few bytes as can be: a value that is there is replaced, a key that is
 * not is inserted in the order of the format, with the indentation and line ends around it.
 * Returns null where the text cannot be edited so: aliases, doubled keys, a list item beyond the end.
 */
export function setYamlValue(text: string, path: KeyPath, value: NewValue, orderOf: OrderOf): string | null {
  const document = parseInPlace(text);
  if (document === null) return null;
  const newline = /\r\n/.test(text) ? '\r\n' : '\n';
  const root = { start: 0, end: text.length, flow: false, indent: -2, below: 0 };
  const splices = change({ text, newline, orderOf, path, value }, document.contents, root, 0);
  if (splices === null) return null;
  return [...splices]
    .sort((a, b) => b.start - a.start)
    .reduce((edited, { start, end, text: by }) => edited.slice(0, start) + by + edited.slice(end), text);
}

function change(ctx: Context, node: unknown, slot: Slot, depth: number): Splices {
  const head = ctx.path[depth];
  if (isAlias(node)) return null;
  if (head === undefined) return replace(ctx, node, slot);
  if (isMap(node)) {
    if (typeof head === 'number') return inList(ctx, node, slot, depth, head);
    const pairs = pairsOf(node.items as Pair[], head);
    if (pairs.length > 1) return null;
    const [pair] = pairs;
    if (pair === undefined) return insertPair(ctx, node, slot, depth, head);
    return change(ctx, pair.value, slotOf(ctx, pair, node, slot), depth + 1);
  }
  if (isSeq(node)) {
    if (typeof head !== 'number' || head > node.items.length) return null;
    if (head === node.items.length) return append(ctx, node, depth);
    const item = node.items[head];
    const [start, end] = rangeOf(item) ?? [0, 0];
    const inItem = { start, end, flow: node.flow === true, indent: columnOf(node), below: null };
    return change(ctx, item, inItem, depth + 1);
  }
  return begin(ctx, node, slot, depth);
}

/** A single value, or nothing, gives way to another one. */
function replace({ text: all, newline, value }: Context, node: unknown, { start, end }: Slot): Splices {
  if (node !== null && node !== undefined && !isScalar(node)) return null;
  const scalar = node as Scalar | null | undefined;
  const block = scalar?.type === 'BLOCK_LITERAL' || scalar?.type === 'BLOCK_FOLDED';
  const text = typeof value === 'string' ? quotedAs(scalar?.type, value) : writtenValue(value);
  const before = text !== '' && /[:-]/.test(all[start - 1] ?? '') ? ' ' : '';
  return [{ start, end, text: before + text + (block ? newline : '') }];
}

/** `packaged: { … }` is the first of a list of one; a second one makes a list of it. */
function inList(ctx: Context, node: YAMLMap, slot: Slot, depth: number, index: number): Splices {
  if (index === 0) return change(ctx, node, slot, depth + 1);
  if (index > 1) return null;
  const more = inBraces(ctx.path.slice(depth + 1), ctx.value);
  const [start, end] = rangeOf(node) ?? [0, 0];
  if (node.flow) {
    return [
      { start, end: start, text: '[ ' },
      { start: end, end, text: `, ${more} ]` },
    ];
  }
  const first = lineStart(ctx.text, start);
  const last = lineEnd(ctx.text, endOf(node));
  const lines = ctx.text.slice(first, last).split(/(?<=\n)/);
  const column = ' '.repeat(columnOf(node));
  const listed = lines.map((line, i) =>
    i === 0 ? line.replace(/^ */, `${column}- `) : /^\s*$/.test(line) ? line : `  ${line}`,
  );
  return [{ start: first, end: last, text: `${listed.join('')}${column}- ${more}${ctx.newline}` }];
}

function slotOf(ctx: Context, pair: Pair, map: YAMLMap, outer: Slot): Slot {
  const keyEnd = rangeOf(pair.key)?.[1] ?? 0;
  const colon = keyEnd + colonAfter(ctx.text, keyEnd);
  // An empty value is where its comment begins for the parser, and right behind the colon for us.
  const [start, end] = (isBlank(pair.value) ? undefined : rangeOf(pair.value)) ?? [colon, colon];
  const flow = outer.flow || map.flow === true;
  return { start, end, flow, indent: columnOf(map), below: flow ? null : lineEnd(ctx.text, keyEnd) };
}

function insertPair(ctx: Context, map: YAMLMap, slot: Slot, depth: number, key: string): Splices {
  const rest = ctx.path.slice(depth + 1);
  const pairs = map.items as Pair[];
  const before = pairBefore(pairs, key, ctx.orderOf(ctx.path.slice(0, depth)));
  if (map.flow) {
    const text = `${key}: ${inBraces(rest, ctx.value)}`;
    const [start, end] = rangeOf(map) ?? [0, 0];
    if (pairs.length === 0) {
      return /#/.test(ctx.text.slice(start, end)) ? null : [{ start, end, text: `{ ${text} }` }];
    }
    if (before === undefined) {
      const at = rangeOf(pairs[0]?.key)?.[0] ?? 0;
      return [{ start: at, end: at, text: `${text}, ` }];
    }
    const at = endOfPair(before);
    return [{ start: at, end: at, text: `${ctx.text[at - 1] === ':' ? ' ' : ''}, ${text}` }];
  }
  const inItem = slot.below === null;
  const after = before ?? (inItem ? pairs[0] : undefined);
  const column = columnOf(map);
  const inside = after === undefined ? (slot.below ?? 0) : lineEnd(ctx.text, endOfPair(after));
  const at = depth === 0 ? ctx.text.length : inside;
  return [line(ctx, at, `${' '.repeat(column)}${key}:${underKey(ctx, rest, column)}`)];
}

/** The last key before a new one in the order of the format, or simply the last. */
function pairBefore(pairs: readonly Pair[], key: string, order: readonly string[] | null): Pair | undefined {
  if (order === null) return pairs.at(-1);
  const rank = order.indexOf(key);
  return pairs.findLast((pair) => isScalar(pair.key) && order.indexOf(String(pair.key.value)) < rank);
}

function append(ctx: Context, list: YAMLSeq, depth: number): Splices {
  const more = inBraces(ctx.path.slice(depth + 1), ctx.value);
  const last = list.items.at(-1);
  const [start, end] = rangeOf(list) ?? [0, 0];
  if (list.flow) {
    if (last === undefined) {
      return /#/.test(ctx.text.slice(start, end)) ? null : [{ start, end, text: `[ ${more} ]` }];
    }
    const at = endOf(last);
    return [{ start: at, end: at, text: `, ${more}` }];
  }
  const at = lineEnd(ctx.text, endOf(last));
  return [line(ctx, at, `${' '.repeat(columnOf(list))}- ${more}`)];
}

/** The first thing of a group or list that has been empty, or a single word such as `not taken`, until now. */
function begin(ctx: Context, node: unknown, slot: Slot, depth: number): Splices {
  if (isScalar(node) && node.type?.startsWith('BLOCK')) return null;
  const rest = ctx.path.slice(depth);
  const { start, end } = slot;
  if (depth === 0) {
    const at = ctx.text.length;
    return [line(ctx, at, `${rest[0]}:${underKey(ctx, rest.slice(1), 0)}`)];
  }
  // The readings themselves and lists get lines of their own, small groups in braces behind their key.
  const spreads = depth === 1 || typeof rest[0] === 'number';
  if (slot.flow || slot.below === null || !spreads) {
    const before = /[:-]/.test(ctx.text[start - 1] ?? '') ? ' ' : '';
    return [{ start, end, text: before + inBraces(rest, ctx.value) }];
  }
  const lines = underKey(ctx, rest, slot.indent).replace(/^\r?\n/, '');
  return [{ start, end, text: '' }, line(ctx, slot.below, lines)];
}

/** What follows `key:`, the space or line end included. */
function underKey(ctx: Context, rest: KeyPath, indent: number): string {
  const [head, ...more] = rest;
  const column = ' '.repeat(indent + 2);
  if (typeof head === 'number') return `${ctx.newline}${column}- ${inBraces(more, ctx.value)}`;
  const top = ctx.path.length - rest.length === 1;
  if (head === undefined || !top) return ` ${inBraces(rest, ctx.value)}`;
  return `${ctx.newline}${column}${head}:${underKey(ctx, more, indent + 2)}`;
}

function inBraces(rest: KeyPath, value: NewValue): string {
  const [head, ...more] = rest;
  if (head === undefined) return writtenValue(value);
  return typeof head === 'number' ? `[ ${inBraces(more, value)} ]` : `{ ${head}: ${inBraces(more, value)} }`;
}

function writtenValue(value: NewValue): string {
  if (typeof value === 'string') return yamlText(value);
  const parts = Object.entries(value).map(([key, text]) => `${key}: ${yamlText(text)}`);
  return `{ ${parts.join(', ')} }`;
}

function line(ctx: Context, at: number, text: string): Splice {
  const joined = at > 0 && ctx.text[at - 1] !== '\n';
  return { start: at, end: at, text: `${joined ? ctx.newline : ''}${text}${ctx.newline}` };
}

/** Column of the keys of a group, or of the hyphens of a list. */
function columnOf(node: unknown): number {
  const token = (node as { readonly srcToken?: { readonly indent?: number } }).srcToken;
  return token?.indent ?? 0;
}

/** A value in the quotes that the one before it had. */
function quotedAs(type: Scalar.Type | undefined | null, value: string): string {
  if (type === 'QUOTE_DOUBLE') return yamlQuoted(value);
  // biome-ignore lint/suspicious/noControlCharactersInRegex: they are not allowed between single quotes
  const simple = !/[\u0000-\u001f\u007f-\u009f\u2028\u2029\ufeff]/.test(value);
  if (type === 'QUOTE_SINGLE' && simple) return `'${value.replaceAll("'", "''")}'`;
  return yamlText(value);
}
