import { isMap, isScalar, type Pair, parseDocument } from 'yaml';
import type { KeyPath } from '../units/problem.ts';
import { splitFrontmatter } from './frontmatter.ts';

/**
 * A batch file without its `readings:`, every other byte kept: what brewing it again begins with. A text without
 * frontmatter that can be split, or without readings, comes back as it was.
 */
export function stripReadings(text: string): string {
  const split = splitFrontmatter(text);
  if (!split.ok) return text;
  const document = parseDocument(split.yaml, { schema: 'failsafe', uniqueKeys: false, logLevel: 'silent' });
  if (!isMap(document.contents) || document.errors.length > 0) return text;
  const pairs = document.contents.items as Pair[];
  const index = pairs.findIndex((pair) => isScalar(pair.key) && pair.key.value === 'readings');
  const key = pairs[index]?.key;
  if (!isScalar(key) || !key.range) return text;
  const start = lineStart(split.yaml, key.range[0]);
  // Comments and blank lines above the next key belong to that key.
  const next = pairs[index + 1]?.key;
  const limit = isScalar(next) && next.range ? lineStart(split.yaml, next.range[0]) : split.yaml.length;
  const end = start + ownLines(split.yaml.slice(start, limit));
  const from = split.start;
  return text.slice(0, from + start) + text.slice(from + end);
}

/** How much of a block belongs to its key: all up to the last line that is indented or begins it. */
function ownLines(block: string): number {
  let end = 0;
  let offset = 0;
  for (const [index, line] of block.split(/(?<=\n)/).entries()) {
    offset += line.length;
    if (index === 0 || /^[ \t-]+[^\s]|^[}\]]/.test(line)) end = offset;
  }
  return end;
}

function lineStart(text: string, offset: number): number {
  return text.lastIndexOf('\n', offset - 1) + 1;
}

/**
 * Replaces one value of the frontmatter, every other byte kept. The value is written in double quotes where plain
 * text would mean something else. Returns null where the path names no single value.
 */
export function spliceScalar(text: string, path: KeyPath, value: string): string | null {
  const split = splitFrontmatter(text);
  if (!split.ok) return null;
  const document = parseDocument(split.yaml, { schema: 'failsafe', uniqueKeys: false, logLevel: 'silent' });
  const node: unknown = document.getIn(path, true);
  if (!isScalar(node) || !node.range || node.type === 'BLOCK_LITERAL' || node.type === 'BLOCK_FOLDED')
    return null;
  const [start, end] = node.range;
  const written = plainIsSafe(value) ? value : JSON.stringify(value);
  const before = split.yaml[start - 1] === ':' ? ' ' : '';
  return text.slice(0, split.start + start) + before + written + text.slice(split.start + end);
}

/** Text that YAML reads as itself, in braces too. */
function plainIsSafe(value: string): boolean {
  return /^[\p{L}\p{N}][\p{L}\p{N} .%°/@+±-]*(?::[\p{L}\p{N}]+)*$/u.test(value) && value.trim() === value;
}
