/** What a day's readings say together: the level, the cause and the act of each; everything not named is calm and silent. */
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { Judgment } from '../../../lib/batch/types/judgment.ts';
import type { Plan } from '../../../lib/batch/types/plan.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { GrainItem, Recipe } from '../../../lib/batch/types/recipe.ts';
import { boilFor, extract, given, grain, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { mashAt, own, planOf } from '../sample-plan.ts';
import { litres, sg } from '../sample-readings.ts';

/** 19 L at 1.040 by weight, 11.1 L of it top-up, for a yeast of 17 to 21 °C; a fermenter of 30 L. */
const setup = sampleSetup({ fermenter_L: own(30) });
const batchWith = (readings: Readings, recipe: Partial<Recipe> = {}): Batch =>
  sampleBatch({ readings, setup, recipe: sampleRecipe(recipe) });
const planned = planOf(batchWith({}));
const at = (key: keyof Plan['targets']): number => planned.targets[key]!.value;

const degrees = (value: number) => ({ value: value as never, u: null, written: `${value} °C` });
const chilled = (t_C: number) => ({ at: null, temperature_C: degrees(t_C) });
const topUp = (volume_L: number | null, t_C: number | null) => ({
  volume: volume_L === null ? null : litres(volume_L),
  temperature_C: t_C === null ? null : degrees(t_C),
});
const on = { date: '2026-02-14', clock: '17:20' };
const gravity = (key: 'original_gravity' | 'boil_start_gravity' | 'boil_end_gravity', points: number) =>
  sg(at(key) + points / 1000);

const told = (plan: Plan): readonly (readonly [string, string, string | undefined, string | undefined])[] =>
  plan.judgments
    .filter(({ cause }) => cause !== null)
    .map(({ key, level, cause, do: act }) => [key, level, cause?.code, act?.code]);

const GOOD: Readings = {
  boil_start_volume: litres(at('boil_start_volume_l') + 0.2),
  boil_start_gravity: gravity('boil_start_gravity', -1),
  boil_end_volume: litres(at('boil_end_volume_l') - 0.2),
  boil_end_gravity: gravity('boil_end_gravity', 2),
  chilled: chilled(at('chill_to_c')),
  top_up: topUp(at('top_up_l') + 0.2, at('top_up_c')),
  original_gravity: gravity('original_gravity', 1),
  fermenter_volume: litres(19.25),
  pitched: { on, temperature_C: degrees(20), yeast: { value: 11, unit: 'g', written: '11 g' } },
};

/** Standard uncertainty of the starting gravity, the hydrometer's included. */
const u_POINTS = 500 * (planned.targets.original_gravity!.high - at('original_gravity'));

type Row = readonly [
  name: string,
  readings: Readings,
  says: readonly (readonly [key: string, level: Judgment['level'], cause: string, act?: string])[],
];

/** What 19 L at 1.040 give in 20.9 L: 1.0362; in 17.1 L: 1.0443 (extract is conserved). */
const CASES: readonly Row[] = [
  ['nothing', {}, []],
  ['a good day', GOOD, []],
  [
    'more water, and the gravity that it gives',
    {
      ...GOOD,
      top_up: topUp(at('top_up_l') + 1.9, 14),
      fermenter_volume: litres(20.9),
      original_gravity: sg(1.0362),
    },
    [['fermenter_volume', 'calm', 'volume', 'add extract']],
  ],
  [
    'less water, and the gravity that it gives',
    { top_up: topUp(at('top_up_l') - 1.9, 14), fermenter_volume: litres(17.1), original_gravity: sg(1.0443) },
    [['fermenter_volume', 'calm', 'volume', 'leave it']],
  ],
  [
    'another volume, and nothing else read',
    { fermenter_volume: litres(21.5) },
    [['fermenter_volume', 'act', 'volume', 'read again']],
  ],
  [
    'the volume as planned, the gravity 3.4 standard uncertainties high',
    { fermenter_volume: litres(19), original_gravity: gravity('original_gravity', 3.4 * u_POINTS) },
    [['original_gravity', 'look again', 'weights', 'stir and read again']],
  ],
  [
    'the volume as planned, the gravity 10 points low',
    { fermenter_volume: litres(19), original_gravity: gravity('original_gravity', -10) },
    [['original_gravity', 'act', 'weights', 'stir and read again']],
  ],
  [
    'more water and a higher gravity',
    { fermenter_volume: litres(20.9), original_gravity: gravity('original_gravity', 6) },
    [['original_gravity', 'act', 'contradiction', 'stir and read both']],
  ],
  [
    'every gravity a quarter low: something was left out',
    {
      boil_start_gravity: sg(1 + 0.75 * (at('boil_start_gravity') - 1)),
      boil_end_gravity: sg(1 + 0.75 * (at('boil_end_gravity') - 1)),
      original_gravity: sg(1 + 0.75 * (at('original_gravity') - 1)),
    },
    [['original_gravity', 'look again', 'less extract', 'check the weights']],
  ],
  [
    'one gravity of the kettle that does not fit',
    { ...GOOD, boil_end_gravity: gravity('boil_end_gravity', 25) },
    [['boil_end_gravity', 'look again', 'odd', 'check the figure']],
  ],
  [
    'a pot filled 2 L too low',
    { boil_start_volume: litres(at('boil_start_volume_l') - 2) },
    [['boil_start_volume', 'act', 'odd', 'fill up']],
  ],
  [
    'top-up from the fridge',
    { ...GOOD, chilled: chilled(22), top_up: topUp(11.1, 4), pitched: 'not taken' },
    [['top_up.temperature', 'act', 'mix', 'wait with the yeast']],
  ],
  [
    'wort left hot',
    { chilled: chilled(48), top_up: topUp(11.1, 14) },
    [['chilled.temperature', 'act', 'mix', 'wait with the yeast']],
  ],
  ['wort left warm, made up for by cold water', { chilled: chilled(30), top_up: topUp(11.1, 12) }, []],
  [
    '2 K above the band as pitched',
    { pitched: { on, temperature_C: degrees(23), yeast: null } },
    [['pitched.temperature', 'look again', 'mix', 'bring it back']],
  ],
  [
    'far too warm a mix, cooled before the yeast',
    {
      chilled: chilled(48),
      top_up: topUp(11.1, 14),
      pitched: { on, temperature_C: degrees(19), yeast: null },
    },
    [],
  ],
  [
    'ten times the yeast',
    { pitched: { on, temperature_C: null, yeast: { value: 110, unit: 'g', written: '110 g' } } },
    [['pitched.yeast', 'look again', 'decimal point', 'check the figure']],
  ],
  [
    'a tenth of the wort',
    { fermenter_volume: litres(1.9), original_gravity: gravity('original_gravity', 0) },
    [['fermenter_volume', 'look again', 'decimal point', 'check the figure']],
  ],
  [
    '80 minutes of boil instead of 60',
    { boil_started: '14:00', boil_ended: '15:26' },
    [['boil_ended', 'look again', 'boil length', 'counted']],
  ],
  [
    '64 minutes of boil',
    { boil_started: '14:00', boil_ended: '15:10' },
    [['boil_ended', 'calm', 'boil length', 'counted']],
  ],
  ['60 minutes with a pause of six', { boil_started: '14:00', boil_ended: '15:08' }, []],
  [
    'hops 20 minutes late',
    { boil_started: '14:00', additions: [{ at: '15 min', minutesLeft: 15 as never, clock: '15:12' }] },
    [['additions[0].clock', 'look again', 'late', 'counted']],
  ],
  [
    'hops 2 minutes late',
    { boil_started: '14:00', additions: [{ at: '60 min', minutesLeft: 60 as never, clock: '14:02' }] },
    [],
  ],
  [
    'hops that never went in',
    { additions: [{ at: '60 min', minutesLeft: 60 as never, clock: 'left out' }] },
    [['additions[0].clock', 'calm', 'left out']],
  ],
];

/** 17.6 L come out of a fermenter of 19 L, 35 bottles of half a litre. */
const packaged = (volume_L: number, bottles: number | null, into: 'bottles' | null = null) => [
  {
    on: { date: '2026-03-10', clock: null },
    into,
    volume: litres(volume_L),
    temperature_C: null,
    sugar_g: null,
    bottles,
  },
];

const PACKAGED: readonly Row[] = [
  ['packaged as planned', { packaged: packaged(at('packaged_volume_l'), 35) }, []],
  [
    'more beer than there was wort',
    { packaged: packaged(at('packaged_volume_l') + 4, null) },
    [['packaged.volume', 'look again', 'odd', 'check the figure']],
  ],
  [
    'a third of the bottles forgotten',
    { packaged: packaged(at('packaged_volume_l'), 24) },
    [['packaged.bottles', 'look again', 'bottle count', 'check the figure']],
  ],
  [
    'ten times the beer',
    { packaged: packaged(10 * at('packaged_volume_l'), null) },
    [['packaged.volume', 'look again', 'decimal point', 'check the figure']],
  ],
];

describe('a day', () => {
  it.each([...CASES, ...PACKAGED])('%s', (_, readings, says) => {
    const plan = planOf(batchWith(readings));
    expect(told(plan)).toEqual(says.map(([key, level, cause, act]) => [key, level, cause, act]));
    // Each reading has one judgment, and each judgment a reading.
    expect(plan.judgments.map(({ key }) => key)).toEqual(Object.keys(plan.readings));
  });

  it.each([
    ['60 min', 60, null, 'Fuggle'],
    ['12 min', 12, null, 'pale liquid extract'],
    ['60 min', 60, 'pale liquid extract', 'pale liquid extract'],
    ['33 min', 33, null, '33 min'],
  ])('names what was left out at %s', (moment, minutesLeft, what, named) => {
    const row = {
      at: moment,
      minutesLeft: minutesLeft as never,
      what: what ?? undefined,
      clock: 'left out' as const,
    };
    const found = planOf(batchWith({ additions: [row as never] })).judgments.find(
      ({ key }) => key === 'additions[0].clock',
    );
    expect(found!.cause).toMatchObject({ what: named });
  });

  it('believes a mash that gave less, and mends it where that is sensible', () => {
    const mashed: GrainItem = grain(1500, {
      name: 'pale malt',
      in: 'mash',
      colour_EBC: { value: 6 as never, u: null, from: 'table' },
    });
    const recipe = { grain: [mashed], steep: null, mash: mashAt(67, 3), extract: [extract(1000)] };
    const { original_gravity } = planOf(batchWith({}, recipe)).targets;
    const half = (original_gravity!.high - original_gravity!.value) / 2;
    const readings = { original_gravity: sg(original_gravity!.value - 3.3 * half) };
    const plan = planOf(batchWith(readings, recipe));
    const [found] = told(plan);
    expect(found?.slice(0, 3)).toEqual(['original_gravity', 'look again', 'mash']);
    expect(plan.readings.original_gravity!.doubted).toBeUndefined();
    expect(plan.as_brewed!.original_gravity!.value).toBeCloseTo(readings.original_gravity.value, 5);
  });
});

describe('what is doubted', () => {
  const contradicted = planOf(
    batchWith({ fermenter_volume: litres(20.9), original_gravity: gravity('original_gravity', 3) }),
  );
  it('is marked, and the beer as brewed takes the weights and the volume', () => {
    expect(contradicted.readings.original_gravity!.doubted).toBe(true);
    expect(contradicted.readings.fermenter_volume!.doubted).toBeUndefined();
    expect(contradicted.as_brewed!.original_gravity!.value).toBeCloseTo(1.0362, 3);
  });
  it('moves no expected end', () => {
    const end = (readings: Readings) => planOf(batchWith(readings)).finish!.expected_gravity;
    expect(end({ original_gravity: gravity('original_gravity', 12) })).toBeCloseTo(end({}), 6);
    expect(end({ original_gravity: gravity('original_gravity', 2) })).toBeGreaterThan(end({}) + 0.0003);
  });
});

describe('as boiled', () => {
  const ibu = (readings: Readings) =>
    planOf(batchWith({ warmest_after: degrees(19), ...readings })).as_brewed!.bitterness_ibu!.value;
  const [first] = planned.bitterness;
  it('what was left out counts for nothing', () => {
    const without = ibu({ additions: [{ at: '60 min', minutesLeft: 60 as never, clock: 'left out' }] });
    expect(ibu({}) - without).toBeCloseTo(first!.ibu!, 0);
    const tin = { at: '12 min', minutesLeft: 12 as never, clock: 'left out' as const };
    const og = planOf(batchWith({ additions: [tin], warmest_after: degrees(19) })).as_brewed!
      .original_gravity!;
    // 1.1 kg of 2.6 did not go in: its 0.869 kg of 2.185 kg of extract, 40 % of 39.8 points.
    expect(og.value).toBeCloseTo(1 + 0.0398 * (1 - 0.869 / 2.185), 3);
  });
  it('a longer boil gives more bitterness; hops that went in late give less', () => {
    expect(ibu({ boil_started: '14:00', boil_ended: '15:26' })).toBeGreaterThan(ibu({}) + 0.5);
    const late = { at: '60 min', minutesLeft: 60 as never, clock: '14:30' as const };
    expect(ibu({ boil_started: '14:00', additions: [late] })).toBeLessThan(ibu({}) - 2);
  });
});

describe('the strip of corrections', () => {
  const fine = {
    ...setup,
    kettleLoss_L: own(0.5, 0.05),
    hydrometer: { ...setup.hydrometer, step: 0.001, u: 0.0003 },
  };
  const rows = (kit = fine, into = '19 L') =>
    planOf(
      sampleBatch({
        setup: kit,
        recipe: sampleRecipe({
          intoFermenter_L: given(19, into),
          extract: [
            extract(2400, { yield: { value: 0.79 as never, u: 0.002, from: 'table' } }),
            extract(1760, { add: boilFor(12), yield: { value: 0.79 as never, u: 0.002, from: 'table' } }),
          ],
        }),
      }),
    ).corrections;
  it('never asks for more than a tenth of either, nor for water that has no room', () => {
    for (const { add_water_l, add_extract_g } of rows()) {
      expect(add_water_l ?? 0).toBeLessThanOrEqual(1.9);
      expect(add_extract_g ?? 0).toBeLessThanOrEqual(440);
    }
    expect(rows().some(({ add_water_l }) => add_water_l !== null)).toBe(true);
    expect(rows({ ...fine, fermenter_L: own(21) }).every(({ add_water_l }) => add_water_l === null)).toBe(
      true,
    );
  });
  it('has no two rows that say the same', () => {
    for (const kit of [setup, fine]) {
      const remedies = rows(kit).map((row) => [row.meaning, row.add_water_l, row.add_extract_g].join());
      expect(new Set(remedies).size).toBe(remedies.length);
    }
  });
});
