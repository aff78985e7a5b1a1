import { FAILSAFE_SCHEMA, load, nullCoreTag, YAMLException } from 'js-yaml';

/** Everything stays text as it was written; only what YAML 1.2 core calls null is null. */
const AS_WRITTEN = FAILSAFE_SCHEMA.withTags(nullCoreTag);

export const MAX_DEPTH = 32;
export const MAX_ALIASES = 100;
/** Values of a file with its aliases unfolded; a long batch has some hundred, a long table some thousand. */
export const MAX_VALUES = 20_000;

export type YamlResult =
  | { readonly ok: true; readonly value: unknown }
  | {
      readonly ok: false;
      readonly reason: 'too large' | 'syntax';
      readonly message: string;
      readonly offset: number;
    };

/**
 * Reads YAML 1.2 with every scalar as text. Deep, much aliased or endless documents are refused in time that is
 * linear in the text.
 *
 * @param lenient lets a later duplicate key win, so that the rest of a file can still be checked
 */
export function readYaml(text: string, lenient = false): YamlResult {
  let value: unknown;
  try {
    value = blank(text)
      ? null
      : load(text, { schema: AS_WRITTEN, maxDepth: MAX_DEPTH, maxAliases: MAX_ALIASES, json: lenient });
  } catch (error) {
    const message = error instanceof YAMLException ? error.reason : String(error);
    const offset = error instanceof YAMLException ? (error.mark?.position ?? 0) : 0;
    const reason = /exceeded max/.test(message) || error instanceof RangeError ? 'too large' : 'syntax';
    return { ok: false, reason, message, offset };
  }
  if (withinBounds(value)) return { ok: true, value };
  return { ok: false, reason: 'too large', message: 'too many values', offset: 0 };
}

function blank(text: string): boolean {
  return text.split('\n').every((line) => /^\s*(#|$)/.test(line));
}

function withinBounds(root: unknown): boolean {
  let values = 0;
  const visit = (value: unknown, depth: number): boolean => {
    values += 1;
    if (values > MAX_VALUES || depth > MAX_DEPTH) return false;
    if (typeof value !== 'object' || value === null) return true;
    for (const item of Array.isArray(value) ? value : Object.values(value)) {
      if (!visit(item, depth + 1)) return false;
    }
    return true;
  };
  return visit(root, 0);
}
