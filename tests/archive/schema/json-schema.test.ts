import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { Ajv2020 } from 'ajv/dist/2020.js';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { JSON_SCHEMAS, type JsonSchema } from '../../../lib/archive/schema/json-schema.ts';
import { splitFrontmatter } from '../../../lib/archive/yaml/frontmatter.ts';
import { CLOCKS, MOMENTS } from '../../units/reading.cases.ts';
import { FULL_BATCH, FULL_SETUPS } from './full-batch.ts';

const root = join(import.meta.dirname, '../../..');
const ajv = new Ajv2020({ allowUnionTypes: true, strict: true, strictTypes: false });
const validateBatch = ajv.compile(JSON_SCHEMAS.batch());

/** As an editor reads it: YAML 1.2 core. */
const asEditor = (text: string): unknown => parse(text);

function frontmatter(text: string): string {
  const split = splitFrontmatter(text);
  if (!split.ok) throw new Error(split.problem.code);
  return split.yaml;
}

const golden = join(root, 'tests/archive/schema/golden/broken/batches');
/** Slips that only show when keys are held against each other, against the tables or against the calendar. */
const BEYOND_A_SCHEMA =
  /^(addition-after-boil|stand|steep|mash|day|key-not|keg|divided|unknown-(setup|ingredient|batch)|setup|wrong-list|figure|not-for|base-malt|bad-slug|no-such-day|out-of-range|text-too-long|attenuation|not-a-score|units|times|unusual|readings-contradict)/;

describe('the JSON Schema of a batch file', () => {
  it('takes a file with every key', () => {
    validateBatch(asEditor(frontmatter(FULL_BATCH)));
    expect(validateBatch.errors ?? []).toEqual([]);
  });

  it.each([...MOMENTS, ...CLOCKS].map(([text]) => text))('takes the day or time %s', (text) => {
    const keys = frontmatter(readFileSync(join(root, 'content/batches/first-water.md'), 'utf8'));
    const clock = CLOCKS.some(([clock]) => clock === text);
    const readings = clock ? { boil_started: text } : { tasted: [{ on: text }] };
    validateBatch({ ...(asEditor(keys) as object), readings });
    expect(validateBatch.errors ?? []).toEqual([]);
  });

  const batches = readdirSync(join(root, 'content/batches')).filter((name) => name.endsWith('.md'));
  it.each(['', ...batches].filter((name) => name !== ''))('takes content/batches/%s', (name) => {
    validateBatch(asEditor(frontmatter(readFileSync(join(root, 'content/batches', name), 'utf8'))));
    expect(validateBatch.errors ?? []).toEqual([]);
  });

  const slips = readdirSync(golden).filter(
    (name) => !/^(yaml|frontmatter|alias)-/.test(name) && !BEYOND_A_SCHEMA.test(name),
  );
  it('has slips to be held against', () => expect(slips.length).toBeGreaterThanOrEqual(7));
  it.each(slips)('refuses the slip in %s', (name) => {
    const raw = asEditor(frontmatter(readFileSync(join(golden, name), 'utf8')));
    expect(validateBatch(raw)).toBe(false);
  });

  it.each([
    ['a number without its unit', { into_fermenter: 19 }],
    ['an unknown key', { kettle: '15 L' }],
    ['a list where a value belongs', { boil: ['60 min'] }],
    ['an item without its weight', { hops: [{ name: 'Fuggle', add: '60 min' }] }],
    ['a time of adding that is none', { hops: [{ name: 'Fuggle', weight: '3 g', add: 'flamout' }] }],
    ['an unknown place', { package: { into: 'barrel', carbonation: '1 vol' } }],
  ])('refuses %s', (_, change) => {
    const recipe = { into_fermenter: '19 L', boil: '60 min' };
    expect(validateBatch({ title: 'x', recipe })).toBe(true);
    expect(validateBatch({ title: 'x', recipe: { ...recipe, ...change } })).toBe(false);
  });

  it('says something of every key', () => {
    const bare: string[] = [];
    const visit = (node: unknown, path: string): void => {
      if (typeof node !== 'object' || node === null) return;
      for (const [key, value] of Object.entries(node as JsonSchema)) {
        if (key !== 'properties') visit(value, path);
        else {
          for (const [name, property] of Object.entries(value as Record<string, JsonSchema>)) {
            if (typeof property.description !== 'string') bare.push(`${path}.${name}`);
            visit(property, `${path}.${name}`);
          }
        }
      }
    };
    for (const schema of [
      JSON_SCHEMAS.batch(),
      JSON_SCHEMAS.setups(),
      JSON_SCHEMAS.brewery(),
      JSON_SCHEMAS.ingredients(),
    ]) {
      visit(schema, '');
    }
    expect(bare).toEqual([]);
  });
});

describe('the JSON Schemas of the other files', () => {
  it('take a kit with every key and refuse a slip', () => {
    const validate = ajv.compile(JSON_SCHEMAS.setups());
    validate(asEditor(FULL_SETUPS));
    expect(validate.errors ?? []).toEqual([]);
    expect(validate({ stove: { kettle: '15 L', boil_of: '2 L/h' } })).toBe(false);
    expect(validate({ stove: { heat: '2 kW' } })).toBe(false);
  });

  it('take a brewery and refuse other units', () => {
    const validate = ajv.compile(JSON_SCHEMAS.brewery());
    expect(validate({ name: 'The lock house', units: 'us', paper: 'letter' })).toBe(true);
    expect(validate({ name: 'The lock house', units: 'imperial' })).toBe(false);
  });

  it('take every table of shared/ and refuse a row without a kind', () => {
    const validate = ajv.compile(JSON_SCHEMAS.ingredients());
    for (const name of readdirSync(join(root, 'shared')).filter((file) => file.endsWith('.yaml'))) {
      validate(asEditor(readFileSync(join(root, 'shared', name), 'utf8')));
      expect(validate.errors ?? [], name).toEqual([]);
    }
    expect(validate([{ name: 'hedge malt' }])).toBe(false);
  });
});
