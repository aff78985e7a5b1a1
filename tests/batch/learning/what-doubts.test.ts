/** What each figure worked back from a day is uncertain by, and days that tell nothing of it. */
import { describe, expect, it } from 'vitest';
import { evidenceOf } from '../../../lib/batch/learning/observe.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { LearnedKey } from '../../../lib/batch/types/learning.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import {
  boilFor,
  extract,
  given,
  grain,
  hop,
  sampleBatch,
  sampleRecipe,
  sampleSetup,
  yeast,
} from '../sample.ts';
import { mashAt, own } from '../sample-plan.ts';
import { litres, sg } from '../sample-readings.ts';

const part = {
  on: { date: '2026-03-01', clock: null },
  into: null,
  temperature_C: null,
  sugar_g: null,
  bottles: null,
};
/** A mash with extract, hops in the kettle and after it: all at once. */
const RECIPE: Partial<Recipe> = {
  steep: null,
  mash: mashAt(66, 3),
  boilVolume_L: given(10, '10 L'),
  grain: [grain(2000, { name: 'pale malt', in: 'mash' })],
  extract: [extract(1000)],
  hops: [hop(50, boilFor(60)), hop(40, { at: 'dry', day: 4, for_min: null, forWritten: null })],
  yeast: [yeast()],
};
const READINGS: Readings = {
  heating_started: '10:00',
  mash_in: '10:20',
  mash_temperature: given(66),
  boil_start_volume: litres(10),
  boil_start_gravity: sg(1.08),
  boil_end_volume: litres(8),
  boil_end_gravity: sg(1.1),
  boil_ended: '13:00',
  // 7 L from the pot and 12.3 L of top-up at 12 °C meet at 19 °C where the wort is at about 32 °C: this is warmer than asked.
  chilled: { at: '13:30', temperature_C: given(36) },
  top_up: { volume: litres(12), temperature_C: null },
  fermenter_volume: litres(19),
  original_gravity: sg(1.045),
  packaged: [{ ...part, volume: litres(18) }],
  final_gravity: sg(1.011),
};
/** Gravities of another wort would contradict the one that is asked of. */
const NO_KETTLE: Readings = { boil_start_gravity: 'not taken', boil_end_gravity: 'not taken' };
const brewed = (recipe: Partial<Recipe> = {}, readings: Readings = {}, over: Partial<Batch> = {}) =>
  evidenceOf(
    sampleBatch({
      recipe: sampleRecipe({ ...RECIPE, ...recipe }),
      readings: { ...READINGS, ...readings },
      setup: sampleSetup({ instruments: { ...sampleSetup().instruments, scale: own(1, 0.005) } }),
      ...over,
    }),
  );
const namesOf = (doubts: readonly { input: string }[]) => doubts.map(({ input }) => input).sort();
const YIELDS = ['pale liquid extract: yield', 'pale malt: yield'];
const SCALE = 'the kitchen scale';
const { kit, attenuation } = brewed();

describe('a figure is uncertain by', () => {
  it.each<[LearnedKey, readonly string[]]>([
    ['heat', ['minutes by the clock', 'water filled in', 'mash_temperature', 'the tap water']],
    [
      'boil_off',
      ['boil_start_volume', 'boil_end_volume', 'boil minutes', SCALE, 'mash efficiency', ...YIELDS],
    ],
    ['chill.to', ['chilled.temperature', 'this chill']],
    ['chill.in', ['minutes by the clock', 'chilled.temperature', 'the tap water', 'this chill']],
    [
      'kettle_loss',
      [
        'boil_end_volume',
        'fermenter_volume',
        'top_up.volume',
        'original_gravity',
        SCALE,
        'mash efficiency',
        'wort held by the hops',
        ...YIELDS,
      ],
    ],
    [
      'hop_absorption',
      [
        'boil_end_volume',
        'fermenter_volume',
        'top_up.volume',
        'original_gravity',
        SCALE,
        'mash efficiency',
        'what stays in the kettle',
        ...YIELDS,
      ],
    ],
    ['fermenter_loss', ['fermenter_volume', 'packaged.volume', SCALE, 'wort held by the hops']],
  ])('%s: its readings, and what they are worked back with', (key, names) => {
    expect(namesOf(kit[key]!.doubts)).toEqual([...names].sort());
  });

  it('a mash’s efficiency: a volume and a gravity of one moment, the scale and the yields', () => {
    const early = brewed({}, { boil_end_gravity: 'not taken', fermenter_volume: 'not taken' });
    expect(namesOf(early.kit.mash_efficiency!.doubts)).toEqual(
      ['boil_start_volume', 'boil_start_gravity', SCALE, ...YIELDS].sort(),
    );
  });

  it('a mash’s efficiency from the fermenter: what stayed behind as well', () => {
    const late = brewed({}, { boil_start_gravity: 'not taken', boil_end_gravity: 'not taken' });
    expect(namesOf(late.kit.mash_efficiency!.doubts)).toEqual(
      [
        'fermenter_volume',
        'original_gravity',
        'boil_end_volume',
        SCALE,
        'what stays in the kettle',
        'wort held by the hops',
        ...YIELDS,
      ].sort(),
    );
  });

  it('an attenuation: two gravities, how well other malts ferment, and what each gives; no scale, that weighs all alike', () => {
    const crystal = grain(400, { name: 'crystal malt', in: 'mash' });
    const sugar = extract(300, { kind: 'sugar', name: 'sugar', fermentableAs: 'sugar' });
    const { attenuation: found } = brewed({ grain: [...RECIPE.grain!, crystal], sugar: [sugar] });
    expect(namesOf(found!.doubts)).toEqual(
      [
        'original_gravity',
        'final_gravity',
        'fermentability',
        'mash efficiency',
        'crystal malt: yield',
        'sugar: yield',
        ...YIELDS,
      ].sort(),
    );
  });
});

describe('what other batches share', () => {
  const { setup } = sampleBatch();
  it.each([
    ['coil', 'the tap water'],
    ['cold-water bath', 'the tap water'],
    ['ice bath', 'the ice bath'],
    ['none', 'the room'],
  ] as const)('of a chill with %s is the cold side alone: %s', (how, name) => {
    const chill = { ...setup.chill, to_C: own(40), with: how };
    const found = brewed({}, {}, { setup: sampleSetup({ chill }) }).kit['chill.in']!;
    expect(found.doubts.filter(({ shared }) => shared).map(({ input }) => input)).toEqual([name]);
  });

  it('of volumes is everything but the marks', () => {
    const own = kit.boil_off!.doubts.filter(({ shared }) => !shared).map(({ input }) => input);
    expect(own).toEqual(['boil_start_volume', 'boil_end_volume', 'boil minutes']);
  });
});

describe('a steep’s yield', () => {
  const steeped: Partial<Recipe> = { steep: sampleRecipe().steep, mash: null, grain: [grain(500)] };
  it.each(['boil_off', 'kettle_loss', 'hop_absorption'] as const)('is a doubt of %s', (key) => {
    expect(namesOf(brewed(steeped).kit[key]!.doubts)).toContain('steep efficiency');
  });

  it('is a doubt of the attenuation', () => {
    const found = brewed({ ...steeped, extract: [extract(2900)] }, NO_KETTLE);
    expect(namesOf(found.attenuation!.doubts)).toContain('steep efficiency');
  });
});

it('what no yeast takes counts among the extract, not among the malt', () => {
  const lactose = extract(300, {
    kind: 'sugar',
    name: 'lactose',
    fermentableAs: 'none',
    yield: { value: 1 as never, u: null, from: 'table' },
  });
  const found = brewed(
    {
      mash: null,
      grain: [],
      extract: [extract(2000, { yield: { value: 0.79 as never, u: 0.4, from: 'recipe' } })],
      sugar: [lactose],
    },
    {
      ...NO_KETTLE,
      original_gravity: sg(1.05),
      final_gravity: sg(1.01),
    },
  );
  // 12.397 °P and a real extract of 4.345 °P; 1.58 kg of malt in 1.88 kg, over Balling’s 0.8192.
  const real = 1 - 4.345 / 12.397;
  expect(found.attenuation!.value).toBeCloseTo((real * 1.88) / (0.8192 * 1.58), 3);
});

describe('a day tells nothing', () => {
  const nothing = { kit: {}, attenuation: null };
  it.each<[string, Partial<Batch>]>([
    ['that has no date', { brewed: null }],
    ['without readings', { readings: {} }],
    [
      'that was given up',
      { readings: { ...READINGS, abandoned: { on: { date: '2026-02-15', clock: null }, why: 'spilt' } } },
    ],
    ['whose plan is impossible', { setup: sampleSetup({ altitude_m: own(20_000) }) }],
  ])('%s', (_, over) => {
    expect(brewed({}, {}, over)).toEqual(nothing);
  });

  it('of what stays in the kettle, where what was topped up is not known', () => {
    expect(brewed({}, { top_up: 'not taken' }).kit.kettle_loss).toBeUndefined();
    const whole: Partial<Recipe> = { boilVolume_L: null, intoFermenter_L: given(8, '8 L') };
    const unknown: Readings = { fermenter_volume: litres(7.5), top_up: 'not taken' };
    expect(brewed(whole, unknown).kit.kettle_loss).toBeUndefined();
  });

  it.each(['boil_end_volume', 'fermenter_volume'] as const)(
    'of what stays in the kettle without %s',
    (key) => {
      const found = brewed({}, { [key]: 'not taken' }).kit;
      expect(found.kettle_loss).toBeUndefined();
      expect(found.hop_absorption).toBeUndefined();
    },
  );

  it('of what stays in the kettle or of the mash, where extract went into a stand', () => {
    const stand = { temperature_C: given(80, '80 °C'), time_min: given(20, '20 min') } as Recipe['stand'];
    const late = extract(500, { name: 'late extract', add: { at: 'stand' } as never });
    const found = brewed({ stand, extract: [late] }).kit;
    expect(found.kettle_loss).toBeUndefined();
    expect(found.hop_absorption).toBeUndefined();
    expect(found.mash_efficiency).toBeUndefined();
  });

  it('of how far it chills, where the top-up water may do the rest', () => {
    const chilled = { at: '13:30', temperature_C: given<never>(30) };
    expect(brewed({}, { chilled }).kit['chill.to']).toBeUndefined();
  });

  it('of the attenuation, where honey went into the fermenter or one gravity is missing', () => {
    const honey = extract(300, {
      kind: 'sugar',
      name: 'honey',
      fermentableAs: 'sugar',
      add: { at: 'fermenter', day: 3 },
    });
    expect(brewed({ sugar: [honey] }).attenuation).toBeNull();
    expect(brewed({}, { final_gravity: 'not taken' }).attenuation).toBeNull();
    expect(brewed({}, { original_gravity: 'not taken' }).attenuation).toBeNull();
    expect(brewed({ yeast: [] }).attenuation).toBeNull();
  });
});

it('what tells of a day is worked back once', () => {
  const batch = sampleBatch({ recipe: sampleRecipe(RECIPE), readings: READINGS });
  expect(evidenceOf(batch)).toBe(evidenceOf(batch));
});

it('each figure says which batch it is of', () => {
  expect(kit.boil_off).toMatchObject({ slug: 'winding-hole-bitter', brewed: '2026-02-14' });
  expect(attenuation).toMatchObject({ slug: 'winding-hole-bitter', yeast: 'English ale' });
});
