import { mkdirSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { formatProblem } from '../../lib/archive/problem-text.ts';
import { checkBrewery, checkSetups } from '../../lib/archive/schema/check-tables.ts';
import { JSON_SCHEMAS } from '../../lib/archive/schema/json-schema.ts';
import { readYamlWithProblems } from '../../lib/archive/yaml/problems.ts';
import { STOVES, type Stove } from '../../lib/batch/model/stoves.ts';
import { brewAgainText } from '../../lib/commands/support/copy-batch.ts';
import { breweryText, type Kitchen, setupsText } from '../../lib/commands/support/first-files.ts';
import { type NewBatch, newBatchText } from '../../lib/commands/support/new-batch-text.ts';
import { slugFor } from '../../lib/commands/support/slug.ts';
import { loadSite } from '../../lib/site/archive.ts';
import { yamlText } from '../../lib/units/yaml-text.ts';
import { place, write } from './run.ts';

const SAMPLE: NewBatch = {
  title: 'Winding Hole Bitter',
  number: 12,
  brewed: '2026-02-14',
  units: 'metric',
  setups: ['stove', 'small'],
  kettle_L: 15,
  fermenter_L: 25,
};

/** The keys of a JSON Schema, at any depth. */
function keysOf(node: unknown): string[] {
  if (Array.isArray(node)) return node.flatMap(keysOf);
  if (typeof node !== 'object' || node === null) return [];
  const own =
    'properties' in node && typeof node.properties === 'object' ? Object.keys(node.properties ?? {}) : [];
  return [...own, ...Object.values(node).flatMap(keysOf)];
}

/** The template with every key that is behind a # taken into use. */
const uncommented = (text: string): string =>
  text.replaceAll(/^(\s*)# (\s*)((?:[a-z_]+: |[a-z_]+:$|- \{).*|Never leaves.*)$/gm, '$1$2$3');

const made = place([]);
afterAll(made.remove);

async function problemsOf(text: string, kit: string, units: string): Promise<string[]> {
  mkdirSync(join(made.content, 'batches'), { recursive: true });
  rmSync(made.batch('it'), { force: true });
  write(join(made.content, 'setups.yaml'), kit);
  write(join(made.content, 'brewery.yaml'), `name: Test\nunits: ${units}\n`);
  write(made.batch('it'), text);
  const site = await loadSite(made.content);
  return site.problems.map(formatProblem);
}

const KITS = [
  ['a large pot', 'kettle: 33 L', 33, 30],
  ['a middling pot', 'kettle: 15 L', 15, 25],
  ['a small pot', 'kettle: 9 L', 9, 7],
  ['a saucepan on a low flame', 'kettle: 4 L\n  boil_off: 0.8 L/h\n  kettle_loss: 0.2 L', 4, 5],
] as const;

describe.each(['metric', 'us'] as const)('the files of the first evening in %s units', (units) => {
  const kitchen: Kitchen = {
    name: 'Anna’s: #1',
    units,
    paper: 'a4',
    pot: units === 'us' ? '4 gal' : '15 L',
    stove: 'induction',
    fermenter: units === 'us' ? '6.5 gal' : '25 L',
    chilling: 'coil',
    height: units === 'us' ? '500 ft' : '150 m',
  };
  const setupOf = (text: string) =>
    checkSetups(readYamlWithProblems(text).value, units).setups.get('stove') ?? expect.fail(text);

  it.each(Object.keys(STOVES) as Stove[])('are sound for: %s', (stove) => {
    const setup = setupOf(setupsText({ ...kitchen, stove }));
    expect([setup.heat_kW.value, setup.heat_kW.assumed]).toEqual([STOVES[stove].heat_kW, false]);
    // 2256.5 kJ/kg of steam (IAPWS-IF97): a kilowatt boils away 1.595 kg in an hour, and no more than that.
    expect(setup.boilOff_L_per_h.value).toBeLessThanOrEqual(Math.max(2.5, 1.6 * STOVES[stove].heat_kW));
    expect(setup.boilOff_L_per_h.assumed).toBe(stove !== 'small gas ring');
    expect([setup.chill.with, Math.round(setup.altitude_m.value)]).toEqual([
      'coil',
      units === 'us' ? 152 : 150,
    ]);
  });

  it('are sound where every line behind a # is taken into use', () => {
    const once = setupsText(kitchen).replaceAll(/^ {2}(?:heat|chill): .*\n/gm, '');
    const text = once.replaceAll(/^ {2}# (\w+: )/gm, '  $1');
    expect(text.match(/^ {2}\w+: /gm)?.length).toBeGreaterThan(17);
    expect(setupOf(text).refractometerFactor.assumed).toBe(false);
    const brewery = checkBrewery(
      readYamlWithProblems(breweryText(kitchen).replaceAll(/^# (\w+: )/gm, '$1')).value,
    );
    expect(brewery.problems).toEqual([]);
    expect(brewery.brewery).toMatchObject({ name: 'Anna’s: #1', units, author: 'your name' });
  });

  it('speak of no other units', () => {
    if (units === 'us') expect(setupsText(kitchen)).not.toMatch(/\d (?:L|ml|g|kg|°C|m)\b/);
    else expect(setupsText(kitchen)).not.toMatch(/\d (?:gal|qt|fl oz|ft|°F)\b/);
  });
});

describe.each(['metric', 'us'] as const)('the file that is made for %s units', (units) => {
  it.each(KITS)('is without error or doubt for a kit and %s', async (_, kettle, kettle_L, fermenter_L) => {
    const text = newBatchText({ ...SAMPLE, units, setups: ['stove'], kettle_L, fermenter_L, kit: true });
    const said = await problemsOf(text, `stove:\n  ${kettle}\n  fermenter: ${fermenter_L} L\n`, units);
    expect(said).toEqual([]);
  });

  it('is without error for a kit where every key behind a # is taken into use', async () => {
    const text = uncommented(newBatchText({ ...SAMPLE, units, setups: ['stove'], kit: true }));
    const said = await problemsOf(text, 'stove:\n  kettle: 15 L\n  fermenter: 25 L\n', units);
    expect(said.filter((problem) => !/ {2}warning\n/.test(problem))).toEqual([]);
  });

  it.each(KITS)('is without error or doubt for %s', async (_, kettle, kettle_L, fermenter_L) => {
    const text = newBatchText({ ...SAMPLE, units, setups: ['stove'], kettle_L, fermenter_L });
    const said = await problemsOf(text, `stove:\n  ${kettle}\n  fermenter: ${fermenter_L} L\n`, units);
    expect(said).toEqual([]);
  });

  it('is without error where every key behind a # is taken into use', async () => {
    const text = uncommented(newBatchText({ ...SAMPLE, units, setups: ['stove'] }));
    expect(text).not.toMatch(/^\s*#\s+[a-z_]+:/m);
    const kit = 'stove:\n  kettle: 15 L\n  fermenter: 25 L\n';
    const said = await problemsOf(text, kit, units);
    expect(said.filter((problem) => !/ {2}warning\n/.test(problem))).toEqual([]);
  });
});

it('every key of the format stands in the file, explained or in an example', () => {
  const text = newBatchText(SAMPLE);
  // The kitchen comes with a recipe from elsewhere; a batch of one's own names a setup.
  const { kitchen, ...own } = JSON_SCHEMAS.batch().properties as Record<string, unknown>;
  expect(kitchen).toBeDefined();
  const keys = [...new Set(keysOf({ properties: own }))];
  expect(keys.length).toBeGreaterThan(60);
  expect(keys.filter((key) => !new RegExp(`\\b${key}:`).test(text))).toEqual([]);
});

it('a brewer with US units sees no metric amount', () => {
  const text = newBatchText({ ...SAMPLE, units: 'us' });
  // Sachets of yeast and billions of cells a gram are sold so everywhere.
  const amounts = text.replaceAll(/1[01] (?:g\b|billion\/g)/g, '');
  expect(amounts).not.toMatch(/\d (?:L|ml|g|kg|°C|EBC)\b/);
});

it.each([
  ['Éclair & Größe: l’été', 'eclair-and-grosse-lete'],
  ['  Towpath -- Pale №8 ', 'towpath-pale-no8'],
  ['Łódź Ærø', 'lodz-aero'],
  ['北海', null],
  ['CON', null],
])('the title %j becomes the file name %j', (title, slug) => expect(slugFor(title)).toBe(slug));

it.each([
  ['Winding Hole Bitter', 'Winding Hole Bitter'],
  ['No: 4 #2', '"No: 4 #2"'],
  ['"quoted"', '"\\"quoted\\""'],
  ['true', '"true"'],
  ['1984', '1984'],
])('the title %j is written as %s', (title, written) => expect(yamlText(title)).toBe(written));

describe('a batch that is brewed again', () => {
  const order = { title: 'Again', number: 3, brewed: '2026-03-01', basedOn: 'once' };
  const recipe = [
    'recipe:   # kept with its comments',
    '  into_fermenter:   10 L',
    "  boil: '30 min'",
    '',
    '  extract:',
    '  - {name: light dry extract,   weight: 1.2 kg} # two spaces stay',
    '',
  ].join('\n');
  const old = [
    '---\ntitle: Once\nnumber: 2\nbrewed: 2026-01-01\nstart: 13:30\nsetup: stove # here\nprivate: |\n  SECRET\n',
    recipe,
    'readings:\n  original_gravity: 1.044\n# about tags\ntags: [a]\n---\nNOTES\n',
  ].join('');

  it('has the recipe byte for byte, and nothing that belonged to the day', () => {
    const text = brewAgainText(old, order) ?? '';
    expect(text).toContain(recipe);
    expect(text).toMatch(
      /^---\ntitle: Again\nnumber: 3\nbrewed: 2026-03-01\n# start: 13:30\nbased_on: once\n/,
    );
    expect(text).toContain('setup: stove # here\n');
    expect(text).toContain('tags: [a]\n');
    expect(text).not.toMatch(/SECRET|NOTES|readings|original_gravity|2026-01-01/);
  });

  it.each([
    ['keys in one pair of braces', '---\n{ title: A, recipe: { boil: 0 min } }\n---\n'],
    ['a recipe that leans on another key', '---\nprivate: &x 30 min\nrecipe:\n  boil: *x\n---\n'],
    ['no recipe', '---\ntitle: A\n---\n'],
    ['no frontmatter', 'title: A\n'],
  ])('is refused where the old file has %s', (_, text) => {
    expect(brewAgainText(text, order)).toBeNull();
  });
});
