import { isDeepStrictEqual } from 'node:util';
import { withValue } from '../../units/parse/with-value.ts';
import { type KeyPath, pathText } from '../../units/problem.ts';
import { batchSchema } from '../schema/batch-schema.ts';
import { keysAt, valueAt } from '../schema/issues.ts';
import { type NewValue, setYamlValue } from '../yaml/edit.ts';
import { splitFrontmatter } from '../yaml/frontmatter.ts';
import { readYaml } from '../yaml/read.ts';
import { removeYamlValue } from '../yaml/remove.ts';

/** One reading to be written: its path below `readings`, and its text; null takes it out with its key. */
export interface ReadingChange {
  readonly path: KeyPath;
  readonly value: string | null;
}

export type Edited =
  | { readonly ok: true; readonly text: string }
  | { readonly ok: false; readonly path: KeyPath | null };

/** Keys of a group of readings in the order of the format. */
function orderOf(path: KeyPath): readonly string[] | null {
  return path[0] === 'readings' ? keysAt(batchSchema('metric'), path) : null;
}

/**
 * Writes readings into the text of a batch file. Only the values concerned change, keys that were not there come in, and
 * emptied ones go, with their group where nothing else is in it; comments, quotes, order, line ends and notes stay byte
 * for byte.
 *
 * The result is read again and must hold exactly the old data and the changes; where it does not, nothing is changed
 * and the path that could not be written is returned.
 */
export function editReadings(text: string, changes: readonly ReadingChange[]): Edited {
  const split = splitFrontmatter(text);
  const old = split.ok ? readYaml(split.yaml) : null;
  if (!split.ok || old === null || !old.ok) return { ok: false, path: null };
  let yaml = split.yaml;
  let data: unknown = old.value;
  for (const { path, value } of newRowsWhole(data, changes.filter(isKeyed))) {
    const whole = ['readings', ...path];
    const next = setYamlValue(yaml, whole, value, orderOf);
    const read = next === null ? null : readYaml(next);
    data =
      typeof value === 'object'
        ? Object.entries(value).reduce((row, [key, text]) => withValue(row, [...whole, key], text), data)
        : withValue(data, whole, value);
    if (next === null || !read?.ok || !isDeepStrictEqual(read.value, data)) return { ok: false, path };
    yaml = next;
  }
  // Last, and the last row first: until then every path leads where it led before.
  for (const { path } of changes.filter((change) => !isKeyed(change)).sort(lastRowFirst)) {
    const whole = ['readings', ...path];
    const left = withValue(data, whole, null);
    if (isDeepStrictEqual(left, data)) continue;
    const next = removeYamlValue(yaml, goneAt(data, left, whole));
    const read = next === null ? null : readYaml(next);
    if (next === null || !read?.ok || !isDeepStrictEqual(read.value ?? {}, left)) return { ok: false, path };
    data = left;
    yaml = next;
  }
  const edited = text.slice(0, split.start) + yaml + text.slice(split.start + split.yaml.length);
  const again = splitFrontmatter(edited);
  const same = again.ok && again.yaml === yaml && again.notes === split.notes;
  return same ? { ok: true, text: edited } : { ok: false, path: null };
}

interface WholeChange {
  readonly path: KeyPath;
  readonly value: NewValue;
}

type Keyed = ReadingChange & { readonly value: string };

const isKeyed = (change: ReadingChange): change is Keyed => change.value !== null;

function lastRowFirst({ path: a }: ReadingChange, { path: b }: ReadingChange): number {
  const at = a.findIndex((part, i) => part !== b[i]);
  const [one = '', other = ''] = [a[at], b[at]];
  if (typeof one === 'number' && typeof other === 'number') return other - one;
  return String(one) < String(other) ? -1 : 1;
}

/** What has gone from a file: the value at a path, or the outermost group or list that had nothing else in it. */
function goneAt(before: unknown, after: unknown, path: KeyPath): KeyPath {
  const way: (string | number)[] = [];
  let [had, has] = [before, after];
  for (const part of path) {
    // One thing in place of a list of one.
    if (typeof part === 'number' && !Array.isArray(had)) continue;
    way.push(part);
    const stays = Array.isArray(had)
      ? Array.isArray(has) && has.length === had.length
      : Object.hasOwn(Object(has), part);
    if (!stays) return way;
    [had, has] = [valueAt(had, [part]), valueAt(has, [part])];
  }
  return way;
}

/** The values of a row that is not there yet, put together so that it is written at once. */
function newRowsWhole(data: unknown, changes: readonly Keyed[]): readonly WholeChange[] {
  const merged: WholeChange[] = [];
  for (const change of changes) {
    const [list, row, key, ...more] = change.path;
    const isRow = typeof row === 'number' && typeof key === 'string' && more.length === 0;
    const known = isRow ? valueAt(data, ['readings', list ?? '', row]) : null;
    const last = merged.at(-1);
    if (!isRow || known !== undefined || !Array.isArray(valueAt(data, ['readings', list ?? '']))) {
      merged.push(change);
    } else if (
      last !== undefined &&
      typeof last.value === 'object' &&
      pathText(last.path) === pathText([list ?? '', row])
    ) {
      merged[merged.length - 1] = { path: last.path, value: { ...last.value, [key]: change.value } };
    } else {
      merged.push({ path: [list ?? '', row], value: { [key]: change.value } });
    }
  }
  return merged;
}
