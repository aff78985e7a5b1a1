/** The small tables of the paper: corrections of a sample, the strip for a wort that is off, and the sugar. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../../lib/batch/model/build-model-input.ts';
import { correctionRows, primingTable, sampleCorrections } from '../../../lib/batch/plan/tables.ts';
import type { PackageStep } from '../../../lib/batch/types/recipe.ts';
import { given, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { brewery, modelOf, own, planOf } from '../sample-plan.ts';

const batch = sampleBatch();
const plan = planOf(batch);
const printed = plan.targets.original_gravity!.printed;

describe('what to add to the reading of a warm sample', () => {
  const rows = sampleCorrections(
    sampleBatch({
      setup: { ...sampleSetup(), hydrometer: { at_C: own(20), step: 0.002, u: 0.001, assumed: false } },
    }),
    1.0483,
  );

  it('from a cold cellar to a wort too hot to touch', () => {
    expect(rows.map(({ temperature_c }) => temperature_c)).toEqual([10, 15, 20, 25, 30, 35, 40, 50, 60]);
  });

  it('nothing at the temperature that it is calibrated for', () => {
    expect(rows.find(({ temperature_c }) => temperature_c === 20)?.add).toBeCloseTo(0, 9);
  });

  // Readings of 1.040 at 10, 25, 30, 40 °C are 1.03825, 1.04126, 1.04275, 1.04633 (worked out apart from this program); a wort of
  // 1.048 differs from those corrections by less than 0.0003.
  it.each([
    [10, -0.00175],
    [25, 0.00126],
    [30, 0.00275],
    [40, 0.00633],
  ])('at %d °C %f', (temperature_c, add) => {
    const found = rows.find((row) => row.temperature_c === temperature_c)?.add ?? Number.NaN;
    expect(Math.abs(found - add)).toBeLessThan(0.0004);
  });
});

describe('the strip for a wort that is off', () => {
  const rows = plan.corrections;
  const fine = rows.find(({ meaning }) => meaning === 'fine');

  it('leaves no corrected reading out, and none to two rows', () => {
    const ends = rows.flatMap(({ from, to }) => [from, to]);
    expect(ends[0]).toBeNull();
    expect(ends.at(-1)).toBeNull();
    // Corrections for temperature are in thousandths.
    for (let i = 1; i < rows.length; i++)
      expect(rows[i]!.from! - rows[i - 1]!.to!, `after row ${i}`).toBeCloseTo(0.001, 9);
    expect([fine?.from, fine?.to]).toEqual([printed.low, printed.high]);
  });

  it('is not there where nothing is known of the wort', () => {
    const c = buildCase(batch);
    const wide = { ...plan.targets.original_gravity!, printed: { low: 1, high: 1.102 } };
    expect(correctionRows(batch, c, { ...plan.targets, original_gravity: wide })).toEqual([]);
    expect(correctionRows(batch, c, { ...plan.targets, original_gravity: null })).toEqual([]);
    const water = { ...plan.targets.original_gravity!, value: 1 };
    expect(correctionRows(batch, c, { ...plan.targets, original_gravity: water })).toEqual([]);
  });
});

describe('the sugar table', () => {
  const { outcome, detail, c } = modelOf({});
  const tableOf = (over: Parameters<typeof sampleRecipe>[0], units: 'metric' | 'us' = 'metric') =>
    primingTable(
      sampleBatch({ recipe: sampleRecipe(over) }),
      { ...brewery, units },
      outcome,
      c,
      detail.ambient_kPa,
    );
  const [step] = sampleRecipe().packaging;

  it('goes by litre round the volume that is planned, and by two degrees round the warmest since it stopped', () => {
    const table = tableOf({})!;
    const middle = Math.round(planOf(sampleBatch()).targets.packaged_volume_l!.value);
    expect(table.rows.map(({ volume_l }) => volume_l)).toEqual(
      [-3, -2, -1, 0, 1, 2].map((by) => middle + by),
    );
    expect(table.temperatures_c).toEqual([15, 17, 19, 21, 23]);
    expect(table).toMatchObject({ sugar: 'table sugar', carbonation_vol: 2.3 });
  });

  it('of a few litres goes by half litres, never to nothing', () => {
    const small = tableOf({ packaging: [{ ...step!, volume_L: given(1.5, '1.5 L') }] })!;
    expect(small.rows.map(({ volume_l }) => volume_l)).toEqual([0.5, 1, 1.5, 2, 2.5]);
    const eight = tableOf({ packaging: [{ ...step!, volume_L: given(8, '8 L') }] })!;
    expect(eight.rows[1]!.volume_l - eight.rows[0]!.volume_l).toBe(0.5);
  });

  it('goes by quarts for a brewer in US units', () => {
    const table = tableOf({}, 'us')!;
    // 3.785411784 L in a gallon by definition.
    expect(table.rows[1]!.volume_l - table.rows[0]!.volume_l).toBeCloseTo(3.785411784 / 4, 9);
  });

  // 20 L at 20 °C and sea level, sucrose: 2.0 vol 88.7 g, 2.5 vol 127.2 g, within 8 % (derived from Weiss 1974 apart from this program).
  it.each([
    [2.0, 88.7],
    [2.5, 127.2],
  ])('%f vol in 20 L at 20 °C takes %f g', (vol, sugar_g) => {
    const recipe = {
      ferment: [{ temperature_C: given(20, '20 °C'), time_min: given(14 * 1440, '14 days') }],
      packaging: [{ ...step!, carbonation_vol: given(vol, `${vol} vol`), volume_L: given(20, '20 L') }],
    };
    const table = primingTable(
      sampleBatch({ recipe: sampleRecipe(recipe as never) }),
      brewery,
      outcome,
      c,
      101.325,
    )!;
    const column = table.temperatures_c.indexOf(20);
    const row = table.rows.find(({ volume_l }) => volume_l === 20);
    // 4 % more, since yeast that grows keeps 4 % of the gas.
    expect(Math.abs((0.96 * row!.sugar_g[column]!) / sugar_g - 1)).toBeLessThan(0.01);
  });

  it('asks for more sugar in more beer, and in beer that was warmer', () => {
    const { rows } = tableOf({})!;
    for (const { sugar_g } of rows) expect([...sugar_g].sort((a, b) => a - b)).toEqual(sugar_g);
    for (const [i, { sugar_g }] of rows.entries())
      if (i > 0) expect(sugar_g[0]).toBeGreaterThan(rows[i - 1]!.sugar_g[0]!);
  });

  it('never asks for less than nothing, nor beyond what the gas is known for', () => {
    const flat = tableOf({ packaging: [{ ...step!, carbonation_vol: given(0.5, '0.5 vol') }] })!;
    expect(flat.rows.every(({ sugar_g }) => sugar_g.every((g) => g === 0))).toBe(true);
    const cold = tableOf({
      ferment: [{ temperature_C: given(1, '1 °C'), time_min: given(1440, '1 day') }],
    } as never)!;
    expect(cold.temperatures_c).toEqual([0, 1, 3, 5]);
    const hot = tableOf({
      ferment: [{ temperature_C: given(38, '38 °C'), time_min: given(1440, '1 day') }],
    } as never)!;
    expect(hot.temperatures_c).toEqual([34, 36, 38, 40]);
  });

  it('is that of the bottles where a part goes into a keg, and none without sugar', () => {
    const keg: PackageStep = { ...step!, into: 'keg', sugar: null, volume_L: given(9, '9 L') };
    expect(tableOf({ packaging: [keg, { ...step!, volume_L: given(10, '10 L') }] })!.rows[3]!.volume_l).toBe(
      10,
    );
    expect(tableOf({ packaging: [keg] })).toBeNull();
    expect(tableOf({ packaging: [] })).toBeNull();
  });
});
