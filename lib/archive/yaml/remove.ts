import { isMap, isSeq, type Pair, Parser, visit } from 'yaml';
import type { KeyPath } from '../../units/problem.ts';
import { colonAfter, endOf, isBlank, lineEnd, lineStart, pairsOf, parseInPlace, rangeOf } from './places.ts';

type Range = readonly [start: number, end: number];

interface Context {
  readonly text: string;
  /** Where comments begin, and the commas between items. */
  readonly comments: readonly number[];
  readonly commas: readonly number[];
  /** Values that run over several lines: an empty line in one belongs to it. */
  readonly scalars: readonly Range[];
}

/**
 * Takes one key, or one item of a list, out of a YAML text with all that it holds. Every comment stays, also those beside
 * it and in it, and so does every other byte. Returns null where the text cannot be edited so: aliases, doubled or
 * unusual keys, a path that is not there.
 */
export function removeYamlValue(text: string, path: KeyPath): string | null {
  const document = parseInPlace(text);
  const last = path.at(-1);
  if (document === null || last === undefined) return null;
  let parent: unknown = document.contents;
  for (const part of path.slice(0, -1)) {
    if (isMap(parent)) parent = pairOf(parent.items as Pair[], part)?.value;
    else if (isSeq(parent) && typeof part === 'number') parent = parent.items[part];
    else return null;
  }
  const scalars: Range[] = [];
  visit(document, {
    Scalar: (_, node) => {
      const range = rangeOf(node);
      if (range !== undefined && text.slice(...range).includes('\n')) scalars.push(range);
    },
  });
  const ctx = { text, scalars, comments: tokensOf(text, 'comment'), commas: tokensOf(text, 'comma') };
  if (isMap(parent)) return fromMap(ctx, parent.items as Pair[], parent.flow === true, last);
  if (isSeq(parent) && typeof last === 'number') {
    const { items } = parent;
    const item = items[last];
    if (item === undefined || hasAnchor(item)) return null;
    const spans = items.map((each) => rangeOf(each) ?? ([0, 0] as const));
    if (parent.flow) return fromFlow(ctx, spans, last);
    const hyphen = hyphenOf(parent, last);
    if (hyphen === undefined) return null;
    return withoutLines(ctx, hyphen, Math.max(hyphen + 1, endOf(item)));
  }
  return null;
}

function pairOf(pairs: readonly Pair[], part: string | number): Pair | undefined {
  const [found, ...more] = pairsOf(pairs, part);
  return more.length === 0 ? found : undefined;
}

const hasAnchor = (node: unknown): boolean =>
  typeof (node as { readonly anchor?: unknown } | null)?.anchor === 'string';

function spanOf(text: string, { key, value }: Pair): Range {
  const [start, keyEnd] = rangeOf(key) ?? [0, 0];
  const colon = keyEnd + colonAfter(text, keyEnd);
  return [start, isBlank(value) ? colon : Math.max(colon, endOf(value))];
}

function fromMap(ctx: Context, pairs: readonly Pair[], flow: boolean, key: string | number): string | null {
  const pair = pairOf(pairs, key);
  if (pair === undefined || isExplicit(pair)) return null;
  const index = pairs.indexOf(pair);
  const spans = pairs.map((each) => spanOf(ctx.text, each));
  if (flow) return fromFlow(ctx, spans, index);
  const [start, end] = spans[index] ?? [0, 0];
  const before = ctx.text.slice(lineStart(ctx.text, start), start);
  if (before.trim() === '') return withoutLines(ctx, start, end);
  // Behind a hyphen: the next key takes its place.
  const next = spans[index + 1]?.[0];
  if (!/^ *- +$/.test(before) || next === undefined) return null;
  const plain = /^[ \t]*\r?\n? *$/.test(ctx.text.slice(end, next));
  if (plain && !ctx.comments.some((at) => at > start && at < end)) return cut(ctx.text, [[start, next]]);
  return withoutLines(ctx, start, end);
}

/** `? key` is written over two lines, and `? key : value` in one: nobody writes readings so. */
function isExplicit(pair: Pair): boolean {
  const token = (pair as { readonly srcToken?: { readonly start?: readonly { readonly type: string }[] } })
    .srcToken;
  return token?.start?.some(({ type }) => type === 'explicit-key-ind') ?? false;
}

/** One of several between brackets or braces, with the comma that parted it from its neighbour. */
function fromFlow(ctx: Context, spans: readonly Range[], index: number): string | null {
  const own = spans[index];
  if (own === undefined) return null;
  const [start, end] = own;
  const next = spans[index + 1]?.[0];
  const before = spans[index - 1]?.[1];
  const gap: Range = before === undefined ? [end, next ?? end] : [before, start];
  const within = (at: number) => at >= gap[0] && at < gap[1];
  if (!ctx.comments.some(within)) return cut(ctx.text, [[Math.min(start, gap[0]), Math.max(end, gap[1])]]);
  const comma = ctx.commas.find(within);
  return comma === undefined ? null : cut(ctx.text, [own, [comma, comma + 1]]);
}

/**
 * Takes out the lines of a key or item. A comment beside one of them stays in its place; lines of comments and empty lines
 * stay as they are.
 */
function withoutLines({ text, comments, scalars }: Context, from: number, end: number): string | null {
  const start = lineStart(text, from);
  const stop = lineEnd(text, end);
  const head = text.slice(start, from);
  const kept: string[] = [];
  for (let at = start; at < stop; at = lineEnd(text, at + 1)) {
    const to = lineEnd(text, at + 1);
    const line = text.slice(at, to);
    const comment = comments.find((place) => place >= at && place < to);
    const inScalar = scalars.some(([first, last]) => first < at && at < last);
    if (comment !== undefined) {
      const alone = text.slice(at, comment).trim() === '';
      kept.push(alone ? line : `${at === start ? head : ' '.repeat(head.length)}${text.slice(comment, to)}`);
    } else if (at === start && head.trim() !== '') {
      kept.push(`${head.trimEnd()}${/\r?\n$/.exec(line)?.[0] ?? ''}`);
    } else if (line.trim() === '' && !inScalar) {
      kept.push(line);
    }
  }
  return text.slice(0, start) + kept.join('') + text.slice(stop);
}

const cut = (text: string, spans: readonly Range[]): string =>
  [...spans]
    .sort((a, b) => b[0] - a[0])
    .reduce((left, [start, end]) => left.slice(0, start) + left.slice(end), text);

interface Token {
  readonly type?: string;
  readonly offset?: number;
  readonly [part: string]: unknown;
}

const PARTS = ['start', 'key', 'sep', 'value', 'items', 'end', 'props'];

function tokensOf(text: string, type: string): readonly number[] {
  const found: number[] = [];
  const look = (at: unknown): void => {
    if (Array.isArray(at)) {
      for (const each of at) look(each);
      return;
    }
    if (typeof at !== 'object' || at === null) return;
    const token = at as Token;
    if (token.type === type && typeof token.offset === 'number') found.push(token.offset);
    for (const part of PARTS) look(token[part]);
  };
  look([...new Parser().parse(text)]);
  return found;
}

function hyphenOf(list: unknown, index: number): number | undefined {
  const { srcToken } = list as { readonly srcToken?: { readonly items?: readonly Token[] } };
  const start = srcToken?.items?.[index]?.start as readonly Token[] | undefined;
  return start?.find(({ type }) => type === 'seq-item-ind')?.offset;
}
