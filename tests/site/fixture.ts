import type { Act, RowItem, TimetableRow } from '../../lib/batch/types/acts.ts';
/** Three made-up batches and plans, typed as the model types them: pages are tested without the model. */
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { Brewery } from '../../lib/batch/types/brewery.ts';
import type { Figure, KettleRow, Plan, Targets } from '../../lib/batch/types/plan.ts';

import type { Recipe } from '../../lib/batch/types/recipe.ts';
import type { Setup, SetupFigure } from '../../lib/batch/types/setup.ts';
import { TARGET_KEYS, type TargetKey } from '../../lib/batch/types/targets.ts';
import { billionCells, celsius, ebc, fraction, gram, minute } from '../../lib/units/brands.ts';
import type { GivenVolume } from '../../lib/units/parse/given.ts';
import { boilFor, extract, given, grain, hop, sampleRecipe, sampleSetup, yeast } from '../batch/sample.ts';
import { sg as read } from '../batch/sample-readings.ts';

const sg = (value: number, sample_C: number | null, written: string) => ({
  ...read(value, sample_C),
  written,
});
const volume = (value: number, written: string): GivenVolume => ({ value, u: null, at_C: null, written });
const looked = <T extends number>(value: T) => ({ value, u: null, from: 'table' as const });
const kit = (value: number, written: string | null = null): SetupFigure => ({
  value,
  u: value * 0.05,
  written,
  assumed: written === null,
});

export const brewery: Brewery = {
  name: 'The Lock Cottage',
  units: 'metric',
  paper: 'a4',
  author: 'The lock-keeper',
  url: null,
  language: 'en-GB',
};

export const setup: Setup = sampleSetup({
  title: 'Gas ring and the 15 L pot',
  kettle_L: kit(15, '15 L'),
  heat_kW: kit(1.8, '1.8 kW'),
  boilOff_L_per_h: kit(2.2, '2.2 L/h'),
  kettleLoss_L: kit(0.5),
  hopAbsorption_L_per_kg: kit(6),
  grainAbsorption_L_per_kg: kit(0.9),
  fermenter_L: kit(25, '25 L'),
  fermenterLoss_L: kit(0.7),
  steepEfficiency: kit(0.5),
  mashEfficiency: kit(0.7),
  chill: { to_C: kit(22), in_min: kit(25), with: 'ice bath', assumed: false },
  waterTemperature_C: kit(12),
  topUpTemperature_C: kit(8),
  roomTemperature_C: kit(20),
  altitude_m: kit(0),
  hydrometer: { at_C: kit(20), step: 0.002, u: 0.001, assumed: true },
  refractometerFactor: kit(1.04),
  instruments: {
    kettleMark_L: kit(0.2),
    fermenterMark_L: kit(0.2),
    scale: kit(0.01),
    thermometer_C: kit(0.5),
  },
});

const malt = {
  yield: looked(fraction(0.78)),
  colour_EBC: looked(ebc(10)),
  fermentability: looked(fraction(1)),
};
const syrup_ = (weight: number, written: string, minutesLeft: number) =>
  extract(weight, { ...malt, weight_g: given(gram(weight), written), add: boilFor(minutesLeft) });
const leaf = { form: 'leaf', alpha: { value: fraction(0.046), u: null, from: 'recipe' } } as const;
const english = yeast({
  pack: { value: 11, unit: 'g', written: '11 g' },
  cells: { billion: billionCells(10), per: 'g', u: null },
});

export const recipe: Recipe = sampleRecipe({
  grain: [grain(350, malt)],
  extract: [syrup_(1500, '1.5 kg', 60), syrup_(1100, '1.1 kg', 12)],
  hops: [
    hop(30, boilFor(60), leaf),
    hop(20, { at: 'stand' }, leaf),
    hop(
      25,
      { at: 'dry', day: 7, for_min: minute(4320), forWritten: '3 days' },
      { ...leaf, name: 'Goldings' },
    ),
  ],
  stand: { temperature_C: given(celsius(80), '80 °C'), time_min: given(minute(20), '20 min') },
  other: [
    {
      name: 'kettle finings',
      amount: { value: 1, unit: 'count', written: '1' },
      add: boilFor(10),
      allergens: [],
      note: 'half a tablet is enough for 10 L',
    },
  ],
  yeast: [english],
  packaging: sampleRecipe().packaging.map((step) => ({
    ...step,
    sugar: { name: 'table sugar', co2_g_per_g: 0.5, extract: 1 },
  })),
});

const figure = (value: number, half: number): Figure => ({
  value,
  low: value - half,
  high: value + half,
  printed: { low: value - half, high: value + half },
  contributors: [{ input: 'extract[0].yield', share: 0.7 }],
});

const VALUES: Partial<Record<TargetKey, readonly [number, number]>> = {
  original_gravity: [1.044, 0.002],
  final_gravity: [1.012, 0.003],
  original_extract_plato: [10.98, 0.4],
  alcohol_volume_percent: [4.2, 0.4],
  alcohol_mass_percent: [3.3, 0.3],
  bitterness_ibu: [24, 5],
  colour_ebc: [28, 6],
  colour_srm: [14, 3],
  energy_kcal_per_litre: [410, 20],
  apparent_attenuation_percent: [72, 4],
  water_to_heat_l: [9.8, 0.3],
  boil_start_volume_l: [10.5, 0.4],
  boil_start_gravity: [1.042, 0.002],
  boil_end_volume_l: [9.4, 0.6],
  boil_end_gravity: [1.09, 0.006],
  boil_start_volume_hot_l: [10.9, 0.5],
  boil_end_volume_hot_l: [9.8, 0.6],
  kettle_fill_percent: [76, 3],
  top_up_l: [10.2, 0.6],
  top_up_c: [8, 1],
  chill_to_c: [30, 2],
  steep_water_c: [70, 1],
  minutes_to_steep: [25, 3],
  minutes_to_boil: [20, 3],
  ice_kg: [3.2, 0.6],
  packaged_volume_l: [18.3, 0.3],
  bottles: [36, 1],
  priming_sugar_g: [98, 8],
  residual_co2_vol: [0.86, 0.02],
  bottle_pressure_20c_kpa: [152, 12],
  bottle_pressure_30c_kpa: [218, 15],
};

const targets = Object.fromEntries(
  TARGET_KEYS.map((key) => {
    const pair = VALUES[key];
    return [key, pair === undefined ? null : figure(pair[0], pair[1])];
  }),
) as unknown as Targets;

const asItem = (path: string, name: string, written: string): RowItem => ({
  path,
  name,
  amount: { value: 1, unit: 'count', written },
  note: null,
});
const row = (
  minuteOf: number,
  phase: TimetableRow['phase'],
  act: Act,
  minutes_left: number | null = null,
  items: readonly RowItem[] = [],
): TimetableRow => ({ phase, minutes_left, minute: minuteOf, clock: null, items, ...act });
const syrup = (index: number, written: string) => [
  asItem(`extract[${index}]`, 'pale liquid extract', written),
];
const fuggle = (index: number, written: string) => [asItem(`hops[${index}]`, 'Fuggle', written)];

const timetable: readonly TimetableRow[] = [
  row(-720, 'gather', { action: 'prepare', thing: 'top-up water', volume_L: 10.2 }),
  row(0, 'heat', { action: 'fill', thing: 'kettle', volume_L: 9.8 }),
  row(0, 'heat', { action: 'heat', to_C: 70, minutes: 25 }),
  row(25, 'steep', { action: 'grain in' }, null, [asItem('grain[0]', 'crystal malt 150', '350 g')]),
  row(45, 'steep', { action: 'grain out' }),
  row(46, 'heat', { action: 'flame off', thing: 'extract' }),
  row(46, 'heat', { action: 'stir in', minutes: 3 }, null, syrup(0, '1.5 kg')),
  row(66, 'boil', { action: 'boil begins', minutes: 60 }, 60),
  row(66, 'boil', { action: 'add' }, 60, fuggle(0, '30 g')),
  row(114, 'boil', { action: 'stir in', minutes: 3 }, 12, syrup(1, '1.1 kg')),
  row(122, 'boil', { action: 'add' }, 10, [asItem('other[0]', 'kettle finings', '1')]),
  row(132, 'boil', { action: 'flame out' }, 0),
  row(132, 'stand', { action: 'add' }, null, fuggle(1, '20 g')),
  row(152, 'chill', { action: 'chill', to_C: 26, bath_C: 32, ice_kg: 3.2, coil: false, minutes: 25 }),
  row(177, 'chill', { action: 'top up', volume_L: 10.2, at_C: null, to_L: 19 }),
  row(182, 'read', { action: 'read', minutes: 5 }),
  row(187, 'pitch', { action: 'pitch' }, null, [asItem('yeast[0]', 'English ale', '11 g')]),
];

const kettle: readonly KettleRow[] = Array.from({ length: 61 }, (_, i) => ({
  minutes_left: 60 - i,
  volume_l: 10.5 - (2.2 / 60) * i + (i >= 48 ? 0.7 : 0),
  gravity: 1.042 + 0.0002 * i + (i >= 48 ? 0.036 : 0),
}));

export const plan: Plan = {
  version: 1,
  slug: 'winding-hole-bitter',
  title: 'Winding Hole Bitter',
  revision: 'a1b2c3',
  setup: { key: 'stove', title: setup.title },
  targets,
  timetable,
  bitterness: [
    {
      what: 'Fuggle 30 g',
      item: 'hops[0]',
      equivalent_minutes: 60,
      mean_gravity: 1.05,
      utilisation: 0.23,
      ibu: 17,
      remark: null,
    },
    {
      what: 'Fuggle 20 g',
      item: 'hops[1]',
      equivalent_minutes: 6,
      mean_gravity: 1.09,
      utilisation: 0.05,
      ibu: 3,
      remark: null,
    },
  ],
  kettle,
  pauses: [{ minutes_left: 12, minutes: 6 }],
  corrections: [],
  sample_corrections: [],
  priming: null,
  label: null,
  yeast: [
    { name: 'English ale', wanted_billion: 155, wanted_g: { low: 9.5, high: 15.2 }, packs: 2, pack: '11 g' },
  ],
  assumed: [{ key: 'kettle_loss', value: '0.5 L', reason: 'common practice, from memory' }],
  judgments: [
    {
      key: 'final_gravity',
      level: 'act',
      cause: { code: 'stopped high', gravity_SG: 1.0188, expected_SG: 1.011, days: 4 },
      do: { code: 'warm and rouse', on: '2026-03-03' },
    },
  ],
  bottles: null,
  readings: {
    original_gravity: { value: 1.0448, verdict: 'fine', target: 'original_gravity', likeliest_cause: null },
    boil_end_volume: {
      value: 9.3,
      verdict: 'a_little_off',
      target: 'boil_end_volume_l',
      likeliest_cause: 'boil_off',
    },
    final_gravity: {
      value: 1.0188,
      verdict: 'off',
      target: 'final_gravity',
      likeliest_cause: 'attenuation',
    },
  },
  as_brewed: null,
  finish: {
    days: 3,
    apart: 0.001,
    expected_gravity: 1.011,
    finished_at_most: 1.013,
    nearly_at_most: 1.016,
  },
  fermentation: { state: 'stopped high', next: '2026-03-03', as_of: null },
  swatch: { srgb: '#8a3f12' },
  warnings: [
    { code: 'W-FILL', key: 'recipe.boil_volume', message: 'The kettle is nearly full at its fullest.' },
  ],
};

export const brewed: Batch = {
  slug: 'winding-hole-bitter',
  title: 'Winding Hole Bitter',
  number: 12,
  brewed: '2026-02-14',
  start: '13:30',
  setup,
  style: 'Brown ale',
  tags: ['regatta'],
  basedOn: 'unseen-barge',
  pictures: [],
  publish: 'all',
  recipe,
  readings: {
    boil_end_volume: volume(9.7, '9.7 L'),
    original_gravity: sg(1.044, 24, '1.044 @ 24 °C'),
    pitched: {
      on: { date: '2026-02-14', clock: '17:20' },
      temperature_C: given(celsius(19), '19 °C'),
      yeast: null,
    },
    fermentation: [
      {
        on: { date: '2026-02-18', clock: '08:00' },
        gravity: sg(1.019, 20, '1.019 @ 20 °C'),
        temperature_C: given(celsius(19), '19 °C'),
        note: 'krausen falling',
      },
      {
        on: { date: '2026-02-24', clock: null },
        gravity: sg(1.012, 20, '1.012'),
        temperature_C: null,
        note: null,
      },
      {
        on: { date: '2026-02-28', clock: null },
        gravity: sg(1.01, 20, '1.010'),
        temperature_C: null,
        note: null,
      },
    ],
    final_gravity: sg(1.019, 19, '1.019 @ 19 °C'),
    packaged: [
      {
        on: { date: '2026-03-01', clock: null },
        into: 'bottles',
        volume: volume(18, '18 L'),
        temperature_C: null,
        sugar_g: given(gram(100), '100 g'),
        bottles: 35,
      },
    ],
    tasted: [{ on: { date: '2026-03-24', clock: null }, score: 4, note: 'bread crust and a dry end' }],
  },
  notes: 'More **roast** next time.\n\n## What I would change\n\n- less water\n- more heat\n',
};

/** Everything in it that could do harm if it were ever run, fetched or believed. */
export const HOSTILE_TITLE = '<script>alert(1)</script>{{ 7 * 7 }}{% raw %}';
export const hostile: Batch = {
  ...brewed,
  slug: 'mischief',
  title: HOSTILE_TITLE,
  number: 13,
  style: '"><img src=x onerror=alert(1)>',
  basedOn: 'winding-hole-bitter',
  pictures: [],
  readings: {},
  notes: [
    '<script>alert(2)</script>',
    '{{ 7 * 7 }} {% include "secret" %}',
    '[a](javascript:alert(3)) [b](data:text/html,x) [c](vbscript:x) [d](file:///etc/passwd)',
    '[good](https://example.org/page) [mail](mailto:a@example.org) [near](../../index.html)',
    '![pixel](https://example.org/pixel.png) ![js](javascript:alert(4)) ![proto](//example.org/p.png)',
    '<a href="https://example.org" onclick="alert(5)">raw</a>',
    '# A first-level heading in the notes',
  ].join('\n\n'),
};

/** Nothing of this one may stand anywhere on the site. */
export const unseen: Batch = {
  ...brewed,
  slug: 'unseen-barge',
  title: 'Unseen Barge',
  number: 11,
  publish: 'nothing',
};

export const recipeOnly: Batch = {
  ...brewed,
  slug: 'towpath-gift',
  title: 'Towpath Gift',
  number: 777_123,
  brewed: '2025-12-24',
  publish: 'recipe',
  notes: 'Notes that are nobody else’s business.',
};

export const planned: Batch = {
  ...brewed,
  slug: 'not-yet',
  title: 'Not Yet',
  number: 14,
  basedOn: null,
  pictures: [],
  readings: {},
  notes: '',
};

/** Names that no column can hold, and figures in more words than a number. */
const LONG = 'Hochgebirgsgroßdoldenlandhopfenkonzentrat';
export const wordy: Batch = {
  ...brewed,
  slug: 'wordy',
  title: `${LONG}${LONG} nach Großmutterart`,
  number: 999_999,
  style: `${LONG}${LONG}`,
  tags: [LONG, LONG],
  basedOn: null,
  pictures: [],
  recipe: {
    ...recipe,
    boil_min: given(minute(75), '1 h 15 min'),
    extract: recipe.extract.map((item) => ({ ...item, name: LONG })),
    hops: recipe.hops.map((item) => ({ ...item, name: LONG })),
    yeast: [{ ...english, name: LONG, note: LONG }],
  },
  notes: `${LONG}${LONG}\n\n    ${'code '.repeat(40)}\n\n| a | b |\n|---|---|\n| ${LONG} | ${LONG} |\n`,
};

export const planFor = (batch: Batch): Plan => ({
  ...plan,
  slug: batch.slug,
  title: batch.title,
  readings: Object.keys(batch.readings).length === 0 ? {} : plan.readings,
  judgments: Object.keys(batch.readings).length === 0 ? [] : plan.judgments,
  timetable:
    batch === wordy
      ? plan.timetable.map((row) => ({
          ...row,
          items: row.items.map((item) => ({ ...item, name: LONG })),
        }))
      : plan.timetable,
});
