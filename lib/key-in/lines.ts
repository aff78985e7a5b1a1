import { isGroup, withValue } from '../units/parse/with-value.ts';
import { yamlText } from '../units/yaml-text.ts';
import type { Change } from './changes.ts';
import { type Blank, groupAt, type Raw } from './key-in.ts';

/**
 * The whole `readings:` of a batch file as it should be, in lines to paste into its frontmatter: what it says now and what
 * was keyed in, in the order of the paper; empty where nothing is left.
 */
export function readingsLines(raw: Raw, blanks: readonly Blank[], changes: readonly Change[]): string {
  const keyed = changes.filter(({ value }) => value !== null);
  // Last, and the last row first: until then every path leads where it led before.
  const gone = changes.filter(({ value }) => value === null).sort((a, b) => rowOf(b) - rowOf(a));
  const readings = [...keyed, ...gone].reduce<unknown>(
    (data, { path, value }) => withValue(data, path, value),
    groupAt(raw, 'readings'),
  );
  if (!isGroup(readings) || Object.keys(readings).length === 0) return '';
  const order = [...new Set(blanks.map(({ place }) => String(place.of)))];
  const keys = Object.keys(readings).sort((a, b) => rank(order, a) - rank(order, b));
  const lines = keys.flatMap((key) => linesOf(key, readings[key]));
  return `readings:\n${lines.map((line) => `  ${line}\n`).join('')}`;
}

const rowOf = ({ path }: Change): number => (typeof path[1] === 'number' ? path[1] : 0);

const rank = (order: readonly string[], key: string): number =>
  order.includes(key) ? order.indexOf(key) : order.length;

function linesOf(key: string, value: unknown): readonly string[] {
  if (value === null || value === undefined || value === '') return [];
  if (!Array.isArray(value)) return [`${key}: ${inline(value)}`];
  return [`${key}:`, ...value.map((item) => `  - ${inline(item)}`)];
}

function inline(value: unknown): string {
  if (Array.isArray(value)) return `[ ${value.map(inline).join(', ')} ]`;
  if (!isGroup(value)) return yamlText(String(value ?? ''));
  const filled = Object.entries(value).filter(([, item]) => item !== null && item !== '');
  return `{ ${filled.map(([key, item]) => `${key}: ${inline(item)}`).join(', ')} }`;
}
