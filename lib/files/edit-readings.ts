import { isDeepStrictEqual } from 'node:util';
import { batchSchema } from '../schema/batch-schema.ts';
import { keysAt, valueAt } from '../schema/issues.ts';
import { type KeyPath, pathText } from '../units/problem.ts';
import { withValue } from '../units/with-value.ts';
import { splitFrontmatter } from './frontmatter.ts';
import { type NewValue, setYamlValue } from './yaml-edit.ts';
import { readYaml } from './yaml-read.ts';

/** One reading to be written: its path below `readings`, and its text; null empties it. */
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
 * Writes readings into the text of a batch file. Only the values concerned change, and keys that were not there come
 * in; comments, quotes, order, line ends and notes stay byte for byte.
 *
 * The result is read again and must hold exactly the old data and the changes; where it does not, nothing is changed
 * and the path that could not be written is told.
 */
export function editReadings(text: string, changes: readonly ReadingChange[]): Edited {
  const split = splitFrontmatter(text);
  const old = split.ok ? readYaml(split.yaml) : null;
  if (!split.ok || old === null || !old.ok) return { ok: false, path: null };
  let yaml = split.yaml;
  let data: unknown = old.value;
  for (const { path, value } of newRowsWhole(data, changes)) {
    const whole = ['readings', ...path];
    const next = setYamlValue(yaml, whole, value, orderOf);
    const read = next === null ? null : readYaml(next);
    data =
      typeof value === 'object' && value !== null
        ? Object.entries(value).reduce((row, [key, text]) => withValue(row, [...whole, key], text), data)
        : withValue(data, whole, value);
    if (next === null || !read?.ok || !isDeepStrictEqual(read.value, data)) return { ok: false, path };
    yaml = next;
  }
  const edited = text.slice(0, split.start) + yaml + text.slice(split.start + split.yaml.length);
  const again = splitFrontmatter(edited);
  const same = again.ok && again.yaml === yaml && again.notes === split.notes;
  return same ? { ok: true, text: edited } : { ok: false, path: null };
}

interface WholeChange {
  readonly path: KeyPath;
  readonly value: NewValue | null;
}

/** The values of a row that is not there yet, put together so that it is written at once. */
function newRowsWhole(data: unknown, changes: readonly ReadingChange[]): readonly WholeChange[] {
  const merged: WholeChange[] = [];
  for (const change of changes) {
    const [list, row, key, ...more] = change.path;
    const isRow = typeof row === 'number' && typeof key === 'string' && more.length === 0;
    const known = isRow && change.value !== null ? valueAt(data, ['readings', list ?? '', row]) : null;
    const last = merged.at(-1);
    if (
      !isRow ||
      change.value === null ||
      known !== undefined ||
      !Array.isArray(valueAt(data, ['readings', list ?? '']))
    ) {
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
