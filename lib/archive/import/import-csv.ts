/** Old batches from a table: each row becomes a batch file that passes every check, or the reason is reported. */
import { stringify } from 'yaml';
import { planBatch } from '../../batch/plan/plan-batch.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import { type KeyPath, type Problem, pathText } from '../../units/problem.ts';
import { checkBatch, type Surroundings } from '../schema/check-batch.ts';
import { splitFrontmatter } from '../yaml/frontmatter.ts';
import { readYaml } from '../yaml/read.ts';
import type { CsvRow } from './csv-read.ts';
import type { ColumnRule, ImportMap, Path } from './import-map.ts';

export interface Imported {
  readonly line: number;
  /** The file's name without its ending, and its text; null where nothing could be written. */
  readonly file: { readonly slug: string; readonly text: string } | null;
  /** Plain sentences: what could not be used, or why the row is left out. */
  readonly said: readonly string[];
}

export interface ImportAround extends Surroundings {
  readonly brewery: Brewery;
  /** File name for a title; null where none can be made. */
  readonly slugFor: (title: string) => string | null;
  /** Names that are in use, in small letters. */
  readonly taken: ReadonlySet<string>;
}

interface Assigned {
  readonly path: Path;
  readonly value: string;
  readonly column: string | null;
}

/** Columns that the map names and the table has not, and the other way round. */
export function headerFaults(header: readonly string[], map: ImportMap): string[] {
  const names = header.map((name) => name.trim());
  const faults = map.columns
    .filter(({ column }) => !names.includes(column))
    .map(({ column }) => `The map names the column "${column}", which the table does not have.`);
  const double = names.filter((name, i) => name !== '' && names.indexOf(name) !== i);
  return [...faults, ...[...new Set(double)].map((name) => `The table has the column "${name}" twice.`)];
}

/** Columns that nothing is taken from. */
export const unusedColumns = (header: readonly string[], map: ImportMap): string[] =>
  header
    .map((name) => name.trim())
    .filter((name) => name !== '' && map.columns.every(({ column }) => column !== name));

/**
 * Turns rows into batch files. A recipe is taken whole or not at all: a row with a part of its recipe that cannot be used is
 * left out. Any other cell that cannot be used is left out alone, and reported. No name is used twice, and none that is taken.
 */
export function importRows(
  header: readonly string[],
  rows: readonly CsvRow[],
  map: ImportMap,
  around: ImportAround,
): Imported[] {
  const names = header.map((name) => name.trim());
  const taken = new Set(around.taken);
  return rows.map((row) => {
    const found = importRow(names, row, map, { ...around, taken });
    if (found.file !== null) taken.add(found.file.slug);
    return found;
  });
}

/** Without any of these there is nothing to ferment: the cells are empty, or the map misses the columns. */
const FERMENTABLES = new Set(['grain', 'extract', 'sugar']);

function importRow(names: readonly string[], row: CsvRow, map: ImportMap, around: ImportAround): Imported {
  const said: string[] = [];
  const leftOut = (why: string): Imported => ({ line: row.line, file: null, said: [...said, why] });
  if (row.cells.length > names.length) {
    return leftOut(`the row has ${row.cells.length} cells for ${names.length} columns`);
  }
  const cells = new Map(names.map((name, i) => [name, (row.cells[i] ?? '').trim()]));
  const { assigned, notes } = assign(cells, map, said);
  const title = assigned.find(({ path }) => pathText(path) === 'title')?.value;
  if (title === undefined) return leftOut('the row has no title');
  const slug = around.slugFor(title);
  if (slug === null) return leftOut(`no file name can be made from the title "${title}"`);
  if (around.taken.has(slug)) return leftOut(`${slug}.md is there already and stays as it is`);
  if (!assigned.some(({ path }) => FERMENTABLES.has(String(path[1])))) {
    return leftOut('recipe: the row has neither grain nor extract nor sugar');
  }

  let values = closedUp(assigned);
  for (;;) {
    const raw = nested(values);
    const checked = checkBatch(slug, raw, notes, around);
    const error = checked.problems.find(({ severity }) => severity === 'error');
    if (error === undefined && checked.batch !== null) {
      const text = fileText(raw, notes);
      const wrong = wrongAsWritten(slug, text, around);
      if (wrong !== null) return leftOut(wrong);
      return { line: row.line, file: { slug, text }, said };
    }
    if (error === undefined) return leftOut('the setup that it names has errors of its own');
    const without = withoutCause(values, error.path);
    if (without === null) return leftOut(sentenceOf(error, values));
    said.push(`left out: ${withoutDay(error, values, without) ?? sentenceOf(error, values)}`);
    values = closedUp(without);
  }
}

/** The file as it would be read again: what is written must pass, not what was meant. */
function wrongAsWritten(slug: string, text: string, around: ImportAround): string | null {
  const split = splitFrontmatter(text);
  const yaml = split.ok ? readYaml(split.yaml) : null;
  if (!split.ok || yaml === null || !yaml.ok) return 'its texts cannot be written as YAML';
  const checked = checkBatch(slug, yaml.value as Record<string, unknown>, split.notes, around);
  const plan = checked.batch === null ? null : planBatch(checked.batch, around.brewery);
  const problems = plan === null || plan.ok ? checked.problems : plan.problems;
  const error = problems.find(({ severity }) => severity === 'error');
  if (error !== undefined) return sentenceOf(error, []);
  return plan === null ? 'the setup that it names has errors of its own' : null;
}

function assign(
  cells: ReadonlyMap<string, string>,
  map: ImportMap,
  said: string[],
): { assigned: Assigned[]; notes: string } {
  const assigned: Assigned[] = [];
  const notes: string[] = [];
  for (const rule of map.columns) {
    const cell = cells.get(rule.column) ?? '';
    if (cell === '') continue;
    if (pathText(rule.path) === 'notes') {
      notes.push(cell);
      continue;
    }
    const value = cellValue(cell, rule, map);
    if (value === null) said.push(`left out: column "${rule.column}": ${noDate(cell, rule)}`);
    else assigned.push({ path: rule.path, value, column: rule.column });
  }
  for (const { path, value } of map.always) {
    const item = itemOf(path);
    // What every hop gets is for the hops that are there.
    const wanted = item === null || assigned.some((one) => one.column !== null && itemOf(one.path) === item);
    const byColumns = item !== null && map.columns.some((rule) => itemOf(rule.path) === item);
    if (wanted || !byColumns) assigned.push({ path, value, column: null });
  }
  return { assigned, notes: notes.join('\n\n') };
}

const BARE_NUMBER = /^[-+]?\d+(?:\.\d+)?$/;

function cellValue(cell: string, rule: ColumnRule, map: ImportMap): string | null {
  const word = rule.words.get(cell);
  if (word !== undefined) return word;
  if (rule.date !== null) return isoDate(cell, rule.date);
  const plain = map.decimalComma ? cell.replace(/^([-+]?\d+),(\d+)/, '$1.$2') : cell;
  return rule.unit !== null && BARE_NUMBER.test(plain) ? `${plain} ${rule.unit}` : plain;
}

/** A date of four-digit year in a given order, any separator; null where it is none. */
function isoDate(cell: string, form: NonNullable<ColumnRule['date']>): string | null {
  const numbers = /^(\d{1,4})[-./ ](\d{1,2})[-./ ](\d{1,4})$/
    .exec(cell.replace(/[T ]\d{1,2}:\d{2}.*$/, ''))
    ?.slice(1);
  if (numbers === undefined) return null;
  const order = form.split('-');
  const [year = '', month = '', day = ''] = ['year', 'month', 'day'].map(
    (part) => numbers[order.indexOf(part)],
  );
  if (year.length !== 4 || month.length > 2 || day.length > 2) return null;
  return `${year}-${month.padStart(2, '0')}-${day.padStart(2, '0')}`;
}

/** Why a cell is no date of its column; a year of two digits could be of any century. */
function noDate(cell: string, { date }: ColumnRule): string {
  const shortYear =
    date !== null && isoDate(cell, date) === null && isoDate(withCentury(cell, date), date) !== null;
  return shortYear
    ? `the year in "${cell}" needs four digits, for example 2026`
    : `"${cell}" is no ${date} date`;
}

/** A date with its year of two digits, if that is what it has, made one of four. */
function withCentury(cell: string, form: NonNullable<ColumnRule['date']>): string {
  return form.startsWith('year')
    ? cell.replace(/^(\d{2})(?=\D)/, '20$1')
    : cell.replace(/^(\d{1,2}\D\d{1,2}\D)(\d{2})(?!\d)/, '$120$2');
}

/** The list item that a path lies in, `recipe.hops[1]`; null where it lies in none. */
function itemOf(path: KeyPath): string | null {
  const at = path.findLastIndex((part) => typeof part === 'number');
  return at < 0 ? null : pathText(path.slice(0, at + 1));
}

/** Lists without gaps: the third hop of a table with two hops is the second. */
function closedUp(assigned: readonly Assigned[]): Assigned[] {
  const indices = new Map<string, Set<number>>();
  for (const { path } of assigned) {
    path.forEach((part, i) => {
      if (typeof part !== 'number') return;
      const list = pathText(path.slice(0, i));
      indices.set(list, (indices.get(list) ?? new Set()).add(part));
    });
  }
  const rank = (list: string, index: number) =>
    [...(indices.get(list) ?? [])].sort((a, b) => a - b).indexOf(index);
  return assigned.map((one) => ({
    ...one,
    path: one.path.map((part, i) =>
      typeof part === 'number' ? rank(pathText(one.path.slice(0, i)), part) : part,
    ),
  }));
}

/** Values as the nested keys of a file, in the order of the map. */
function nested(assigned: readonly Assigned[]): Record<string, unknown> {
  const root: Record<string, unknown> = {};
  for (const { path, value } of assigned) {
    let at: Record<string | number, unknown> = root;
    path.forEach((part, i) => {
      if (i === path.length - 1) at[part] = value;
      else {
        at[part] ??= typeof path[i + 1] === 'number' ? [] : {};
        const next = at[part];
        // A key that is filled with a value cannot hold keys as well: the value wins, the schema says so.
        if (typeof next === 'object' && next !== null) at = next as Record<string | number, unknown>;
      }
    });
  }
  return root;
}

const startsWith = (path: KeyPath, start: KeyPath): boolean =>
  start.length <= path.length && start.every((part, i) => path[i] === part);

/** The values less what an error is about; null where the row cannot do without it. */
function withoutCause(values: readonly Assigned[], path: KeyPath): readonly Assigned[] | null {
  if (path.length === 0 || path[0] === 'recipe' || path[0] === 'title' || path[0] === 'setup') return null;
  // The value itself, else the item or group that is incomplete without it.
  for (let length = path.length; length > 0; length--) {
    const start = path.slice(0, length);
    if (length < 2 && start[0] === 'readings' && path.length > 1) return null;
    const rest = values.filter((one) => !startsWith(one.path, start));
    if (rest.length < values.length) return rest;
  }
  return null;
}

/** Groups of readings that say nothing without their day, by what was done on it. */
const DAY_OF: Readonly<Record<string, string>> = {
  pitched: 'pitching',
  fermentation: 'the reading',
  packaged: 'packaging',
  tasted: 'tasting',
  abandoned: 'giving up',
};
/** What a bare number of such a group counts. */
const COUNTED: Readonly<Record<string, string>> = { bottles: 'bottles', score: 'points' };

/** Cells that are left out only because the row has no day for them; null where it is something else. */
function withoutDay(
  error: Problem,
  values: readonly Assigned[],
  without: readonly Assigned[],
): string | null {
  const key = pathText(error.path);
  const day = DAY_OF[String(error.path[1])];
  const missing = error.code === 'missing-key' && error.path[0] === 'readings' && error.path.at(-1) === 'on';
  if (!missing || day === undefined) return null;
  const left = values.filter((one) => one.column !== null && !without.includes(one));
  const cells = left.map(({ path, value, column }) => {
    const counted = /^\d+([.,]\d+)?$/.test(value) ? COUNTED[String(path.at(-1))] : undefined;
    return `${counted === undefined ? `"${value}"` : `${value} ${counted}`} (column "${column}")`;
  });
  return `${cells.join(', ')}: the row has no day of ${day}; give it a date in a column for ${key}`;
}

function sentenceOf(problem: Problem, values: readonly Assigned[]): string {
  const from = values.find(({ path }) => pathText(path) === pathText(problem.path))?.column;
  const where = from ? `column "${from}" (${pathText(problem.path)})` : pathText(problem.path) || 'the row';
  return `${where}: found ${problem.found}; expected ${problem.expected}; ${problem.mend}`;
}

/** Keys in the order in which a batch file is usually written; others follow. */
const ORDER = [
  ...['title', 'number', 'brewed', 'start', 'setup', 'style', 'tags', 'based_on', 'publish', 'private'],
  ...['recipe', 'readings', 'name', 'into_fermenter', 'boil', 'boil_volume', 'steep', 'mash', 'grain'],
  ...['extract', 'sugar', 'hops', 'stand', 'other', 'yeast', 'ferment', 'package'],
];
const place = (key: string): number => (ORDER.includes(key) ? ORDER.indexOf(key) : ORDER.length);

function inOrder(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(inOrder);
  if (typeof value !== 'object' || value === null) return value;
  const keys = Object.entries(value).sort(([a], [b]) => place(a) - place(b));
  return Object.fromEntries(keys.map(([key, inner]) => [key, inOrder(inner)]));
}

/** The batch file: every value as the text that it is, in quotes only where it would read as something else; notes below. */
function fileText(raw: Readonly<Record<string, unknown>>, notes: string): string {
  const ordered = inOrder(raw);
  const plain = stringify(ordered, { schema: 'failsafe', lineWidth: 0 });
  const back = readYaml(plain);
  const same = back.ok && JSON.stringify(back.value) === JSON.stringify(ordered);
  const yaml = same ? plain : stringify(ordered, { lineWidth: 0 });
  return `---\n${yaml}---\n${notes === '' ? '' : `${notes}\n`}`;
}
