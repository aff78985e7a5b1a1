/** Figures worked back from readings that were made up so that pencil and paper give the answer. */
import { describe, expect, it } from 'vitest';
import { evidenceOf } from '../../lib/batch/learning/observe.ts';
import type { Readings } from '../../lib/batch/types/readings.ts';
import type { Recipe } from '../../lib/batch/types/recipe.ts';
import {
  boilFor,
  extract,
  given,
  grain,
  hop,
  sampleBatch,
  sampleRecipe,
  sampleSetup,
  WATER,
  yeast,
} from '../batch/sample.ts';
import { litres, sg } from '../batch/sample-readings.ts';

const brewed = (recipe: Partial<Recipe>, readings: Readings, setup = sampleSetup()) =>
  evidenceOf(sampleBatch({ recipe: sampleRecipe(recipe), readings, setup }));

describe('evaporation', () => {
  const readings: Readings = { boil_start_volume: litres(10), boil_end_volume: litres(8) };

  it('is the water that is gone by the hour', () => {
    const found = brewed(WATER, readings).kit.boil_off!;
    expect(found.value).toBeCloseTo(2, 9);
    // Two marks of 0.25 L, and 2 L/h × 1.5 min in 60 (JCGM 100, 5.1.2).
    expect(found.u).toBeCloseTo(Math.hypot(0.25, 0.25, 2 * (1.5 / 60)), 3);
  });

  it('believes the clock where it says that the boil was longer', () => {
    const longer: Readings = { ...readings, boil_started: '14:00', boil_ended: '15:30' };
    expect(brewed(WATER, longer).kit.boil_off!.value).toBeCloseTo(2 / 1.5, 9);
    const near: Readings = { ...readings, boil_started: '23:30', boil_ended: '00:33' };
    expect(brewed(WATER, near).kit.boil_off!.value).toBeCloseTo(2, 9);
  });

  it('counts what late extract brings', () => {
    const late = { ...WATER, extract: [extract(1000, { add: { at: 'flameout' } })] };
    // 1 kg of 79 % syrup: 0.21 kg water (0.210 L) and 0.79 kg extract of about 0.62 L/kg.
    const found = brewed(late, readings).kit.boil_off!.value;
    expect(found).toBeGreaterThan(2 + 0.21 + 0.79 * 0.6);
    expect(found).toBeLessThan(2 + 0.21 + 0.79 * 0.65);
  });

  it('is not told by one volume', () => {
    expect(
      brewed(WATER, { boil_start_volume: litres(10), boil_end_volume: 'not taken' }).kit.boil_off,
    ).toBeUndefined();
  });
});

describe('losses', () => {
  it('in the kettle are what came out of the boil less what came into the fermenter', () => {
    const found = brewed(WATER, {
      boil_end_volume: litres(8),
      top_up: { volume: litres(11.5), temperature_C: null },
      fermenter_volume: litres(19),
      original_gravity: sg(1),
    }).kit.kettle_loss!;
    expect(found.value).toBeCloseTo(0.5, 3);
    expect(found.u).toBeCloseTo(Math.hypot(0.25, 0.3, 0.3), 1);
  });

  it('to the hops are what did not come out of the kettle less what stays in it, by their weight', () => {
    const setup = sampleSetup({ kettleLoss_L: { value: 0.5, u: 0.1, written: '0.5 L', assumed: false } });
    const found = brewed(
      { ...WATER, hops: [hop(100, boilFor(60))] },
      {
        boil_end_volume: litres(8),
        top_up: { volume: litres(12.1), temperature_C: null },
        fermenter_volume: litres(19),
        original_gravity: sg(1),
      },
      setup,
    ).kit.hop_absorption!;
    // 8 L less 6.9 L carried over and 0.5 L of trub: 0.6 L in 0.1 kg.
    expect(found.value).toBeCloseTo(6, 2);
    // A mark of 0.25 L, two of 0.3 L and the trub's own 0.1 L over 0.1 kg (JCGM 100, 5.1.2).
    expect(found.u).toBeCloseTo(Math.hypot(0.25, 0.3, 0.3, 0.1) / 0.1, 1);
    expect(found.doubts.filter(({ shared }) => shared).map(({ input }) => input)).toContain(
      'what stays in the kettle',
    );
  });

  it('to the hops are not told of a boil without hops', () => {
    const readings: Readings = {
      boil_end_volume: litres(8),
      top_up: { volume: litres(12.1), temperature_C: null },
      fermenter_volume: litres(19),
    };
    expect(brewed(WATER, readings).kit.hop_absorption).toBeUndefined();
  });

  it('in the fermenter are what went in less what was packaged, in all its parts', () => {
    const part = {
      on: { date: '2026-03-01', clock: null },
      into: null,
      temperature_C: null,
      sugar_g: null,
      bottles: null,
    };
    const found = brewed(WATER, {
      fermenter_volume: litres(19),
      packaged: [
        { ...part, volume: litres(10) },
        { ...part, volume: litres(8.2) },
      ],
    }).kit.fermenter_loss!;
    expect(found.value).toBeCloseTo(0.8, 9);
  });
});

describe('efficiency', () => {
  it('of a mash is the extract found over the laboratory extract', () => {
    const mash = {
      ...WATER,
      grain: [grain(2000, { in: 'mash' })],
      mash: { temperature_C: given(66), time_min: given(60), ratio_L_per_kg: given(3) },
    } as Partial<Recipe>;
    // 10 °P is SG 1.03998 and 1038.115 kg/m³ (ICUMSA SPS-4): 10 L hold 1.0381 kg; 2 kg × 75 % is 1.5 kg.
    const readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    const found = brewed(mash, readings).kit.mash_efficiency!;
    expect(found.value).toBeCloseTo(1.038115 / 1.5, 3);
    expect(brewed(mash, readings).kit.steep_efficiency).toBeUndefined();
  });

  it('of a little steeped grain beside much extract is told with its great doubt', () => {
    const readings = { boil_start_volume: litres(10.5), boil_start_gravity: sg(1.05) };
    const found = brewed({}, readings).kit.steep_efficiency!;
    // 0.001 of gravity in 10.5 L is 0.027 kg of extract, a tenth of what 350 g × 75 % could give.
    expect(found.u).toBeGreaterThan(0.1);
  });
});

describe('heat', () => {
  const kettle = { ...WATER, steep: sampleRecipe().steep, grain: [grain(1)] };
  const readings = (minutes: string): Readings => ({
    heating_started: '10:00',
    steep_in: minutes,
    steep_temperature: given(68) as never,
  });

  it('is the energy over the minutes', () => {
    const found = brewed(kettle, readings('10:30')).kit.heat!;
    // A gram of grain: 10 L of water, 9.982 kg × 4.1868 kJ/kgK × 56 K in 1800 s.
    expect(found.value).toBeCloseTo((9.982 * 4.1868 * 56) / 1800, 2);
  });

  it('is not told by a span that the pencil could have made up', () => {
    expect(brewed(kettle, readings('10:03')).kit.heat).toBeUndefined();
  });
});

describe('the chill', () => {
  const setup = sampleSetup({ chill: { ...sampleSetup().chill, with: 'coil' } });
  const chilled = (at: string, t_C: number): Readings => ({
    boil_ended: '15:00',
    chilled: { at, temperature_C: given(t_C) as never },
  });

  it('down to the usual temperature took what the clock says', () => {
    expect(brewed(WATER, chilled('15:33', 22), setup).kit['chill.in']!.value).toBeCloseTo(33, 9);
  });

  it('down to half way took less, by the law of cooling', () => {
    // From 100 to 12 °C of tap water: 88 K; to 34 °C is ln 4, to 22 °C ln 8.8.
    const found = brewed(WATER, chilled('15:20', 34), setup).kit['chill.in']!.value;
    expect(found).toBeCloseTo((20 * Math.log(8.8)) / Math.log(4), 1);
  });

  it('says nothing where the wort was as cold as what cools it', () => {
    expect(brewed(WATER, chilled('16:00', 12), setup).kit['chill.in']).toBeUndefined();
  });
});

describe('attenuation', () => {
  const readings: Readings = { original_gravity: sg(1.05), final_gravity: sg(1.01) };
  /** Of a yield that nobody knows, so that no gravity contradicts it. */
  const malt = extract(2000, { yield: { value: 0.79 as never, u: 0.4, from: 'recipe' } });

  it('of all-malt wort is the apparent one', () => {
    const found = brewed({ ...WATER, extract: [malt], yeast: [yeast()] }, readings).attenuation!;
    // 1.050 is 12.397 °P, 1.010 is 2.568 °P (ICUMSA SPS-4).
    expect(found.value).toBeCloseTo(1 - 2.568 / 12.397, 3);
    expect(found.yeast).toBe('English ale');
  });

  it('is higher where some of the malt ferments less, and lower where sugar ferments whole', () => {
    const crystal = [grain(400)];
    const steep = sampleRecipe().steep;
    const plain = brewed({ ...WATER, extract: [malt], yeast: [yeast()] }, readings).attenuation!.value;
    const dull = brewed({ ...WATER, steep, grain: crystal, extract: [malt], yeast: [yeast()] }, readings);
    const sugar = extract(300, { kind: 'sugar', fermentableAs: 'sugar' });
    const dry = brewed({ ...WATER, extract: [malt], sugar: [sugar], yeast: [yeast()] }, readings);
    expect(dull.attenuation!.value).toBeGreaterThan(plain);
    expect(dry.attenuation!.value).toBeLessThan(plain);
  });

  it('is not told of two yeasts at once', () => {
    expect(brewed({ ...WATER, extract: [malt], yeast: [yeast(), yeast()] }, readings).attenuation).toBeNull();
  });
});
