import { z } from 'zod';
import { batchSchema } from './batch-schema.ts';
import { brewerySchema } from './brewery-schema.ts';
import { rowSchema } from './ingredients-schema.ts';
import { setupSchema } from './setups-schema.ts';

export type JsonSchema = { [key: string]: unknown };

/** JSON Schema (2020-12) of each file of the brewer's: an editor completes and checks by it. */
export const JSON_SCHEMAS = {
  /**
   * The frontmatter. An editor that reads the whole file as YAML takes the notes below it for a second document, a text or a
   * list: those are let pass, since a schema can't tell which document it is asked about.
   */
  batch: (): JsonSchema => ({
    ...forEditors(batchSchema('metric'), 'Batch file'),
    type: ['object', 'string', 'array', 'null'],
  }),
  brewery: (): JsonSchema => forEditors(brewerySchema, 'Brewery'),
  setups: (): JsonSchema => {
    const { $schema, ...setup } = forEditors(setupSchema('metric'), 'Setup');
    return { $schema, title: 'Setups', type: 'object', additionalProperties: setup };
  },
  ingredients: (): JsonSchema => {
    const { $schema, ...row } = forEditors(rowSchema('metric', 'grain'), 'Ingredient');
    return { $schema, title: 'Ingredients', type: ['array', 'null'], items: row };
  },
} as const;

function forEditors(schema: z.ZodType, title: string): JsonSchema {
  const made = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any', target: 'draft-2020-12' });
  return { ...tidy(made as JsonSchema), title };
}

/** Turns what the leaf schemas say of themselves into JSON Schema words, and nested alternatives into flat ones. */
function tidy(node: JsonSchema): JsonSchema {
  const { samples, choices, anyOf, ...rest } = node;
  const made: JsonSchema = {};
  for (const [key, value] of Object.entries(rest))
    made[key] = key === 'properties' ? eachTidy(value) : inner(value);
  if (Array.isArray(choices)) {
    made.enum = choices.map(asYaml);
    if (made.type === 'string' && choices.some((word) => asYaml(word) !== word)) delete made.type;
  }
  if (Array.isArray(samples) && samples.length > 0)
    made.examples = samples.map((sample) => asExample(sample, made.type));
  if (Array.isArray(anyOf)) {
    const described = anyOf.find((branch: JsonSchema) => branch.description !== undefined);
    if (made.description === undefined && described !== undefined) made.description = described.description;
    const branches = anyOf
      .map((branch: JsonSchema) => tidy(branch))
      .flatMap((branch) => (isOnlyAnyOf(branch) ? branch.anyOf : [branch]));
    return { ...orEmpty(branches), ...made };
  }
  return made;
}

/** A key that may be left empty: its own schema with null let in, so that the editor sees one description. */
function orEmpty(branches: readonly JsonSchema[]): JsonSchema {
  const [first, second] = branches;
  if (branches.length !== 2 || first === undefined || second?.type !== 'null') return { anyOf: branches };
  const types = Array.isArray(first.type) ? first.type : [first.type];
  return {
    ...first,
    ...(first.type === undefined ? {} : { type: [...types, 'null'] }),
    ...(Array.isArray(first.enum) ? { enum: [...first.enum, null] } : {}),
  };
}

function inner(value: unknown): unknown {
  if (typeof value !== 'object' || value === null) return value;
  return Array.isArray(value) ? value : tidy(value as JsonSchema);
}

function eachTidy(properties: unknown): JsonSchema {
  const entries = Object.entries(properties as Record<string, JsonSchema>);
  return Object.fromEntries(entries.map(([key, value]) => [key, tidy(value)]));
}

function isOnlyAnyOf(branch: JsonSchema): branch is JsonSchema & { anyOf: JsonSchema[] } {
  return (
    Array.isArray(branch.anyOf) &&
    Object.keys(branch).every((key) => key === 'anyOf' || key === 'description')
  );
}

function asExample(sample: unknown, type: unknown): unknown {
  return type === 'integer' || type === 'number' ? Number(sample) : asYaml(sample);
}

/** A word as YAML reads it: `true` is no text to an editor. */
function asYaml(word: unknown): unknown {
  if (word === 'true') return true;
  if (word === 'false') return false;
  return word;
}
