/** Figures of a kit worked back from readings that were made up so that pencil and paper give the answer. */
import { describe, expect, it } from 'vitest';
import { evidenceOf } from '../../../lib/batch/learning/observe.ts';
import type { LearnedKey } from '../../../lib/batch/types/learning.ts';
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
  yeast,
} from '../sample.ts';
import { mashAt, own } from '../sample-plan.ts';
import { litres, sg } from '../sample-readings.ts';

const evidence = (recipe: Partial<Recipe>, readings: Readings, setup: Partial<Setup> = {}) =>
  evidenceOf(sampleBatch({ recipe: sampleRecipe(recipe), readings, setup: sampleSetup(setup) }));

const { steep } = sampleRecipe();
const MASH: Partial<Recipe> = { ...WATER, mash: mashAt(66, 3), grain: [grain(2000, { in: 'mash' })] };
const STEEP: Partial<Recipe> = { ...WATER, steep, grain: [grain(1)] };
const dry = { at: 'dry', day: 5, for_min: null, forWritten: null } as const;
const late = (g: number, minutes: number) => ({ ...WATER, extract: [extract(g, { add: boilFor(minutes) })] });
const boiled = (min: number) => ({ ...WATER, boil_min: given<never>(min, `${min} min`) });
const hot = (from: string, boil: string): Readings => ({ heating_started: from, boil_started: boil });
const clock = (boil_ended: string): Readings => ({
  boil_start_volume: litres(10),
  boil_end_volume: litres(8),
  boil_started: '14:00',
  boil_ended,
});
const chilled = (at: string, t_C: number): Readings => ({
  boil_ended: '15:00',
  chilled: { at, temperature_C: given(t_C) },
});
const chiller = (how: Setup['chill']['with'], to_C = 22): Partial<Setup> => ({
  chill: { ...sampleSetup().chill, to_C: own(to_C), with: how },
});
const stand: Recipe['stand'] = { temperature_C: given(80, '80 °C'), time_min: given(20, '20 min') };
const moved = (top_up: number): Readings => ({
  boil_end_volume: litres(8),
  top_up: { volume: litres(top_up), temperature_C: null },
  fermenter_volume: litres(19),
  original_gravity: sg(1),
});
const whole: Partial<Recipe> = { ...WATER, boilVolume_L: null, intoFermenter_L: given(8, '8 L') };
const part = (litres_: number | null) => ({
  on: { date: '2026-03-01', clock: null },
  into: null,
  temperature_C: null,
  sugar_g: null,
  bottles: null,
  volume: litres_ === null ? null : litres(litres_),
});
const packed = (...parts: (number | null)[]): Readings => ({
  fermenter_volume: litres(19),
  packaged: parts.map(part),
});
const atStart: Readings = { boil_start_volume: litres(10), boil_start_gravity: sg(1.03998) };
const atEnd: Readings = { boil_end_volume: litres(8), boil_end_gravity: sg(1.04831) };
const inFermenter: Readings = {
  boil_end_volume: litres(8),
  fermenter_volume: litres(19),
  original_gravity: sg(1.01964),
};

/** What is told, of which recipe and readings on which kit: the figure, to how many digits; null where they do not tell it. */
type Row = readonly [string, LearnedKey, Partial<Recipe>, Readings, Partial<Setup>, number | null, number?];

const ROWS: readonly Row[] = [
  [
    '2 L gone in an hour',
    'boil_off',
    WATER,
    { boil_start_volume: litres(10), boil_end_volume: litres(8) },
    {},
    2,
    9,
  ],
  ['the same in an hour and a half by the clock', 'boil_off', WATER, clock('15:30'), {}, 2 / 1.5, 9],
  // Two standard uncertainties of the clock are 3 min.
  ['a clock that is 3 min over: the countdown is believed', 'boil_off', WATER, clock('15:03'), {}, 2, 9],
  ['a clock that is 7 min over', 'boil_off', WATER, clock('15:07'), {}, 2 * (60 / 67), 9],
  ['a clock that is 7 min short', 'boil_off', WATER, clock('14:53'), {}, 2 * (60 / 53), 9],
  // 0.21 kg of water and 0.79 kg of extract that takes 0.61 to 0.64 L/kg.
  [
    'a litre of syrup at flame-out',
    'boil_off',
    late(1000, 0),
    clock('15:00'),
    {},
    2 + 0.21 + 0.79 * 0.625,
    1,
  ],
  [
    'ten minutes of boil',
    'boil_off',
    boiled(10),
    { boil_start_volume: litres(10), boil_end_volume: litres(9.5) },
    {},
    3,
    9,
  ],
  [
    'nine minutes of boil',
    'boil_off',
    boiled(9),
    { boil_start_volume: litres(10), boil_end_volume: litres(9.5) },
    {},
    null,
  ],
  [
    'one volume',
    'boil_off',
    WATER,
    { boil_start_volume: litres(10), boil_end_volume: 'not taken' },
    {},
    null,
  ],

  // Water: 9.982 kg × 4.1868 kJ/(kg K).
  [
    '10 L from 12 to 99.97 °C in 45 min',
    'heat',
    WATER,
    hot('10:00', '10:45'),
    {},
    (9.982 * 4.1868 * 87.97) / 2700,
    3,
  ],
  [
    'the same with extract that comes later',
    'heat',
    late(1000, 12),
    hot('10:00', '10:45'),
    {},
    (9.982 * 4.1868 * 87.97) / 2700,
    3,
  ],
  [
    // 9.286 kg of water to the boil; 1 kg of 79 °P from 20 °C with 2.56 kJ/(kg K) at their mean of 60 °C; three minutes of stirring.
    'extract at the start, brought back to the boil',
    'heat',
    { ...WATER, extract: [extract(1000)] },
    hot('10:00', '10:48'),
    {},
    (9.286 * 4.1868 * 87.97 + 2.5594 * 79.97) / 2700,
    2,
  ],
  [
    // 6 L of water to 66 + 2 × 1.7 / (5.989 × 4.1868) × 46 = 72.24 °C.
    'a mash’s own water up to the strike temperature',
    'heat',
    MASH,
    { heating_started: '10:00', mash_in: '10:20', mash_temperature: given(66) },
    {},
    (5.989 * 4.1868 * 60.24) / 1200,
    2,
  ],
  [
    'a steep’s, of water less its rinse: 8 L to 68 °C in half an hour',
    'heat',
    { ...STEEP, rinse_L: given(2, '2 L') },
    { heating_started: '10:00', steep_in: '10:30', steep_temperature: given(68) },
    {},
    (8 * 0.998207 * 4.1868 * 56) / 1800,
    2,
  ],
  ['a mash by a steep’s clock', 'heat', MASH, { heating_started: '10:00', steep_in: '10:20' }, {}, null],
  ['a mash without a start', 'heat', MASH, { mash_in: '10:20' }, {}, null],
  ['a span of four minutes', 'heat', WATER, hot('10:00', '10:04'), {}, null],

  // Newton's law of cooling from 99.97 °C; the tap is at 12 °C, the room at 20, ice at 4.
  ['a chill to the usual end', 'chill.in', WATER, chilled('15:33', 22), chiller('coil'), 33, 9],
  [
    'a chill half way',
    'chill.in',
    WATER,
    chilled('15:20', 34),
    chiller('coil'),
    (20 * Math.log(8.797)) / Math.log(87.97 / 22),
    1,
  ],
  [
    'without a bath',
    'chill.in',
    WATER,
    chilled('16:00', 60),
    chiller('none', 30),
    (60 * Math.log(7.997)) / Math.log(79.97 / 40),
    0,
  ],
  [
    'in ice',
    'chill.in',
    WATER,
    chilled('15:20', 34),
    chiller('ice bath'),
    (20 * Math.log(95.97 / 18)) / Math.log(95.97 / 30),
    1,
  ],
  [
    'after a stand at 80 °C',
    'chill.in',
    { ...WATER, stand },
    chilled('15:40', 34),
    chiller('coil'),
    (20 * Math.log(6.8)) / Math.log(68 / 22),
    1,
  ],
  ['as cold as what cools it', 'chill.in', WATER, chilled('16:00', 13.9), chiller('coil'), null],
  ['as hot as it was', 'chill.in', WATER, chilled('15:20', 100), chiller('coil'), null],
  ['a usual end that no tap brings', 'chill.in', WATER, chilled('15:20', 34), chiller('coil', 13.9), null],
  ['four minutes', 'chill.in', WATER, chilled('15:04', 40), chiller('coil'), null],
  [
    'a temperature that was not taken',
    'chill.in',
    WATER,
    { boil_ended: '15:00', chilled: 'not taken' },
    {},
    null,
  ],

  // 2 kg of grain at 75 % could give 1.5 kg. 10 °P is 1038.115 kg/m³, 12 °P 1046.444, 5 °P 1017.805 (ICUMSA SPS-4).
  ['10 L of 10 °P', 'mash_efficiency', MASH, atStart, {}, 1.038115 / 1.5, 3],
  ['8 L of 12 °P at the end', 'mash_efficiency', MASH, atEnd, {}, (8 * 1.046444 * 0.12) / 1.5, 3],
  [
    '19 L of 5 °P, of 8 L half a litre left behind',
    'mash_efficiency',
    MASH,
    inFermenter,
    {},
    (19 * 1.017805 * 0.05 * (8 / 7.5)) / 1.5,
    3,
  ],
  [
    'and 0.3 L in 50 g of hops at 6 L/kg',
    'mash_efficiency',
    { ...MASH, hops: [hop(50, boilFor(60))] },
    inFermenter,
    {},
    (19 * 1.017805 * 0.05 * (8 / 7.2)) / 1.5,
    3,
  ],
  [
    'less what 1 kg of syrup brings',
    'mash_efficiency',
    { ...MASH, extract: [extract(1000)] },
    atStart,
    {},
    (1.038115 - 0.79) / 1.5,
    3,
  ],
  [
    'a steep of 700 g and 1 kg of syrup',
    'steep_efficiency',
    { ...WATER, steep, grain: [grain(700)], extract: [extract(1000)] },
    atStart,
    {},
    (1.038115 - 0.79) / (0.7 * 0.75),
    3,
  ],
  ['a mash’s, of a steep', 'steep_efficiency', MASH, atStart, {}, null],
  ['no grain', 'mash_efficiency', { ...WATER, extract: [extract(1000)] }, atStart, {}, null],
  ['a volume alone', 'mash_efficiency', MASH, { boil_start_volume: litres(10) }, {}, null],
  ['a gravity alone', 'mash_efficiency', MASH, { boil_end_gravity: sg(1.04) }, {}, null],
  [
    'a steep beside a mash',
    'steep_efficiency',
    { ...MASH, steep, grain: [grain(2000, { in: 'mash' }), grain(300)] },
    atStart,
    {},
    null,
  ],

  ['8 L less 7.5 L carried over', 'kettle_loss', WATER, moved(11.5), {}, 0.5, 3],
  ['and 0.3 L in the hops', 'kettle_loss', { ...WATER, hops: [hop(50, boilFor(60))] }, moved(12), {}, 0.7, 3],
  [
    'a boil that wants no top-up',
    'kettle_loss',
    whole,
    { boil_end_volume: litres(8.5), fermenter_volume: litres(8), original_gravity: sg(1) },
    {},
    0.5,
    3,
  ],
  ['a top-up that is not known', 'kettle_loss', WATER, inFermenter, {}, null],
  // 8 L less 6.9 L and 0.5 L of trub are 0.6 L in 0.1 kg; dry hops hold none of it.
  ['0.6 L in 100 g', 'hop_absorption', { ...WATER, hops: [hop(100, boilFor(60))] }, moved(12.1), {}, 6, 2],
  [
    'the same with dry hops',
    'hop_absorption',
    { ...WATER, hops: [hop(100, boilFor(60)), hop(100, dry)] },
    moved(12.1),
    {},
    6,
    2,
  ],
  ['dry hops alone', 'hop_absorption', { ...WATER, hops: [hop(100, dry)] }, moved(12), {}, null],

  ['19 L less 10 and 8.2', 'fermenter_loss', WATER, packed(10, 8.2), {}, 0.8, 9],
  [
    'less 0.6 L in 100 g of dry hops',
    'fermenter_loss',
    { ...WATER, hops: [hop(100, dry)] },
    packed(17.8),
    {},
    0.6,
    9,
  ],
  ['a part that was not measured', 'fermenter_loss', WATER, packed(10, null), {}, null],
  ['no part', 'fermenter_loss', WATER, packed(), {}, null],
];

describe('a kit tells', () => {
  it.each(ROWS.map((row) => [row[0], row[1], row] as const))('%s: %s', (_, key, row) => {
    const [, , recipe, readings, setup, value, digits] = row;
    const found = evidence(recipe, readings, setup).kit[key];
    if (value === null) expect(found).toBeUndefined();
    else expect(found?.value).toBeCloseTo(value, digits ?? 0);
  });

  // JCGM 100, 5.1.2: marks of 0.25 L on the kettle and 0.3 L on the fermenter, the clock's 1.5 min, tap water of ± 3 K.
  it.each<readonly [string, LearnedKey, Partial<Recipe>, Readings, number]>([
    ['two marks and the clock', 'boil_off', WATER, clock('15:00'), Math.hypot(0.25, 0.25, 2 * (1.5 / 60))],
    ['three marks', 'kettle_loss', WATER, moved(11.5), Math.hypot(0.25, 0.3, 0.3)],
    [
      'the clock, a mark and the tap',
      'heat',
      WATER,
      hot('10:00', '10:45'),
      ((9.982 * 4.1868 * 87.97) / 2700) * Math.hypot(1.5 / 45, 0.025, 3 / 87.97),
    ],
  ])('as surely as %s', (_, key, recipe, readings, u) => {
    expect(evidence(recipe, readings).kit[key]!.u / u).toBeCloseTo(1, 1);
  });

  it('of a little steeped grain beside much extract with great doubt', () => {
    const found = evidence({}, { boil_start_volume: litres(10.5), boil_start_gravity: sg(1.05) }).kit;
    // 0.001 of gravity in 10.5 L is 0.027 kg of extract, a tenth of what 350 g × 75 % could give.
    expect(found.steep_efficiency!.u).toBeGreaterThan(0.1);
  });

  it('by the surest of several ways', () => {
    const each = [atStart, atEnd].map((readings) => evidence(MASH, readings).kit.mash_efficiency!);
    const surest = each.reduce((best, one) => (one.u < best.u ? one : best));
    expect(evidence(MASH, { ...atStart, ...atEnd }).kit.mash_efficiency!.u).toBe(surest.u);
  });
});

describe('attenuation', () => {
  const readings: Readings = { original_gravity: sg(1.05), final_gravity: sg(1.01) };
  /** Of a yield that nobody knows, so that no gravity contradicts it. */
  const malt = extract(2000, { yield: { value: 0.79 as never, u: 0.4, from: 'recipe' } });
  const of = (more: Partial<Recipe> = {}) =>
    evidence({ ...WATER, extract: [malt], yeast: [yeast()], ...more }, readings).attenuation;

  it('of all-malt wort is the apparent one', () => {
    // 1.050 is 12.397 °P, 1.010 is 2.568 °P (ICUMSA SPS-4).
    expect(of()!.value).toBeCloseTo(1 - 2.568 / 12.397, 3);
    expect(of()!.yeast).toBe('English ale');
  });

  it('is higher where some of the malt ferments less, and lower where sugar ferments whole', () => {
    expect(of({ steep, grain: [grain(400)] })!.value).toBeGreaterThan(of()!.value);
    const sugar = extract(300, { kind: 'sugar', fermentableAs: 'sugar' });
    expect(of({ sugar: [sugar] })!.value).toBeLessThan(of()!.value);
  });

  it('is not told of two yeasts at once', () => {
    expect(of({ yeast: [yeast(), yeast()] })).toBeNull();
  });
});
