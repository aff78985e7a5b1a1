import { isGroup } from '../../units/parse/with-value.ts';
/** What becomes of the columns of a foreign table: our own small file, `column: key of the batch file`. */
import { pathText } from '../../units/problem.ts';

export type Path = readonly (string | number)[];

export type DateForm = 'year-month-day' | 'day-month-year' | 'month-day-year';
const DATE_FORMS: readonly DateForm[] = ['year-month-day', 'day-month-year', 'month-day-year'];

export interface ColumnRule {
  readonly column: string;
  /** Where it goes; `notes` is the text below the frontmatter. */
  readonly path: Path;
  readonly unit: string | null;
  readonly date: DateForm | null;
  /** Cells that are replaced by other words, by what is in them. */
  readonly words: ReadonlyMap<string, string>;
}

export interface ImportMap {
  readonly columns: readonly ColumnRule[];
  readonly always: readonly { readonly path: Path; readonly value: string }[];
  readonly separator: string | undefined;
  readonly decimalComma: boolean;
}

export type MapRead =
  | { readonly ok: true; readonly map: ImportMap }
  | { readonly ok: false; readonly faults: readonly string[] };

const KEY = /^[a-z][a-z_]*(?:\[\d{1,2}\])?(?:\.[a-z][a-z_]*(?:\[\d{1,2}\])?)*$/;
/** Names that mean something to the language itself, and nothing in a batch file. */
const NEVER = new Set(['constructor', 'prototype']);
const SIGNS: Readonly<Record<string, string>> = { comma: ',', semicolon: ';', tab: '\t' };

/** A key path as it is written, `recipe.hops[1].weight`; null where it is none. */
export function keyPath(text: string): Path | null {
  if (!KEY.test(text)) return null;
  const path = text
    .split('.')
    .flatMap((part) => /^([a-z_]+)(?:\[(\d+)\])?$/.exec(part)?.slice(1) ?? [])
    .filter((part) => part !== undefined)
    .map((part) => (/^\d+$/.test(part) ? Number(part) : part));
  return path.some((part) => NEVER.has(String(part))) ? null : path;
}

/** Checks a map that was read as YAML, every scalar as text; faults are plain sentences, all of them at once. */
export function readImportMap(raw: unknown): MapRead {
  const faults: string[] = [];
  if (!isGroup(raw)) return { ok: false, faults: ['The map has no keys; it needs at least columns:.'] };
  for (const key of Object.keys(raw)) {
    if (!['columns', 'always', 'separator', 'decimal'].includes(key)) {
      faults.push(`${key}: is not known; a map has columns, always, separator and decimal.`);
    }
  }
  const columns = isGroup(raw.columns) ? raw.columns : {};
  if (Object.keys(columns).length === 0)
    faults.push('columns: is missing or empty; write column: key, one a line.');
  const rules = Object.entries(columns).flatMap(([column, rule]) => columnRule(column, rule, faults) ?? []);
  const given = isGroup(raw.always) ? raw.always : {};
  if (raw.always !== undefined && !isGroup(raw.always))
    faults.push('always: wants keys, such as setup: stove.');
  const always = Object.entries(given).flatMap(([key, value]) => {
    const path = keyPath(key);
    if (path === null || typeof value !== 'string') {
      faults.push(`always.${key}: wants a key of the batch file and one value.`);
      return [];
    }
    return [{ path, value }];
  });
  const separator = sign(raw.separator, faults);
  if (raw.decimal !== undefined && raw.decimal !== 'comma' && raw.decimal !== 'point') {
    faults.push('decimal: is comma or point.');
  }
  twice(rules, always, faults);
  if (faults.length > 0) return { ok: false, faults };
  return { ok: true, map: { columns: rules, always, separator, decimalComma: raw.decimal === 'comma' } };
}

function sign(raw: unknown, faults: string[]): string | undefined {
  if (raw === undefined) return undefined;
  const found =
    typeof raw === 'string'
      ? (SIGNS[raw] ?? (Object.values(SIGNS).includes(raw) ? raw : undefined))
      : undefined;
  if (found === undefined) faults.push('separator: is comma, semicolon or tab.');
  return found;
}

function columnRule(column: string, rule: unknown, faults: string[]): ColumnRule | null {
  const say = (what: string): null => {
    faults.push(`columns.${column}: ${what}`);
    return null;
  };
  const group: Readonly<Record<string, unknown>> =
    typeof rule === 'string' ? { key: rule } : isGroup(rule) ? rule : {};
  const { key, unit, date, words, ...rest } = group;
  for (const other of Object.keys(rest))
    say(`${other} is not known; a column has key, unit, date and words.`);
  const path = typeof key === 'string' ? keyPath(key) : null;
  if (path === null) return say('wants a key of the batch file, such as recipe.hops[0].weight, or notes.');
  if (unit !== undefined && typeof unit !== 'string') return say('unit wants one unit, such as kg.');
  const form = date === undefined ? null : DATE_FORMS.find((one) => one === date);
  if (form === undefined) return say(`date is one of ${DATE_FORMS.join(', ')}.`);
  const pairs = words === undefined ? {} : isGroup(words) ? words : null;
  if (pairs === null || Object.values(pairs).some((word) => typeof word !== 'string')) {
    return say('words wants pairs: what the table says, and what to write instead.');
  }
  return {
    column,
    path,
    unit: unit ?? null,
    date: form,
    words: new Map(Object.entries(pairs).map(([from, to]) => [from.trim(), String(to)])),
  };
}

/** Two sources for one key would have to fight; notes are strung together. */
function twice(
  rules: readonly ColumnRule[],
  always: readonly { readonly path: Path }[],
  faults: string[],
): void {
  const seen = new Set<string>();
  for (const { path } of [...rules, ...always]) {
    const key = pathText(path);
    if (seen.has(key) && key !== 'notes') faults.push(`${key} is filled twice.`);
    seen.add(key);
  }
}
