/** A case brought to what was read, and inputs nudged: masses and sums worked out by hand. */
import { describe, expect, it } from 'vitest';
import type { Case, PackagePart } from '../../../lib/batch/model/model-input.ts';
import { TARGET_INDEX } from '../../../lib/batch/model/target-vector.ts';
import { fitToReadings } from '../../../lib/batch/readings/calibrate-to-readings.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import type { TargetKey } from '../../../lib/batch/types/targets.ts';
import type { Input } from '../../../lib/batch/uncertainty/inputs.ts';
import { propagate } from '../../../lib/batch/uncertainty/propagate.ts';
import { boilFor, extract, given, sampleRecipe } from '../sample.ts';
import { modelOf, own, tight } from '../sample-plan.ts';

const whole = { value: 1 as never, u: null, from: 'table' } as const;
const none = { value: 0 as never, u: null, from: 'table' } as const;
const sugar = (g: number, over: Parameters<typeof extract>[1] = {}) =>
  extract(g, {
    kind: 'sugar',
    name: 'sugar',
    form: null,
    fermentableAs: 'sugar',
    yield: whole,
    colour_EBC: none,
    ...over,
  });
const bottle = sampleRecipe().packaging[0]!;

/** A kilogram of sugar in a boil of 10 L that loses nothing, for 10 L of beer. */
const plain: Partial<Recipe> = {
  steep: null,
  grain: [],
  extract: [],
  hops: [],
  sugar: [sugar(1000)],
  boilVolume_L: given(10),
  intoFermenter_L: given(10),
};
const planned = (over: Partial<Recipe> = {}, setup = {}): Case =>
  modelOf({ ...plain, ...over }, { ...tight, ...setup }).c;
const fitted = (c: Case, read: Record<string, number>) => fitToReadings(c, new Map(Object.entries(read)));

describe('volumes read', () => {
  it('take the place of planned ones', () => {
    const c = fitted(planned(), {
      fermenter_volume: 9.5,
      warmest_after: 23,
      final_gravity: 1.004,
      'packaged.volume': 9,
    });
    expect(c).toMatchObject({ intoFermenter_L: 9.5, warmest_C: 23, finalRead_SG: 1.004, packagedRead_L: 9 });
  });

  it('that were not leave the plan', () => {
    const c = planned();
    expect(fitted(c, {})).toMatchObject({
      intoFermenter_L: 10,
      warmest_C: c.warmest_C,
      finalRead_SG: Number.NaN,
      packagedRead_L: Number.NaN,
      boilVolume_L: 10,
      boilOff_L_per_h: 0,
      waterToHeat_L: c.waterToHeat_L,
    });
  });

  it('at the boil’s start tell the water: a litre more, a litre more', () => {
    const c = planned();
    const more = fitted(c, { boil_start_volume: 11 });
    expect(more.boilVolume_L).toBe(11);
    // But for 0.1 mL that a thinner syrup contracts by.
    expect(more.waterToHeat_L - c.waterToHeat_L).toBeCloseTo(1, 3);
  });

  // Water alone: what is not there at the end has boiled off.
  it.each([
    ['an hour from 10 L to 8', 60, { boil_end_volume: 8 }, 2],
    ['half an hour from 10 L to 8', 30, { boil_end_volume: 8 }, 4],
    ['an hour from 11 L to 8', 60, { boil_start_volume: 11, boil_end_volume: 8 }, 3],
    ['no more at the end than at the start', 60, { boil_end_volume: 11 }, 0],
    ['no boil, whatever was read at its end', 0, { boil_end_volume: 8 }, 2.5],
  ] as const)('evaporation: %s', (_, boil_min, read, off_L_per_h) => {
    const c = planned({ sugar: [], boil_min: given(boil_min) }, { boilOff_L_per_h: own(2.5) });
    expect(fitted(c, read).boilOff_L_per_h).toBeCloseTo(off_L_per_h, 9);
  });
});

describe('a gravity read tells the extract: 10 L of 12 °P (1.04833) are 1.2557 kg', () => {
  // 10 L × 1.046444 kg/L × 12 %. Its specific gravity in the table is rounded to half of 0.00001, 0.0012 °P.
  const kg = (c: Case) => c.parts.map((part) => part.weight_kg * part.yield);
  const KG = 1.255733;

  it.each([
    ['in the fermenter', { original_gravity: 1.04833 }, KG],
    ['in the fermenter, of another volume', { original_gravity: 1.04833, fermenter_volume: 12 }, 1.2 * KG],
    ['in the fermenter before that in the kettle', { original_gravity: 1.04833, boil_end_gravity: 1.08 }, KG],
    ['at the end of the boil', { boil_end_gravity: 1.04833, boil_end_volume: 9 }, 0.9 * KG],
    [
      'at the end before the start',
      { boil_end_gravity: 1.04833, boil_end_volume: 9, boil_start_gravity: 1.08 },
      0.9 * KG,
    ],
    ['at its start', { boil_start_gravity: 1.04833, boil_start_volume: 11 }, 1.1 * KG],
    // What was planned weighs the same: 10 L of 100 g/L, of a gravity of 1.03852; 12 % of it.
    ['at its start, of the planned mass', { boil_start_gravity: 1.04833 }, 0.12 * 10 * 1.03852 * 0.998207],
  ] as const)('%s', (_, read, mass_kg) => {
    expect(kg(fitted(planned(), read))[0]).toBeCloseTo(mass_kg, 3);
  });

  it('of which 5 L of trub keep more than half', () => {
    // 2.698 kg in the 10.367 planned are 26.03 °P; their density between 1.1036 (25 °P) and 1.1270 (30) is 1.1084, and they take
    // 9.353 L: 4.353 of them reach the fermenter, with 1.2557 kg.
    const c = planned({ boilVolume_L: given(10) }, { kettleLoss_L: own(5) });
    expect(kg(fitted(c, { original_gravity: 1.04833 }))[0]).toBeCloseTo(2.698, 2);
  });

  it('two parts keep their proportion, and what is added in the fermenter stays', () => {
    const parts = [
      sugar(500),
      sugar(300, { add: boilFor(10) }),
      sugar(200, { add: { at: 'fermenter', day: 3 } }),
    ];
    const found = kg(fitted(planned({ sugar: parts }), { original_gravity: 1.04833 }));
    expect(found[0]! / found[1]!).toBeCloseTo(5 / 3, 9);
    // The late sugar makes 10.01 L of it: what the fermenter is not to hold stays in the pot with its extract.
    expect((found[0]! + found[1]!) / KG).toBeCloseTo(1.001, 3);
    expect(found[2]).toBe(0.2);
  });

  it('five times as much a round is the most that is believed, a fifth the least; water tells nothing', () => {
    const little = planned({ sugar: [sugar(1)] });
    expect(kg(fitted(little, { original_gravity: 1.04833 }))[0]).toBeCloseTo(KG, 3);
    expect(kg(fitted(planned({ sugar: [] }), { original_gravity: 1.04833 }))).toEqual([]);
    expect(kg(fitted(planned(), { original_gravity: 1 }))).toEqual([1]);
  });

  it('leaves the plan itself as it was', () => {
    const c = planned({ packaging: [bottle] });
    const before = JSON.stringify({ ...c, times_min: [] });
    fitted(c, { original_gravity: 1.04833, 'packaged.sugar': 80, fermenter_volume: 9, boil_end_volume: 8 });
    expect(JSON.stringify({ ...c, times_min: [] })).toBe(before);
  });
});

describe('sugar that was weighed', () => {
  const keg = { ...bottle, into: 'keg' as const, sugar: null, bottle_L: null, volume_L: given<never>(4) };
  const packed = (packaging: Recipe['packaging'], read: Record<string, number>): readonly PackagePart[] =>
    fitted(planned({ packaging }), read).packages;

  it('is that of the first part that is primed', () => {
    const [first, second] = packed([keg, bottle], { 'packaged.sugar': 77 });
    expect(first!.sugar_g).not.toBe(77);
    expect(second!.sugar_g).toBe(77);
  });

  it('one part takes all there is; of several each keeps its own', () => {
    const some = { ...bottle, volume_L: given<never>(3) };
    expect(packed([some], {})[0]!.volume_L).toBeNaN();
    expect(packed([some, keg], {})[0]!.volume_L).toBe(3);
    expect(packed([keg], { 'packaged.sugar': 77 })[0]!.volume_L).toBe(4);
  });

  it('is as it was planned where it was not', () => {
    const c = planned({ packaging: [bottle] });
    expect(fitted(c, {}).packages[0]!.sugar_g).toBe(c.packages[0]!.sugar_g);
  });
});

describe('an input that is nudged', () => {
  function nudged(key: 'heat_kW' | 'pitchingRate', u: number) {
    const { c } = modelOf({});
    const nominal = c[key];
    const changes: number[] = [];
    const input: Input = {
      key,
      label: key,
      u,
      movesKettle: false,
      set: (target, change) => {
        changes.push(change);
        target[key] = nominal + change;
      },
    };
    const found = propagate(c, [input]);
    const at = (target: TargetKey) => TARGET_INDEX[target];
    return {
      changes,
      kept: c[key] === nominal,
      is: (target: TargetKey) => found.nominal[at(target)]!,
      moves: (target: TargetKey) => found.contributions[0]![at(target)]!,
      variance: (target: TargetKey) => found.variances[0]![at(target)]!,
    };
  }

  it('moves what goes with it in proportion, and nothing else', () => {
    const rate = nudged('pitchingRate', 0.1);
    expect(rate.changes).toEqual([0.1, -0.1, 0]);
    expect(rate.kept).toBe(true);
    const cells = rate.is('yeast_cells_billion');
    expect(rate.moves('yeast_cells_billion')).toBeCloseTo(0.1 * cells, 9);
    expect(rate.variance('yeast_cells_billion')).toBeCloseTo((0.1 * cells) ** 2, 6);
    expect(rate.moves('original_gravity')).toBe(0);
    expect(rate.variance('original_gravity')).toBe(0);
  });

  // A time is E / P. At 1.5 ± 0.5 kW: E/2 and E/1, half their difference −E/4; they bend by E/2 + E − 2E/1.5 = E/6.
  it('that bends a target brings half the square of the bend too', () => {
    const heat = nudged('heat_kW', 0.5);
    const energy = 1.5 * heat.is('minutes_to_boil');
    expect(heat.moves('minutes_to_boil')).toBeCloseTo(-energy / 4, 9);
    expect(heat.variance('minutes_to_boil')).toBeCloseTo(energy ** 2 * (1 / 16 + 1 / 72), 6);
  });
});
