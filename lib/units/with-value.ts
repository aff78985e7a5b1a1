import type { KeyPath } from './problem.ts';

/**
 * Data with one value set, groups and lists made where they are missing: what a file must say after an edit. A single
 * group counts as the first of a list of one. Null empties a value that is there. The data handed in stays as it is.
 */
export function withValue(data: unknown, path: KeyPath, value: string | null): unknown {
  const [head, ...rest] = path;
  if (head === undefined) return value;
  if (typeof head === 'number') {
    if (isGroup(data) && head === 0) return withValue(data, rest, value);
    const list = Array.isArray(data) ? [...data] : isGroup(data) ? [data] : [];
    if (value === null && head >= list.length) return data;
    list[head] = withValue(list[head], rest, value);
    return list;
  }
  const group = isGroup(data) ? data : {};
  if (value === null && !Object.hasOwn(group, head)) return data;
  return { ...group, [head]: withValue(group[head], rest, value) };
}

const isGroup = (data: unknown): data is Record<string, unknown> =>
  typeof data === 'object' && data !== null && !Array.isArray(data);
