/** The other ways in which a day tells of its kit: each answer worked out with pencil and paper. */
import { describe, expect, it } from 'vitest';
import { evidenceOf } from '../../../lib/batch/learning/observe.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { Setup } from '../../../lib/batch/types/setup.ts';
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
} from '../sample.ts';
import { mashAt, own } from '../sample-plan.ts';
import { litres, sg } from '../sample-readings.ts';

const MASH: Partial<Recipe> = { ...WATER, mash: mashAt(66, 3), grain: [grain(2000, { in: 'mash' })] };
const kitOf = (recipe: Partial<Recipe>, readings: Readings, setup: Partial<Setup> = {}) =>
  evidenceOf(sampleBatch({ recipe: sampleRecipe(recipe), readings, setup: sampleSetup(setup) })).kit;

describe('heat', () => {
  it('without grain is told by the way to the boil: 10 L from 12 to 99.97 °C in 45 min', () => {
    const { heat } = kitOf(WATER, { heating_started: '10:00', boil_started: '10:45' });
    expect(heat!.value).toBeCloseTo((9.982 * 4.1868 * 87.97) / 2700, 3);
    // The clock's 1.5 of 45 min, a mark of 0.25 of 10 L, tap water of ± 3 of 88 K (JCGM 100, 5.1.6).
    expect(heat!.u / heat!.value).toBeCloseTo(Math.hypot(1.5 / 45, 0.025, 3 / 87.97), 2);
  });

  it('brings extract at the start back to the boil too, after three minutes of stirring', () => {
    const { heat } = kitOf(
      { ...WATER, extract: [extract(1000)] },
      { heating_started: '10:00', boil_started: '10:48' },
    );
    // 9.286 kg of water to the boil; 1 kg of 79 °P from 20 °C with 2.56 kJ/(kg K) at their mean of 60 °C.
    const energy_kJ = 9.286 * 4.1868 * 87.97 + 2.5594 * 79.97;
    expect(heat!.value).toBeCloseTo(energy_kJ / 2700, 2);
  });

  it('of a mash is told by its own water up to the strike temperature', () => {
    // 6 L of water to 66 + 2 × 1.7 / (5.989 × 4.1868) × 46 = 72.24 °C.
    const readings: Readings = { heating_started: '10:00', mash_in: '10:20', mash_temperature: given(66) };
    expect(kitOf(MASH, readings).heat!.value).toBeCloseTo((5.989 * 4.1868 * 60.24) / 1200, 2);
    const warmer: Readings = { ...readings, mash_temperature: given(68) };
    expect(kitOf(MASH, warmer).heat!.value).toBeCloseTo((5.989 * 4.1868 * 62.24) / 1200, 2);
  });

  it('of a steep is told by the water that was heated before the rinse: 8 L of 10 L, and by what it landed on', () => {
    const steep = sampleRecipe().steep;
    const recipe: Partial<Recipe> = { ...WATER, steep, grain: [grain(1)], rinse_L: given(2, '2 L') };
    const readings = (t_C: number): Readings => ({
      heating_started: '10:00',
      steep_in: '10:30',
      steep_temperature: given(t_C),
    });
    // A gram of grain cools it by nothing: from 12 to 68 °C, or to 70.
    const found = kitOf(recipe, readings(68)).heat!;
    expect(found.value).toBeCloseTo((8 * 0.998207 * 4.1868 * 56) / 1800, 2);
    expect(kitOf(recipe, readings(70)).heat!.value / found.value).toBeCloseTo(58 / 56, 3);
    // A mark of 0.25 of 8 L.
    const filled = found.doubts.find(({ input }) => input === 'water filled in')!;
    expect(filled.effect / found.value).toBeCloseTo(0.25 / 8, 3);
  });

  it('is not told by extract that goes in later: only the water is brought to the boil first', () => {
    const late = { ...WATER, extract: [extract(1000, { add: boilFor(12) })] };
    const { heat } = kitOf(late, { heating_started: '10:00', boil_started: '10:45' });
    expect(heat!.value).toBeCloseTo((9.982 * 4.1868 * 87.97) / 2700, 3);
  });

  it('of a mash is not told by a steep’s clock, nor by none', () => {
    expect(kitOf(MASH, { heating_started: '10:00', steep_in: '10:20' }).heat).toBeUndefined();
    expect(kitOf(MASH, { mash_in: '10:20' }).heat).toBeUndefined();
    expect(kitOf(WATER, { heating_started: '10:00' }).heat).toBeUndefined();
  });

  it('five minutes are enough to tell, four are not', () => {
    expect(kitOf(WATER, { heating_started: '10:00', boil_started: '10:05' }).heat).toBeDefined();
    expect(kitOf(WATER, { heating_started: '10:00', boil_started: '10:04' }).heat).toBeUndefined();
  });
});

describe('the chill', () => {
  const cooled = (
    how: Setup['chill']['with'],
    minutes: number,
    t_C: number,
    recipe: Partial<Recipe> = WATER,
    to_C = 22,
  ) =>
    kitOf(
      recipe,
      {
        boil_ended: '15:00',
        chilled: {
          at: `${15 + Math.floor(minutes / 60)}:${String(minutes % 60).padStart(2, '0')}`,
          temperature_C: given(t_C),
        },
      },
      { chill: { ...sampleSetup().chill, to_C: own(to_C), with: how }, waterTemperature_C: own(12) },
    )['chill.in'];

  it('without a bath goes down towards the room’s 20 °C: to 60 °C in an hour is to 30 °C in three', () => {
    const found = cooled('none', 60, 60, WATER, 30);
    expect(found!.value).toBeCloseTo((60 * Math.log(79.97 / 10)) / Math.log(79.97 / 40), 0);
    expect(cooled('none', 60, 60, WATER, 21)).toBeUndefined();
  });

  it('in ice goes down towards 4 °C', () => {
    expect(cooled('ice bath', 20, 34)!.value).toBeCloseTo(
      (20 * Math.log(95.97 / 18)) / Math.log(95.97 / 30),
      1,
    );
  });

  it('in cold water goes down towards the tap’s 12 °C', () => {
    expect(cooled('cold-water bath', 20, 34)!.value).toBeCloseTo(
      (20 * Math.log(87.97 / 10)) / Math.log(87.97 / 22),
      1,
    );
  });

  it('begins after the stand, at its temperature', () => {
    const stand = { temperature_C: given(80, '80 °C'), time_min: given(20, '20 min') } as Recipe['stand'];
    const found = cooled('coil', 40, 34, { ...WATER, stand });
    expect(found!.value).toBeCloseTo((20 * Math.log(68 / 10)) / Math.log(68 / 22), 1);
  });

  it('says nothing of a wort that is as hot as it was, or of less than five minutes', () => {
    expect(cooled('coil', 20, 100)).toBeUndefined();
    expect(cooled('coil', 4, 40)).toBeUndefined();
    expect(cooled('coil', 5, 40)).toBeDefined();
  });

  it('says nothing where it comes within 2 K of what cools it', () => {
    expect(cooled('coil', 40, 13.9)).toBeUndefined();
    // Sure of it only where a thermometer that is off by its own uncertainty changes nothing.
    expect(cooled('coil', 40, 16)).toBeDefined();
    // Nor where its usual end lies within 2 K.
    expect(cooled('coil', 20, 34, WATER, 13.9)).toBeUndefined();
    expect(cooled('coil', 20, 34, WATER, 14)).toBeDefined();
  });

  it('is not told where its temperature was not taken', () => {
    expect(kitOf(WATER, { boil_ended: '15:00', chilled: 'not taken' })['chill.in']).toBeUndefined();
    expect(kitOf(WATER, { boil_ended: '15:00' })['chill.in']).toBeUndefined();
  });
});

describe('a mash’s efficiency', () => {
  // 2 kg of grain at 75 % could give 1.5 kg. 12 °P is SG 1.04831 and 1046.444 kg/m³, 5 °P 1.01964 and 1017.805 (ICUMSA SPS-4).
  it('at the end of the boil: 8 L of 12 °P hold 1.0046 kg', () => {
    const readings = { boil_end_volume: litres(8), boil_end_gravity: sg(1.04831) };
    expect(kitOf(MASH, readings).mash_efficiency!.value).toBeCloseTo((8 * 1.046444 * 0.12) / 1.5, 3);
  });

  it('in the fermenter: 19 L of 5 °P hold 0.9669 kg, and of 8 L half a litre stayed behind', () => {
    const readings = {
      boil_end_volume: litres(8),
      fermenter_volume: litres(19),
      original_gravity: sg(1.01964),
    };
    expect(kitOf(MASH, readings).mash_efficiency!.value).toBeCloseTo(
      (19 * 1.017805 * 0.05 * (8 / 7.5)) / 1.5,
      3,
    );
  });

  it('in the fermenter is less by what hops held back too: 50 g at 6 L/kg are 0.3 L', () => {
    const readings = {
      boil_end_volume: litres(8),
      fermenter_volume: litres(19),
      original_gravity: sg(1.01964),
    };
    const hopped = { ...MASH, hops: [hop(50, boilFor(60))] };
    expect(kitOf(hopped, readings).mash_efficiency!.value).toBeCloseTo(
      (19 * 1.017805 * 0.05 * (8 / 7.2)) / 1.5,
      3,
    );
  });

  it('of a steep is told as a mash’s is: 10 L of 10 °P, 1 kg of syrup and 700 g of grain', () => {
    const recipe = { ...WATER, steep: sampleRecipe().steep, grain: [grain(700)], extract: [extract(1000)] };
    const readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    const { steep_efficiency, mash_efficiency } = kitOf(recipe, readings);
    expect(steep_efficiency!.value).toBeCloseTo((1.038115 - 0.79) / (0.7 * 0.75), 3);
    // What it was thought to be is no doubt of it.
    expect(steep_efficiency!.doubts.map(({ input }) => input)).not.toContain('steep efficiency');
    expect(mash_efficiency).toBeUndefined();
  });

  it('beside a steep is doubted by what the steep gives', () => {
    const both = { ...MASH, steep: sampleRecipe().steep, grain: [grain(2000, { in: 'mash' }), grain(300)] };
    const readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    const { doubts } = kitOf(both, readings).mash_efficiency!;
    const steep = doubts.find(({ input }) => input === 'steep efficiency')!;
    const { u } = sampleSetup().steepEfficiency;
    // 300 g × 75 % for each part of the steep’s, over 1.5 kg.
    expect(steep.effect).toBeCloseTo((-0.225 * u) / 1.5, 9);
  });

  it('is less by half a hundredth where the scale shows half a hundredth more', () => {
    const instruments = { ...sampleSetup().instruments, scale: own(1, 0.005) };
    const readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    const { value, doubts } = kitOf(MASH, readings, { instruments }).mash_efficiency!;
    const scale = doubts.find(({ input }) => input === 'the kitchen scale')!;
    expect(scale.effect).toBeCloseTo(-0.005 * value, 6);
  });

  it('of two ways the later is taken where it is the surer', () => {
    const rough = { boil_start_volume: { ...litres(10), u: 2 }, boil_start_gravity: sg(1.03998) };
    const late = { boil_end_volume: litres(8), boil_end_gravity: sg(1.04831) };
    expect(kitOf(MASH, { ...rough, ...late }).mash_efficiency).toEqual(kitOf(MASH, late).mash_efficiency);
  });

  it('is not told where no grain was mashed', () => {
    const readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    const found = kitOf({ ...WATER, extract: [extract(1000)] }, readings);
    expect(found.mash_efficiency).toBeUndefined();
    expect(found.steep_efficiency).toBeUndefined();
  });

  it('of several ways the surest is taken', () => {
    const late = { boil_end_volume: litres(8), boil_end_gravity: sg(1.04831) };
    const early = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    const both = kitOf(MASH, { ...early, ...late }).mash_efficiency!;
    const each = [kitOf(MASH, early), kitOf(MASH, late)].map((kit) => kit.mash_efficiency!);
    const surest = each.reduce((best, one) => (one.u < best.u ? one : best));
    expect([both.value, both.u]).toEqual([surest.value, surest.u]);
  });

  it('leaves what extract brings out of it', () => {
    // 1 kg of syrup at 79 % beside the mash: 10 L of 10 °P hold 1.0381 kg, 0.2481 of it the grain's.
    const readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    const { mash_efficiency } = kitOf({ ...MASH, extract: [extract(1000)] }, readings);
    expect(mash_efficiency!.value).toBeCloseTo((1.038115 - 0.79) / 1.5, 3);
  });

  it('is not told by a volume without its gravity, and a steep beside it never', () => {
    expect(kitOf(MASH, { boil_start_volume: litres(10) }).mash_efficiency).toBeUndefined();
    expect(kitOf(MASH, { boil_end_gravity: sg(1.04) }).mash_efficiency).toBeUndefined();
    const both = {
      ...MASH,
      steep: sampleRecipe().steep,
      grain: [grain(2000, { in: 'mash' }), grain(300)],
    };
    const readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
    expect(kitOf(both, readings).steep_efficiency).toBeUndefined();
    expect(kitOf(both, readings).mash_efficiency).toBeDefined();
  });
});

describe('what stays in the kettle', () => {
  const whole: Partial<Recipe> = { ...WATER, boilVolume_L: null, intoFermenter_L: given(8, '8 L') };

  it('of a boil that wants no top-up is what did not come over', () => {
    const readings = {
      boil_end_volume: litres(8.5),
      fermenter_volume: litres(8),
      original_gravity: sg(1),
    };
    expect(kitOf(whole, readings).kettle_loss!.value).toBeCloseTo(0.5, 3);
  });

  it('is told by the planned gravity where none was read, and is doubted by it', () => {
    const found = kitOf(whole, { boil_end_volume: litres(8.5), fermenter_volume: litres(8) }).kettle_loss!;
    // Water is planned, and water came.
    expect(found.value).toBeCloseTo(0.5, 3);
    expect(found.doubts.map(({ input }) => input)).toContain('planned gravity');
  });

  it('is held by hops of a kit whose hops were thought to hold nothing, too', () => {
    const readings = {
      boil_end_volume: litres(8),
      top_up: { volume: litres(12), temperature_C: null },
      fermenter_volume: litres(19),
      original_gravity: sg(1),
    };
    const nothing = { hopAbsorption_L_per_kg: own(0, 1) };
    // 1 L is missing, half of it trub: 0.5 L in 0.1 kg.
    const { hop_absorption } = kitOf({ ...WATER, hops: [hop(100, boilFor(60))] }, readings, nothing);
    expect(hop_absorption!.value).toBeCloseTo(5, 2);
  });

  it('is held by no dry hops', () => {
    const readings = {
      boil_end_volume: litres(8),
      top_up: { volume: litres(12), temperature_C: null },
      fermenter_volume: litres(19),
      original_gravity: sg(1),
    };
    const dry = hop(100, { at: 'dry', day: 5, for_min: null, forWritten: null });
    expect(kitOf({ ...WATER, hops: [dry] }, readings).hop_absorption).toBeUndefined();
    const both = kitOf({ ...WATER, hops: [hop(100, boilFor(60)), dry] }, readings);
    expect(both.hop_absorption!.value).toBeCloseTo(5, 2);
  });

  it('is not told where the top-up is not known, or nothing was boiled', () => {
    const readings = {
      boil_end_volume: litres(8),
      fermenter_volume: litres(19),
      original_gravity: sg(1),
    };
    expect(kitOf(WATER, readings).kettle_loss).toBeUndefined();
    const cold = { ...whole, boil_min: given(0, '0 min') } as Partial<Recipe>;
    expect(kitOf(cold, { ...readings, fermenter_volume: litres(8) }).kettle_loss).toBeUndefined();
  });

  it('is less by what the hops hold: 50 g at 6 L/kg are 0.3 L', () => {
    const readings = {
      boil_end_volume: litres(8),
      top_up: { volume: litres(12), temperature_C: null },
      fermenter_volume: litres(19),
      original_gravity: sg(1),
    };
    const { kettle_loss } = kitOf({ ...WATER, hops: [hop(50, boilFor(60))] }, readings);
    expect(kettle_loss!.value).toBeCloseTo(0.7, 3);
  });
});

describe('what stays on the yeast', () => {
  const part = {
    on: { date: '2026-03-01', clock: null },
    into: null,
    temperature_C: null,
    sugar_g: null,
    bottles: null,
  };

  it('is less by what dry hops hold: 100 g at 6 L/kg are 0.6 L', () => {
    const dry = { at: 'dry', day: 5, for_min: null, forWritten: null } as const;
    const readings = { fermenter_volume: litres(19), packaged: [{ ...part, volume: litres(17.8) }] };
    expect(kitOf({ ...WATER, hops: [hop(100, dry)] }, readings).fermenter_loss!.value).toBeCloseTo(0.6, 9);
    // Those in the kettle stayed there, and a scale that shows more makes it less.
    const instruments = { ...sampleSetup().instruments, scale: own(1, 0.005) };
    const hops = [hop(100, dry), hop(200, boilFor(60))];
    const { value, doubts } = kitOf({ ...WATER, hops }, readings, { instruments }).fermenter_loss!;
    expect(value).toBeCloseTo(0.6, 9);
    expect(doubts.find(({ input }) => input === 'the kitchen scale')!.effect).toBeCloseTo(-0.003, 9);
  });

  it('is not told where a part was not measured, or none', () => {
    const of = (packaged: Readings['packaged']) =>
      kitOf(WATER, { fermenter_volume: litres(19), ...(packaged === undefined ? {} : { packaged }) })
        .fermenter_loss;
    expect(
      of([
        { ...part, volume: litres(10) },
        { ...part, volume: null },
      ]),
    ).toBeUndefined();
    expect(of([])).toBeUndefined();
    expect(of('not taken')).toBeUndefined();
    expect(of(undefined)).toBeUndefined();
  });
});

describe('evaporation', () => {
  const readings: Readings = { boil_start_volume: litres(10), boil_end_volume: litres(9.5) };
  const boiled = (minutes: number, more: Readings = {}) =>
    kitOf({ ...WATER, boil_min: given(minutes, `${minutes} min`) }, { ...readings, ...more }).boil_off;

  it('is told by ten minutes of boil, not by nine', () => {
    expect(boiled(10)!.value).toBeCloseTo(3, 9);
    expect(boiled(9)).toBeUndefined();
  });

  it('believes the countdown within two standard uncertainties of the clock, 3 min, the clock beyond', () => {
    expect(boiled(60, { boil_started: '14:00', boil_ended: '15:03' })!.value).toBeCloseTo(0.5, 9);
    expect(boiled(60, { boil_started: '14:00', boil_ended: '15:07' })!.value).toBeCloseTo(0.5 * (60 / 67), 9);
    expect(boiled(60, { boil_started: '14:00', boil_ended: '14:53' })!.value).toBeCloseTo(0.5 * (60 / 53), 9);
  });

  it('takes no pause off the clock for extract that was stirred in before the countdown', () => {
    const early = { ...WATER, extract: [extract(1000)] };
    const at = (boil_ended: string) =>
      kitOf(early, { ...readings, boil_started: '14:00', boil_ended }).boil_off!.value;
    expect(at('15:10') / at('15:00')).toBeCloseTo(60 / 70, 9);
  });

  it('takes the water of late syrup in, and not that of what was in from the start', () => {
    const instruments = { ...sampleSetup().instruments, scale: own(1, 0.005) };
    const syrup = (add?: Parameters<typeof extract>[1]) => extract(1000, add);
    const of = (list: ReturnType<typeof extract>[]) =>
      kitOf({ ...WATER, extract: list }, readings, { instruments }).boil_off!;
    const late = of([syrup({ add: { at: 'flameout' } })]);
    // 0.21 kg of water and 0.79 kg of extract that takes 0.61 to 0.64 L/kg.
    expect(late.value - 0.5).toBeGreaterThan(0.21 + 0.79 * 0.61);
    expect(late.value - 0.5).toBeLessThan(0.21 + 0.79 * 0.64);
    expect(of([syrup()]).value).toBeCloseTo(0.5, 1);
    // All of it goes with the scale.
    const scale = late.doubts.find(({ input }) => input === 'the kitchen scale')!;
    expect(scale.effect).toBeCloseTo(0.005 * (late.value - 0.5), 4);
  });

  it('takes the pauses for late extract off the clock: some 2.4 min of heat and 3 of stirring', () => {
    const late = { ...WATER, extract: [extract(1100, { add: boilFor(12) })] } as Partial<Recipe>;
    const at = (boil_ended: string) =>
      kitOf(late, { ...readings, boil_started: '14:00', boil_ended }).boil_off!;
    const kept = at('15:05').value;
    expect(at('15:07').value).toBe(kept);
    const longer = at('15:20').value;
    expect(longer / kept).toBeGreaterThan(60 / 75);
    expect(longer / kept).toBeLessThan(60 / 74);
    expect(at('15:20').u / longer).toBeGreaterThan(at('15:05').u / kept);
  });
});
