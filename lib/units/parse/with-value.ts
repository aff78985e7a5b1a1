import type { KeyPath } from '../problem.ts';

/**
 * Data with one value set, groups and lists made where they are missing: what a file must say after an edit. A single
 * group counts as the first of a list of one. Null takes the value away with its key, and with every group or list that
 * has nothing else in it. The data handed in stays as it is.
 */
export function withValue(data: unknown, path: KeyPath, value: string | null): unknown {
  return value === null ? (without(data, path) ?? {}) : withText(data, path, value);
}

function withText(data: unknown, path: KeyPath, value: string): unknown {
  const [head, ...rest] = path;
  if (head === undefined) return value;
  if (typeof head === 'number') {
    if (isGroup(data) && head === 0) return withText(data, rest, value);
    const list = Array.isArray(data) ? [...data] : isGroup(data) ? [data] : [];
    list[head] = withText(list[head], rest, value);
    return list;
  }
  const group = isGroup(data) ? data : {};
  return { ...group, [head]: withText(group[head], rest, value) };
}

/** Undefined where nothing is left. */
function without(data: unknown, path: KeyPath): unknown {
  const [head, ...rest] = path;
  if (head === undefined) return undefined;
  if (typeof head === 'number') {
    if (isGroup(data) && head === 0) return without(data, rest);
    if (!Array.isArray(data) || head >= data.length) return data;
    const item = without(data[head], rest);
    const list = data.flatMap((each, i) => (i === head ? (item === undefined ? [] : [item]) : [each]));
    return list.length === 0 ? undefined : list;
  }
  if (!isGroup(data) || !Object.hasOwn(data, head)) return data;
  const value = without(data[head], rest);
  if (value !== undefined) return { ...data, [head]: value };
  const { [head]: gone, ...kept } = data;
  return Object.keys(kept).length === 0 ? undefined : kept;
}

/** Keys with their values; no list. */
export const isGroup = (data: unknown): data is Readonly<Record<string, unknown>> =>
  typeof data === 'object' && data !== null && !Array.isArray(data);
