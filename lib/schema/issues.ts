import type { z } from 'zod';
import { nearest } from '../units/nearest.ts';
import type { KeyPath, Problem } from '../units/problem.ts';
import { type Fault, quoted, shapeOf } from './leaf.ts';
import { listed } from './scalars.ts';

type Issue = z.core.$ZodIssue;

/** Every issue of a failed parse as a problem; `root` is the path of the value that was parsed. */
export function problemsOf(
  issues: readonly Issue[],
  raw: unknown,
  schema: z.ZodType,
  root: KeyPath = [],
): Problem[] {
  return issues.flatMap((issue) => fromIssue(issue, raw, schema, [], root));
}

function fromIssue(
  issue: Issue,
  raw: unknown,
  schema: z.ZodType,
  base: KeyPath,
  root: KeyPath,
  alternative = '',
): Problem[] {
  const path = [...base, ...issue.path.map((part) => (typeof part === 'symbol' ? String(part) : part))];
  const at = [...root, ...path];
  const fault = faultOf(issue);
  if (fault !== null) {
    const { code, found, expected, mend } = fault;
    return [{ severity: 'error', code, path: at, found, expected: expected + alternative, mend }];
  }
  if (issue.code === 'unrecognized_keys') {
    const known = keysAt(schema, path);
    return issue.keys.map((key) => unknownKey(at, key, known));
  }
  if (issue.code === 'invalid_union') {
    const value = valueAt(raw, path);
    const branch = chosenBranch(issue.errors, value);
    const also = issue.errors.some((errors) => errors[0]?.code === 'invalid_value') ? ', or not taken' : '';
    return branch.flatMap((inner) => fromIssue(inner, raw, schema, path, root, also));
  }
  return [shapeProblem(issue, valueAt(raw, path), at, keysAt(schema, path), alternative)];
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
  const expected = list
    ? 'a list'
    : `a group of keys${keys === '' ? '' : `: ${keys}${known.length > 4 ? ', …' : ''}`}`;
  if (value === undefined || value === null) {
    return {
      severity: 'error',
      code: 'missing-key',
      path,
      found: 'nothing',
      expected: expected + also,
      mend: list ? 'write the list below the key' : 'write its keys below it',
    };
  }
  return {
    severity: 'error',
    code: 'wrong-shape',
    path,
    found: Array.isArray(value) && value.length === 0 ? 'an empty list' : shapeOf(value),
    expected: expected + also,
    mend: list
      ? 'begin each item with "- "'
      : 'write its keys below it, indented, each with a colon and a space',
  };
}

/** An unknown key, with the nearest known one; what an unquoted comma decimal leaves behind is told apart. */
function unknownKey(parent: KeyPath, key: string, known: readonly string[]): Problem {
  const path = [...parent, key];
  if (/^[0-9]+\s*(\D.*)?$/.test(key)) {
    return {
      severity: 'error',
      code: 'comma-decimal',
      path,
      found: `${quoted(key)} after a comma`,
      expected: 'a decimal comma in quotes, or a decimal point',
      mend: 'within braces a comma ends the value: write "1,5 kg" in quotes, or 1.5 kg',
    };
  }
  const near = nearest(key, known)[0];
  return {
    severity: 'error',
    code: 'unknown-key',
    path,
    found: quoted(key),
    expected: listed(known),
    mend: near === undefined ? 'remove the key, or move it to the notes' : `write ${near}`,
  };
}

/** Keys that a schema knows at a path, through lists, unions and optional parts. */
export function keysAt(schema: z.core.$ZodType, path: KeyPath): string[] {
  const def = schema._zod.def as unknown as {
    type: string;
    innerType?: z.core.$ZodType;
    element?: z.core.$ZodType;
    options?: readonly z.core.$ZodType[];
    shape?: Record<string, z.core.$ZodType>;
  };
  if (def.innerType !== undefined) return keysAt(def.innerType, path);
  if (def.options !== undefined) {
    return [...new Set(def.options.flatMap((option) => keysAt(option, path)))];
  }
  const [head, ...rest] = path;
  if (def.element !== undefined) return typeof head === 'number' ? keysAt(def.element, rest) : [];
  if (def.shape === undefined) return [];
  if (head === undefined) return Object.keys(def.shape);
  const next = Object.hasOwn(def.shape, head) ? def.shape[head] : undefined;
  return next === undefined ? [] : keysAt(next, rest);
}

export function valueAt(raw: unknown, path: KeyPath): unknown {
  let value = raw;
  for (const part of path) {
    if (typeof value !== 'object' || value === null || !Object.hasOwn(value, part)) return undefined;
    value = (value as Record<string | number, unknown>)[part];
  }
  return value;
}
