import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { checkBatch } from '../../../lib/archive/schema/check-batch.ts';
import { checkSetups, checkTable } from '../../../lib/archive/schema/check-tables.ts';
import { findRow, tablesOf } from '../../../lib/archive/schema/names.ts';
import { splitFrontmatter } from '../../../lib/archive/yaml/frontmatter.ts';
import { readYaml } from '../../../lib/archive/yaml/read.ts';
import { SETUP_DEFAULTS } from '../../../lib/batch/model/defaults.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
import { FULL_BATCH, FULL_SETUPS } from './full-batch.ts';

function yaml(text: string): unknown {
  const read = readYaml(text);
  if (!read.ok) throw new Error(read.message);
  return read.value;
}

const table = readFileSync(join(import.meta.dirname, 'golden/tables/all.yaml'), 'utf8');
const tables = tablesOf(checkTable(yaml(table), 'metric').rows);

function setupsOf(text: string): Setup {
  const { setups, problems } = checkSetups(yaml(text), 'metric');
  expect(problems).toEqual([]);
  const [setup] = setups.values();
  if (!setup) throw new Error('no setup');
  return setup;
}

describe('a batch with every key', () => {
  const split = splitFrontmatter(FULL_BATCH);
  if (!split.ok) throw new Error('frontmatter');
  const setups = checkSetups(yaml(FULL_SETUPS), 'metric').setups;
  const { batch, problems } = checkBatch('x', yaml(split.yaml) as Record<string, unknown>, split.notes, {
    units: 'metric',
    setups,
    tables,
  });

  it('has no problem', () => expect(problems).toEqual([]));

  it('keeps every figure as it was written and in the internal unit', () => {
    expect(batch?.recipe.intoFermenter_L).toEqual({ value: 19, u: null, written: '19 L' });
    expect(batch?.recipe.hops[0]?.weight_g).toEqual({ value: 30, u: 1, written: '30 ± 1 g' });
    expect(batch?.recipe.sugar[0]?.weight_g).toMatchObject({ value: 250, written: '0,25 kg' });
    expect(batch?.readings.original_gravity).toMatchObject({ scale: 'sg', value: 1.05, written: '1.050' });
    expect(batch?.readings.boil_end_volume).toMatchObject({ value: 9.7, at_C: 60 });
    expect(batch?.readings.boil_end_gravity).toMatchObject({ scale: 'brix', value: 22.5 });
    expect(batch?.recipe.extract[2]?.bitterness).toMatchObject({ ibu: 25, in_L: 23, labelWeight_g: 1700 });
    expect(batch?.start).toBe('13:30');
    expect(batch?.publish).toBe('recipe');
    expect(batch?.notes).toBe('What I would change.\n');
  });

  it('tells an empty reading from one that was not taken', () => {
    expect(batch?.readings).not.toHaveProperty('final_gravity');
    expect(batch?.readings.mash_in).toBe('not taken');
    expect(batch?.readings.additions).toEqual([
      { at: '60 min', minutesLeft: 60, what: null, clock: '14:50' },
      { at: 'flameout', minutesLeft: null, what: null, clock: 'not taken' },
    ]);
  });

  it('takes the middle of a band, with the uncertainty of a rectangular distribution', () => {
    const half = 0.01 / 2 / Math.sqrt(3); // JCGM 100, 4.3.7: half-width over the root of three
    expect(batch?.recipe.hops[1]?.alpha.value).toBeCloseTo(0.045, 12);
    expect(batch?.recipe.hops[1]?.alpha.u).toBeCloseTo(half, 12);
    expect(batch?.recipe.hops[2]?.alpha).toMatchObject({ from: 'table' });
    expect(batch?.recipe.hops[2]?.alpha.u).toBeCloseTo(0.02 / 2 / Math.sqrt(3), 12);
  });

  it('knows the gas of the priming sugar and what the bottles are made for', () => {
    expect(batch?.recipe.packaging[0]).toMatchObject({
      sugar: { name: 'table sugar', co2_g_per_g: 0.5143, extract: 1 },
      limit: { unit: 'kPa', value: 400, written: '4 bar', assumed: false },
    });
    expect(batch?.recipe.packaging[1]).toMatchObject({ sugar: null, limit: { value: 3, assumed: true } });
  });
});

describe('a setup', () => {
  it('with the kettle alone is the marked defaults', () => {
    const setup = setupsOf('stove: { kettle: 15 L }');
    expect(setup.boilOff_L_per_h).toEqual({
      value: SETUP_DEFAULTS.boil_off.value,
      u: SETUP_DEFAULTS.boil_off.u,
      written: null,
      assumed: true,
    });
    expect(setup.fermenter_L).toBeNull();
    expect(setup.sanitiser).toBeNull();
    expect(setup.title).toBe('stove');
    expect(setup.chill.with).toBe('cold-water bath');
  });

  it('with a figure and its uncertainty has both; without, what varies from brew to brew is as uncertain as the default', () => {
    const setup = setupsOf('stove: { kettle: 15 L, boil_off: 2.0 ± 0.1 L/h, kettle_loss: 1 L }');
    expect(setup.boilOff_L_per_h).toEqual({ value: 2, u: 0.1, written: '2.0 ± 0.1 L/h', assumed: false });
    const relative = SETUP_DEFAULTS.kettle_loss.u / SETUP_DEFAULTS.kettle_loss.value;
    expect(setup.kettleLoss_L.u).toBeCloseTo(relative, 12);
  });

  it('works its heat out from how long the stove takes', () => {
    const setup = setupsOf(FULL_SETUPS);
    // 10 L at 20 °C are 9.982 kg; 4.186 kJ/(kg K) between 20 and 95 °C (water tables), 75 K, 45 min; half a percent.
    const expected = (9.982 * 4.186 * 75) / (45 * 60);
    expect(Math.abs(setup.heat_kW.value / expected - 1)).toBeLessThan(0.005);
    expect(setup.heat_kW.written).toBe('10 L from 20 °C to 95 °C in 45 min');
    expect(setup.heat_kW.assumed).toBe(false);
    // The mark alone is worth 3 %.
    expect(setup.heat_kW.u / setup.heat_kW.value).toBeGreaterThan(0.03);
    expect(setup.heat_kW.u / setup.heat_kW.value).toBeLessThan(0.05);
  });

  it('takes uncertainties of the instruments, a width of 1 °F being 5/9 K', () => {
    const { instruments, hydrometer } = setupsOf(FULL_SETUPS);
    expect(instruments.thermometer_C.u).toBeCloseTo(5 / 9, 12);
    expect(instruments.scale.u).toBeCloseTo(0.01, 12);
    expect(instruments.kettleMark_L.u).toBe(0.3);
    expect(hydrometer.at_C.value).toBeCloseTo(140 / 9, 9);
    expect(hydrometer.step).toBe(0.001);
  });
});

describe('names', () => {
  it.each([
    ['Crystal-Malt 150', 'crystal malt 150'],
    ['CRYSTALMALT150', 'crystal malt 150'],
    ['dark  crystal', 'crystal malt 150'],
    ['Sucrose', 'table sugar'],
  ])('%s is found as %s', (written, name) => {
    expect(findRow(tables, written, ['grain', 'sugar'])?.name).toBe(name);
  });
});

it('the tables of the project have no problem', () => {
  const shared = join(import.meta.dirname, '../../../shared');
  const names = readdirSync(shared).filter((name) => name.endsWith('.yaml'));
  expect(names.length).toBeGreaterThan(4);
  for (const name of names) {
    const { rows, problems } = checkTable(yaml(readFileSync(join(shared, name), 'utf8')), 'metric');
    expect(problems, name).toEqual([]);
    expect(rows.length, name).toBeGreaterThan(5);
  }
});

it('everything wrong is told in one run, in the right place, though lists lose items on the way', () => {
  const raw = yaml(
    `title: x
recipe:
  into_fermenter: 10 L
  boil: 60 min
  hops:
    - { name: Fuggle, add: 60 min }
    - { name: Fuggle, weight: 1 g, add: 75 min }
    - Fuggle
    - { name: Fuggle, weight: 1 g, add: stand }
    - { name: Fuggel, weight: 1, add: 5 min }`,
  ) as Record<string, unknown>;
  const { setups } = checkSetups(yaml(FULL_SETUPS), 'metric');
  const { problems } = checkBatch('x', raw, '', { units: 'metric', setups, tables });
  expect(problems.map(({ code, path }) => `${code} ${path.slice(2).join('.')}`).sort()).toEqual(
    [
      'missing-key 0.weight',
      'addition-after-boil 1.add',
      'wrong-shape 2',
      'stand-missing 3.add',
      'quantity-no-unit 4.weight',
    ].sort(),
  );
});
