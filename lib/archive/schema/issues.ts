import type { z } from 'zod';
import { nearest } from '../../units/parse/nearest.ts';
import { errorAt, type KeyPath, type Problem } from '../../units/problem.ts';
import { yamlText } from '../../units/yaml-text.ts';
import { listed } from './scalars.ts';
import { type Fault, fault, quoted, shapeOf } from './value-fault.ts';

type Issue = z.core.$ZodIssue;

/** In one group; a file with more of them is no file of ours, and one more message does not help. */
const MOST_UNKNOWN_KEYS = 50;
/** In one file; each is looked for among all keys of its group. */
const MOST_COMMA_DECIMALS = 20;
const NOT_TAKEN = 'not taken';

/** What was parsed, by which schema; `root` is its path in the file. */
interface Parsed {
  readonly raw: unknown;
  readonly schema: z.ZodType;
  readonly root: KeyPath;
  /** Places of the keys that misspelt ones are meant for; found on the way. */
  readonly meant: Set<string>;
}

/** Every issue of a failed parse as a problem; `root` is the path of the value that was parsed. */
export function problemsOf(
  issues: readonly Issue[],
  raw: unknown,
  schema: z.ZodType,
  root: KeyPath = [],
): Problem[] {
  const of = { raw, schema, root, meant: new Set<string>() };
  const problems = issues.flatMap((issue) => fromIssue(issue, of));
  return withoutTwins(joinCommaDecimals(problems, of), of);
}

/** @param also what is expected instead of this form */
function fromIssue(issue: Issue, of: Parsed, base: KeyPath = [], also = ''): Problem[] {
  const path = [...base, ...issue.path.map((part) => (typeof part === 'symbol' ? String(part) : part))];
  const at = [...of.root, ...path];
  const value = valueAt(of.raw, path);
  const wrong = faultOf(issue);
  if (wrong !== null) {
    const { code, found, sample } = wrong;
    const expected = wrong.expected + also;
    if (code === 'missing-key' && value === undefined)
      return [errorAt(at, fault(code, { expected, line: keyLine(path, sample) }))];
    const meant = also !== '' && nearest(found.replaceAll('"', ''), [NOT_TAKEN]).length > 0;
    return [errorAt(at, { ...wrong, expected, ...(meant ? { mend: `write ${NOT_TAKEN}` } : {}) })];
  }
  const known = keysAt(of.schema, path);
  if (issue.code === 'unrecognized_keys')
    return issue.keys.slice(0, MOST_UNKNOWN_KEYS).map((key) => unknownKey(at, key, known, of.meant));
  if (issue.code === 'invalid_union') {
    const refusable = issue.errors.some((errors) => errors[0]?.code === 'invalid_value');
    const or = refusable ? `, or ${NOT_TAKEN}` : '';
    return chosenBranch(issue.errors, value).flatMap((inner) =>
      fromIssue(inner, of, path, inner.path.length === 0 ? or : ''),
    );
  }
  return [shapeProblem(issue, value, at, known, also)];
}

/** What to add for a key that is not there: whole lines only near the top, below they may be in braces. */
function keyLine(path: KeyPath, sample: string | undefined): string {
  const key = String(path[path.length - 1] ?? '');
  if (sample === undefined) return `${key}: with its value`;
  const nested = path.length > 2 || path.some((part) => typeof part === 'number');
  return `${nested ? 'for example' : 'the line'} ${key}: ${yamlText(sample)}`;
}

function faultOf(issue: Issue): Fault | null {
  if (issue.code !== 'custom') return null;
  const fault: unknown = issue.params?.fault;
  return typeof fault === 'object' && fault !== null ? (fault as Fault) : null;
}

/** Of the forms that a key may take, the one that the brewer meant: the first whose outer shape fits. */
function chosenBranch(branches: readonly (readonly Issue[])[], value: unknown): readonly Issue[] {
  const shapeFits = (branch: readonly Issue[]) =>
    !branch.some((issue) => issue.path.length === 0 && /^invalid_(type|value)$/.test(issue.code ?? ''));
  const fitting = branches.filter(shapeFits);
  if (fitting.length > 0) return fitting[0] ?? [];
  const wantsList = Array.isArray(value);
  const last = branches[branches.length - 1] ?? [];
  return wantsList ? (branches[0] ?? last) : last;
}

function shapeProblem(
  issue: Issue,
  value: unknown,
  path: KeyPath,
  known: readonly string[],
  also: string,
): Problem {
  const list = issue.code === 'too_small' || (issue.code === 'invalid_type' && issue.expected === 'array');
  const keys = known.slice(0, 4).join(', ');
  const group = `a group of keys${keys === '' ? '' : `: ${keys}${known.length > 4 ? ', …' : ''}`}`;
  const expected = `${list ? 'a list' : group}${also}`;
  if (value === undefined || value === null) {
    const line = `${String(path.at(-1))}: and write its ${list ? 'list' : 'keys'} below it`;
    const what = list ? 'the list below the key' : 'its keys below it';
    return errorAt(path, fault('missing-key', { expected, ...(value === undefined ? { line } : { what }) }));
  }
  const found = Array.isArray(value) && value.length === 0 ? 'an empty list' : shapeOf(value);
  const mend = list
    ? { item: 'item with "- "' }
    : { what: 'its keys below it, indented, each with a colon and a space' };
  return errorAt(path, fault('wrong-shape', { found, expected, ...mend }));
}

function unknownKey(parent: KeyPath, key: string, known: readonly string[], meant: Set<string>): Problem {
  const near = nearest(key, known)[0];
  if (near !== undefined) meant.add(JSON.stringify([...parent, near]));
  return errorAt([...parent, key], fault('unknown-key', { key: quoted(key), known: listed(known), near }));
}

/** Whether a group has a key that it may not have, and that is most likely meant for this one. */
export function isMisspelt(key: string, group: unknown, known: readonly string[]): boolean {
  if (typeof group !== 'object' || group === null) return false;
  const unknown = Object.keys(group).filter((name) => !known.includes(name));
  return unknown.slice(0, MOST_UNKNOWN_KEYS).some((name) => nearest(name, known)[0] === key);
}

/**
 * `{ weight: 1,5 kg }` is read as a weight of `1` and a key `5 kg`. The two problems that follow are reported as the
 * one slip that they are, at the value.
 */
function joinCommaDecimals(problems: readonly Problem[], { raw, schema, root }: Parsed): Problem[] {
  const joined: Problem[] = [];
  const settled = new Set<string>();
  for (const { code, path } of problems) {
    const rest = String(path[path.length - 1] ?? '');
    if (joined.length >= MOST_COMMA_DECIMALS) break;
    if (code !== 'unknown-key' || !/^[0-9]+(\D.*)?$/.test(rest)) continue;
    const parent = path.slice(0, -1);
    const key = wholeNumberKey(valueAt(raw, parent.slice(root.length)), rest);
    if (key === null) continue;
    const whole = String(valueAt(raw, [...parent.slice(root.length), key]));
    const at = [...parent, key];
    const counted = typeAt(schema, at.slice(root.length)) === 'integer';
    const decimal = counted ? {} : { decimal: '', pointed: `${whole}.${rest}` };
    joined.push(errorAt(at, fault('comma-decimal', { key, written: `${whole},${rest}`, ...decimal })));
    settled.add(JSON.stringify(path)).add(JSON.stringify(at));
  }
  return [...problems.filter(({ path }) => !settled.has(JSON.stringify(path))), ...joined];
}

/**
 * A key that is needed and misspelt is one slip: the misspelt key is reported with its mend, and not that
 * the right one is missing.
 */
function withoutTwins(problems: readonly Problem[], { raw, root, meant }: Parsed): Problem[] {
  return problems.filter(
    ({ code, path }) =>
      code !== 'missing-key' ||
      !meant.has(JSON.stringify(path)) ||
      valueAt(raw, path.slice(root.length)) !== undefined,
  );
}

/** The key whose value is the part before the comma: the one before it, else the only whole number there is. */
function wholeNumberKey(group: unknown, rest: string): string | null {
  if (typeof group !== 'object' || group === null || Array.isArray(group)) return null;
  const keys = Object.keys(group);
  const isWhole = (key: string | undefined): key is string => {
    const value = key === undefined || key === rest ? null : (group as Record<string, unknown>)[key];
    return typeof value === 'string' && /^[0-9]+$/.test(value);
  };
  const before = keys[keys.indexOf(rest) - 1];
  if (isWhole(before)) return before;
  const whole = keys.filter(isWhole);
  return whole.length === 1 ? (whole[0] ?? null) : null;
}

interface Def {
  readonly innerType?: z.core.$ZodType;
  readonly element?: z.core.$ZodType;
  readonly options?: readonly z.core.$ZodType[];
  readonly shape?: Readonly<Record<string, z.core.$ZodType>>;
}

/** Every schema that may be at a path, through lists, unions and optional parts, outermost first. */
function schemasAt(schema: z.core.$ZodType, path: KeyPath): readonly z.core.$ZodType[] {
  const { innerType, element, options, shape } = schema._zod.def as unknown as Def;
  const own = path.length === 0 ? [schema] : [];
  if (innerType !== undefined) return [...own, ...schemasAt(innerType, path)];
  if (options !== undefined) return [...own, ...options.flatMap((option) => schemasAt(option, path))];
  const [head, ...rest] = path;
  if (head === undefined) return own;
  if (element !== undefined) return typeof head === 'number' ? schemasAt(element, rest) : [];
  const next = shape !== undefined && Object.hasOwn(shape, head) ? shape[head] : undefined;
  return next === undefined ? [] : schemasAt(next, rest);
}

/** Keys that a schema knows at a path. */
export function keysAt(schema: z.core.$ZodType, path: KeyPath): string[] {
  const shapes = schemasAt(schema, path).map((found) => (found._zod.def as unknown as Def).shape ?? {});
  return [...new Set(shapes.flatMap((shape) => Object.keys(shape)))];
}

/** The JSON type of the value at a path. */
const typeAt = (schema: z.core.$ZodType, path: KeyPath): unknown =>
  schemasAt(schema, path)
    .map((found) => (found as z.ZodType).meta()?.type)
    .find((type) => type !== undefined);

export function valueAt(raw: unknown, path: KeyPath): unknown {
  let value = raw;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part)) return undefined;
    value = (value as Record<string | number, unknown>)[part];
  }
  return value;
}
