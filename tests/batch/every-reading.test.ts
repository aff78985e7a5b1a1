/** Every reading of a day: under which key it is kept, what it is held against, and how well it is known. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../lib/batch/model/build-model-input.ts';
import { designBoil } from '../../lib/batch/model/design.ts';
import { runModel } from '../../lib/batch/model/model.ts';
import { type Observation, observations, originalBrix } from '../../lib/batch/readings/normalise-readings.ts';
import type { PackagedReading, Readings } from '../../lib/batch/types/readings.ts';
import { given, sampleBatch, sampleSetup } from './sample.ts';
import { own, planOf } from './sample-plan.ts';
import { litres, sg } from './sample-readings.ts';

const setup = sampleSetup({
  hydrometer: { at_C: own(20), step: 0.002, u: 0.0011, assumed: false },
  instruments: {
    kettleMark_L: own(0, 0.3),
    fermenterMark_L: own(0, 0.4),
    scale: own(1, 0.01),
    thermometer_C: own(0, 0.7),
  },
});
const degrees = (value: number, u: number | null = null) => ({ ...given(value), u }) as never;
const on = { date: '2026-02-14', clock: null };
const part: PackagedReading = {
  on,
  into: 'bottles',
  volume: litres(18),
  temperature_C: degrees(19),
  sugar_g: { ...given(110), u: null } as never,
  bottles: 36,
};

const WHOLE_DAY: Readings = {
  steep_temperature: degrees(67),
  mash_temperature: degrees(66),
  boil_start_volume: litres(10.5),
  boil_start_gravity: sg(1.05),
  boil_end_volume: litres(8),
  boil_end_gravity: sg(1.1),
  chilled: { at: '15:00', temperature_C: degrees(21) },
  top_up: { volume: litres(11), temperature_C: degrees(12) },
  original_gravity: sg(1.044),
  fermenter_volume: litres(19),
  pitched: { on, temperature_C: degrees(20), yeast: null },
  fermentation: [
    { on, gravity: sg(1.02), temperature_C: degrees(19), note: null },
    { on, gravity: null, temperature_C: null, note: 'quiet' },
    { on, gravity: sg(1.012), temperature_C: null, note: null },
  ],
  warmest_after: degrees(21),
  final_gravity: sg(1.011),
  packaged: [part],
};

function read(readings: Readings): Observation[] {
  const batch = sampleBatch({ readings, setup });
  const c = buildCase(batch);
  designBoil(c);
  const { outcome, detail } = runModel(c);
  return observations(batch, outcome, detail);
}

/** Key, value, standard uncertainty, target. */
const ROWS: readonly (readonly [string, number, number, string | null])[] = [
  ['steep_temperature', 67, 0.7, null],
  ['mash_temperature', 66, 0.7, null],
  ['boil_start_volume', 10.5, 0.3, 'boil_start_volume_l'],
  ['boil_start_gravity', 1.05, 0.0011, 'boil_start_gravity'],
  ['boil_end_volume', 8, 0.3, 'boil_end_volume_l'],
  ['boil_end_gravity', 1.1, 0.0011, 'boil_end_gravity'],
  ['chilled.temperature', 21, 0.7, 'chill_to_c'],
  ['top_up.volume', 11, 0.4, 'top_up_l'],
  ['top_up.temperature', 12, 0.7, 'top_up_c'],
  ['original_gravity', 1.044, 0.0011, 'original_gravity'],
  ['fermenter_volume', 19, 0.4, 'fermenter_volume_l'],
  ['pitched.temperature', 20, 0.7, null],
  ['fermentation[0].gravity', 1.02, 0.0011, null],
  ['fermentation[0].temperature', 19, 0.7, null],
  ['fermentation[2].gravity', 1.012, 0.0011, null],
  ['warmest_after', 21, 0.7, null],
  ['final_gravity', 1.011, 0.0011, 'final_gravity'],
  ['packaged.volume', 18, 0.4, 'packaged_volume_l'],
  ['packaged.temperature', 19, 0.7, null],
  // A gram, and 1 % of what was weighed.
  ['packaged.sugar', 110, Math.hypot(1, 1.1), 'priming_sugar_g'],
  ['packaged.bottles', 36, 0, 'bottles'],
];

describe('a whole day', () => {
  const found = read(WHOLE_DAY);

  it('is kept in its order', () => {
    expect(found.map(({ key }) => key)).toEqual(ROWS.map(([key]) => key));
  });

  it.each(ROWS)('%s is %f ± %f, held against %s', (key, value, u, target) => {
    const one = found.find((observation) => observation.key === key)!;
    expect(one.value).toBeCloseTo(value, 6);
    expect(one.u).toBeCloseTo(u, 9);
    expect(one.target).toBe(target);
    expect(one.fault).toBeUndefined();
  });
});

describe('a reading that says itself how well it is known', () => {
  it.each([
    ['boil_end_volume', { boil_end_volume: litres(8, 20, 0.1) }, 0.1],
    ['fermenter_volume', { fermenter_volume: litres(19, 20, 0.15) }, 0.15],
    ['top_up.volume', { top_up: { volume: litres(11, 20, 0.05), temperature_C: null } }, 0.05],
    ['packaged.volume', { packaged: [{ ...part, volume: litres(18, 20, 0.2) }] }, 0.2],
    ['packaged.sugar', { packaged: [{ ...part, sugar_g: { ...given(110), u: 0.1 } as never }] }, 0.1],
    ['original_gravity', { original_gravity: sg(1.044, 20, 0.0003) }, 0.0003],
    ['warmest_after', { warmest_after: degrees(21, 0.2) }, 0.2],
  ] satisfies readonly (readonly [string, Readings, number])[])('%s', (key, readings, u) => {
    expect(read(readings).find((one) => one.key === key)!.u).toBe(u);
  });
});

describe('what was not taken', () => {
  const NOT: readonly (readonly [keyof Readings, string | null])[] = [
    ['steep_temperature', null],
    ['mash_temperature', null],
    ['boil_start_volume', 'boil_start_volume_l'],
    ['boil_start_gravity', 'boil_start_gravity'],
    ['boil_end_volume', 'boil_end_volume_l'],
    ['boil_end_gravity', 'boil_end_gravity'],
    ['chilled', 'chill_to_c'],
    ['top_up', 'top_up_l'],
    ['original_gravity', 'original_gravity'],
    ['fermenter_volume', 'fermenter_volume_l'],
    ['pitched', null],
    ['warmest_after', null],
    ['final_gravity', 'final_gravity'],
    ['packaged', null],
  ];
  it.each(NOT)('%s is an answer, held against %s', (key, target) => {
    expect(read({ [key]: 'not taken' })).toEqual([{ key, value: null, u: 0, target }]);
  });

  it('what was not asked is none', () => {
    expect(read({})).toEqual([]);
    expect(
      read({ packaged: [{ ...part, volume: null, temperature_C: null, sugar_g: null, bottles: null }] }),
    ).toEqual([]);
    expect(read({ top_up: { volume: null, temperature_C: null } })).toEqual([]);
  });
});

describe('volumes without a temperature of their own', () => {
  const warm = (value: number) => litres(value, null);
  const at = (readings: Readings, key: string) => read(readings).find((one) => one.key === key)!.value!;

  // Water takes 0.46 % more room at 30 °C than at 20 (995.65 and 998.21 kg/m³, IAPWS-95); worts of these strengths within 0.1 %.
  it.each([
    [
      'fermenter_volume',
      { fermenter_volume: warm(19), pitched: { on, temperature_C: degrees(30), yeast: null } },
      19,
    ],
    ['packaged.volume', { packaged: [{ ...part, volume: warm(19), temperature_C: degrees(30) }] }, 19],
    ['top_up.volume', { top_up: { volume: warm(19), temperature_C: degrees(30) } }, 19],
  ] satisfies readonly (readonly [string, Readings, number])[])(
    '%s is taken to be at its beer’s',
    (key, readings, shown_L) => {
      expect(at(readings, key) / shown_L).toBeCloseTo(998.21 / 995.65 / (998.21 / 995.65) ** 2, 2);
      expect(at(readings, key)).toBeLessThan(shown_L * 0.999);
    },
  );

  it('and packaged beer of no stated temperature is at 20 °C', () => {
    expect(
      at({ packaged: [{ ...part, volume: warm(19), temperature_C: null }] }, 'packaged.volume'),
    ).toBeCloseTo(19, 9);
  });
});

describe('two parts', () => {
  const found = read({
    packaged: [part, { ...part, into: 'keg', volume: litres(9), sugar_g: null, bottles: null }],
  });

  it('are told apart, and neither is the whole', () => {
    expect(found.map(({ key }) => key)).toEqual([
      'packaged[0].volume',
      'packaged[0].temperature',
      'packaged[0].sugar',
      'packaged[0].bottles',
      'packaged[1].volume',
      'packaged[1].temperature',
    ]);
    expect(found.every(({ target }) => target === null)).toBe(true);
  });
});

describe('the wort that a refractometer has to know of', () => {
  const brix = (readings: Readings) => originalBrix(sampleBatch({ readings, setup }), readings, 1.04833);
  // 1.04833 is 12 °P (ICUMSA SPS-4), 12.48 °Bx at a factor of 1.04.
  it('is as the refractometer itself showed it, as another instrument did, else as planned', () => {
    expect(brix({ original_gravity: { ...sg(11.3), scale: 'brix' } })).toBe(11.3);
    expect(brix({ original_gravity: sg(1.03998) })).toBeCloseTo(10.4, 2);
    expect(brix({ original_gravity: 'not taken' })).toBeCloseTo(12.48, 2);
    expect(brix({})).toBeCloseTo(12.48, 2);
  });
});

describe('a batch as brewed', () => {
  it('names each reading that its figures rest on', () => {
    const plan = planOf(sampleBatch({ readings: WHOLE_DAY, setup }));
    const inputs = Object.values(plan.as_brewed!).flatMap(
      (figure) => figure?.contributors.map(({ input }) => input) ?? [],
    );
    for (const words of [
      'the reading of boil end volume',
      'the reading of original gravity',
      'the reading of final gravity',
      'the reading of packaged volume',
      'the reading of warmest after',
    ])
      expect(inputs).toContain(words);
    // What was read replaces the guess that it settles.
    for (const guess of [
      'evaporation',
      "the fermenter's volume mark",
      "the yeast's attenuation",
      'what stays on the yeast',
    ])
      expect(inputs).not.toContain(guess);
  });

  it('takes a gravity in the kettle as it was read', () => {
    const plan = planOf(sampleBatch({ readings: { boil_end_gravity: sg(1.1) }, setup }));
    expect(plan.as_brewed!.boil_end_gravity).toEqual({
      value: expect.closeTo(1.1, 9),
      low: expect.closeTo(1.1 - 0.0022, 9),
      high: expect.closeTo(1.1 + 0.0022, 9),
      printed: { low: 1.096, high: 1.104 },
      contributors: [{ input: 'the reading of boil end gravity', share: 1 }],
    });
  });

  it('is none where nothing was read that changes it', () => {
    const of = (readings: Readings) => planOf(sampleBatch({ readings, setup })).as_brewed;
    expect(of({})).toBeNull();
    expect(of({ steep_temperature: degrees(67), boil_end_volume: 'not taken' })).toBeNull();
    expect(of({ original_gravity: sg(0.999) })).toBeNull();
    expect(of({ final_gravity: sg(0.999) })).not.toBeNull();
  });

  it('says nothing of the beer before the end gravity', () => {
    const brewed = planOf(sampleBatch({ readings: { original_gravity: sg(1.044) }, setup })).as_brewed!;
    const {
      final_gravity,
      alcohol_volume_percent,
      alcohol_mass_percent,
      energy_kcal_per_litre,
      apparent_attenuation_percent,
    } = brewed;
    expect([
      final_gravity,
      alcohol_volume_percent,
      alcohol_mass_percent,
      energy_kcal_per_litre,
      apparent_attenuation_percent,
    ]).toEqual([null, null, null, null, null]);
    expect(brewed.bitterness_ibu).not.toBeNull();
    expect(brewed.water_to_heat_l).toBeUndefined();
  });
});
