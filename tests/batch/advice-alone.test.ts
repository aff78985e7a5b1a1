/** What is told of one reading, from the figures alone: each sentence with its arithmetic. */
import { describe, expect, it } from 'vitest';
import { adviceOn } from '../../lib/batch/judgment/advice.ts';
import { buildCase } from '../../lib/batch/model/build-model-input.ts';
import type { Observation } from '../../lib/batch/readings/normalise-readings.ts';
import type { Figure, Targets } from '../../lib/batch/types/plan.ts';
import type { Readings } from '../../lib/batch/types/readings.ts';
import type { Recipe } from '../../lib/batch/types/recipe.ts';
import type { Setup } from '../../lib/batch/types/setup.ts';
import { TARGET_KEYS, type TargetKey } from '../../lib/batch/types/targets.ts';
import { extract, sampleBatch, sampleRecipe, sampleSetup } from './sample.ts';
import { brewery, own } from './sample-plan.ts';

const fig = (value: number): Figure => ({
  value,
  low: value,
  high: value,
  printed: { low: value, high: value },
  contributors: [],
});
const figures = (values: Partial<Record<TargetKey, number>>) =>
  Object.fromEntries(
    TARGET_KEYS.map((key) => {
      const value = values[key];
      return [key, value === undefined ? null : fig(value)];
    }),
  ) as unknown as Targets;

const PLANNED: Partial<Record<TargetKey, number>> = {
  boil_start_volume_l: 10.5,
  chill_to_c: 22,
  original_gravity: 1.04,
  final_gravity: 1.01,
  alcohol_volume_percent: 4,
  bitterness_ibu: 30,
  residual_co2_vol: 0.8,
  packaged_volume_l: 18,
};

interface Told {
  readonly verdict?: 'fine' | 'a_little_off' | 'off' | null;
  readonly planned?: Partial<Record<TargetKey, number>>;
  readonly brewed?: Partial<Record<TargetKey, number>> | null;
  readonly readings?: Readings;
  readonly others?: readonly Observation[];
  readonly recipe?: Partial<Recipe>;
  readonly setup?: Partial<Setup>;
  readonly units?: 'metric' | 'us';
  readonly fault?: string;
}

const seen = (key: string, value: number | null): Observation => ({ key, value, u: 0, target: null });

function told(key: string, value: number | null, of: Told = {}): string | null {
  const batch = sampleBatch({
    recipe: sampleRecipe(of.recipe),
    setup: sampleSetup(of.setup),
    readings: of.readings ?? {},
  });
  const reading = { ...seen(key, value), ...(of.fault === undefined ? {} : { fault: of.fault }) };
  return adviceOn(reading, of.verdict === undefined ? 'off' : of.verdict, {
    batch,
    brewery: { ...brewery, units: of.units ?? 'metric' },
    c: buildCase(batch),
    targets: figures({ ...PLANNED, ...of.planned }),
    asBrewed: of.brewed ? figures(of.brewed) : null,
    readings: of.others ?? [],
  });
}

const FOR_THE_NOTES = 'Nothing to do now: write it in the notes for the next batch.';
const on = { date: '2026-03-01', clock: null };
const NOT = 'not taken' as const;

describe('before anything else', () => {
  it('a fault is named, a reading without a value or a target has no word, a fine one is left', () => {
    expect(told('final_gravity', 1.02, { fault: 'the sample is too hot' })).toBe(
      'This reading says nothing: the sample is too hot.',
    );
    expect(told('final_gravity', null)).toBeNull();
    expect(told('final_gravity', 1.02, { verdict: null })).toBeNull();
    expect(told('final_gravity', 1.012, { verdict: 'fine' })).toBe('Nothing to do.');
  });
});

describe('the boil’s start', () => {
  it('8 L where 10.5 are planned want 2.5 L of hot water', () => {
    expect(told('boil_start_volume', 8)).toBe('Add 2.5 L of hot water before the countdown begins.');
  });

  it('13 L are 2.5 too many: at 2.5 L/h sixty minutes', () => {
    expect(told('boil_start_volume', 13)).toBe(
      'Boil 60 min before the countdown begins, which takes 2.5 L away.',
    );
    expect(told('boil_start_volume', 13, { setup: { boilOff_L_per_h: own(0) } })).toBe(FOR_THE_NOTES);
  });

  // Each of these is written down later in the day than the volume before the boil.
  const LATER: Readings = {
    boil_ended: '15:00',
    boil_end_volume: NOT,
    boil_end_gravity: NOT,
    chilled: NOT,
    top_up: NOT,
    original_gravity: NOT,
    fermenter_volume: NOT,
    pitched: NOT,
    fermentation: NOT,
    warmest_after: NOT,
    final_gravity: NOT,
    packaged: NOT,
    tasted: NOT,
    abandoned: { on, why: 'spilt' },
  };
  it.each(Object.entries(LATER))('is past mending once there is %s', (key, value) => {
    expect(told('boil_start_volume', 8, { readings: { [key]: value } })).toBe(FOR_THE_NOTES);
  });

  it('is not past with its own reading, an earlier one, or the gravity that goes with it', () => {
    const readings: Readings = { boil_started: '14:00', boil_start_volume: NOT, boil_start_gravity: NOT };
    expect(told('boil_start_volume', 8, { readings })).toMatch(/^Add 2.5 L/);
  });
});

describe('the chill', () => {
  it('goes on while it is warmer than wanted, and has no more to say once it is not', () => {
    expect(told('chilled.temperature', 30)).toBe('Chill on to 22 °C before the top-up and the yeast go in.');
    expect(told('chilled.temperature', 30, { units: 'us' })).toMatch(/^Chill on to 72 °F /);
    expect(told('chilled.temperature', 22)).toBe(FOR_THE_NOTES);
    expect(told('chilled.temperature', 10)).toBe(FOR_THE_NOTES);
  });

  it('is made up for once it is topped up, until the yeast is in: by more than 5 °C', () => {
    const topped = { chilled: NOT, top_up: NOT };
    expect(told('chilled.temperature', 30, { readings: topped })).toMatch(
      /^Cool it to 19 °C before the yeast/,
    );
    expect(told('chilled.temperature', 24, { readings: topped })).toBe(FOR_THE_NOTES);
    expect(told('chilled.temperature', 30, { readings: { ...topped, pitched: NOT } })).toBe(FOR_THE_NOTES);
  });
});

describe('the starting gravity', () => {
  // 10 L of 1.060 (14.74 °P) weigh 10.581 kg, 1.5597 kg of it extract; at 9.99 °P (1.040) that is 15.61 kg: 5.03 kg of water.
  it('too strong takes water by the volume that was read, else by the planned one', () => {
    expect(told('original_gravity', 1.06, { others: [seen('fermenter_volume', 10)] })).toBe(
      'Add 5 L of boiled and cooled water to the 10 L in the fermenter, if it has the room, and stir.',
    );
    expect(told('original_gravity', 1.06, { others: [seen('top_up.volume', 10)] })).toMatch(
      / to the 19 L in the fermenter/,
    );
  });

  it('too weak takes extract, where there is an extract strong enough', () => {
    // 19 L of 1.030 (7.55 °P) weigh 19.535 kg, 1.475 kg of it extract: (0.0999 × 19.535 − 1.475) / (0.79 − 0.0999) = 0.69 kg.
    expect(told('original_gravity', 1.03)).toMatch(
      /^Stir 6[89]\d g of pale liquid extract, boiled up in a little water and cooled, into the 19 L in the fermenter\.$/,
    );
    const thin = { extract: [extract(1500, { yield: { value: 0.05 as never, u: null, from: 'table' } })] };
    expect(told('original_gravity', 1.03, { recipe: thin })).toBe(FOR_THE_NOTES);
  });

  it.each([
    ['a wort', 0.998, 1.04],
    ['a wort', 1, 1.04],
    ['a target', 1.03, 1],
    ['a target', 1.03, 0.999],
  ])('that is none of %s (%f for %f) has nothing to be mended by', (_, read, planned) => {
    expect(told('original_gravity', read, { planned: { original_gravity: planned } })).toBe(FOR_THE_NOTES);
  });

  it('is mended with the yeast in, not once the beer is fermenting', () => {
    const beside: Readings = { original_gravity: NOT, fermenter_volume: NOT, pitched: NOT };
    expect(told('original_gravity', 1.06, { readings: beside })).toMatch(/^Add /);
    expect(told('original_gravity', 1.06, { readings: { fermentation: NOT } })).toBe(FOR_THE_NOTES);
  });
});

describe('the end gravity', () => {
  it('too high is not packaged, too low is waited for, and neither once it is in bottles', () => {
    expect(told('final_gravity', 1.02)).toMatch(/^Do not package it: /);
    expect(told('final_gravity', 1.001)).toMatch(/^Wait a week and read again before packaging: /);
    expect(told('final_gravity', 1.02, { readings: { packaged: NOT } })).toBe(FOR_THE_NOTES);
  });
});

describe('what it changes', () => {
  const brewed = { alcohol_volume_percent: 4.5, bitterness_ibu: 25 };
  const AS = (what: string) => `The beer comes out ${what} than planned.`;

  it.each([
    ['boil_start_gravity'],
    ['boil_end_volume'],
    ['boil_end_gravity'],
    ['top_up.volume'],
    ['fermenter_volume'],
  ])('is told of %s', (key) => {
    expect(told(key, 5, { brewed })).toBe(AS('0.5 % of alcohol stronger and 5 IBU less bitter'));
  });

  it.each([
    ['top_up.temperature'],
    ['pitched.temperature'],
    ['warmest_after'],
    ['packaged.volume'],
    ['packaged.bottles'],
  ])('is nothing of the beer’s strength for %s', (key) => {
    expect(told(key, 5, { brewed })).toBe(FOR_THE_NOTES);
    expect(told(key, 5, { brewed, verdict: 'a_little_off' })).toBe(
      'Nothing to do: within what the batch can bear.',
    );
  });

  it('goes with what is a little off', () => {
    expect(told('boil_end_volume', 5, { brewed, verdict: 'a_little_off' })).toBe(
      `Nothing to do: within what the batch can bear. ${AS('0.5 % of alcohol stronger and 5 IBU less bitter')}`,
    );
  });

  it.each<[Partial<Record<TargetKey, number>>, string]>([
    [{ alcohol_volume_percent: 3.6 }, AS('0.4 % of alcohol weaker')],
    [{ alcohol_volume_percent: 4.05, bitterness_ibu: 33 }, AS('3 IBU more bitter')],
    [{ alcohol_volume_percent: 3.95, bitterness_ibu: 30.9 }, FOR_THE_NOTES],
    [{ alcohol_volume_percent: 4.2, bitterness_ibu: 29.1 }, AS('0.2 % of alcohol stronger')],
    [{ original_gravity: 1.052 }, AS('12 points of gravity stronger')],
    [
      { original_gravity: 1.037, bitterness_ibu: 28.6 },
      AS('3 points of gravity weaker and 1 IBU less bitter'),
    ],
    [{ original_gravity: 1.041 }, AS('a point of gravity stronger')],
    [{ original_gravity: 1.039 }, AS('a point of gravity weaker')],
    [{ original_gravity: 1.0404 }, FOR_THE_NOTES],
    [{}, FOR_THE_NOTES],
  ])('%j: %s', (beer, advice) => {
    expect(told('boil_end_volume', 5, { brewed: beer })).toBe(advice);
  });

  it('goes by gravity where no alcohol is planned, and by nothing where no gravity is', () => {
    const none = { alcohol_volume_percent: undefined } as never;
    const beer = { alcohol_volume_percent: 4.5, original_gravity: 1.044 };
    expect(told('boil_end_volume', 5, { brewed: beer, planned: none })).toBe(
      AS('4 points of gravity stronger'),
    );
    const nothing = { alcohol_volume_percent: undefined, original_gravity: undefined } as never;
    expect(told('boil_end_volume', 5, { brewed: beer, planned: nothing })).toBe(FOR_THE_NOTES);
    expect(told('boil_end_volume', 5)).toBe(FOR_THE_NOTES);
  });
});

describe('what is past mending', () => {
  const brewed = { alcohol_volume_percent: 4.5 };
  it.each<[string, number, Readings]>([
    ['boil_start_volume', 8, { boil_ended: '15:00' }],
    ['original_gravity', 1.06, { fermentation: NOT }],
    ['final_gravity', 1.02, { packaged: NOT }],
  ])('%s is told by what it changes', (key, value, readings) => {
    expect(told(key, value, { brewed, readings })).toBe(
      'The beer comes out 0.5 % of alcohol stronger than planned.',
    );
  });
});

describe('packaging', () => {
  it('another volume than planned: the sugar for it, as long as none is weighed', () => {
    const brewed = { priming_sugar_g: 71 };
    expect(told('packaged.volume', 13, { brewed })).toBe(
      'Weigh 71 g of table sugar for the 13 L that are there.',
    );
    expect(told('packaged.volume', 13, { brewed, others: [seen('packaged.sugar', 71)] })).toBe(FOR_THE_NOTES);
    expect(told('packaged.volume', 13, { brewed, others: [seen('packaged.volume', 13)] })).toMatch(/^Weigh/);
    expect(told('packaged.volume', 13, { brewed, readings: { tasted: NOT } })).toBe(FOR_THE_NOTES);
    expect(told('packaged.volume', 13, { brewed: {} })).toBe(FOR_THE_NOTES);
    expect(told('packaged.volume', 13)).toBe(FOR_THE_NOTES);
    expect(told('packaged.volume', 13, { brewed, recipe: { packaging: [] } })).toBe(FOR_THE_NOTES);
    const keg = sampleRecipe().packaging.map((step) => ({ ...step, into: 'keg' as const, sugar: null }));
    expect(told('packaged.volume', 13, { brewed, recipe: { packaging: keg } })).toBe(FOR_THE_NOTES);
  });

  // Gas: 0.8 vol that stayed in, and 0.5143 g of each gram of sugar over 1.9768 g/L for a volume.
  // 104 g in 18 L make 0.8 + 1.503 = 2.3 vol; 120 g 2.53; 140 g 2.82.
  const MAKES = (vol: string) => `It makes about ${vol} vol; 2.3 vol was planned.`;
  it.each<[number, Told['verdict'], string]>([
    [104, 'fine', 'Nothing to do.'],
    [120, 'fine', 'Nothing to do.'],
    [120, 'a_little_off', `Nothing to do: within what the batch can bear. ${MAKES('2.5')}`],
    [120, 'off', MAKES('2.5')],
    [140, 'fine', MAKES('2.8')],
    [70, 'fine', MAKES('1.8')],
  ])('%f g in 18 L, %s: %s', (sugar_g, verdict, advice) => {
    expect(told('packaged.sugar', sugar_g, { verdict: verdict! })).toBe(advice);
  });

  it('of sugar goes by the volume that was read, and by the gas of the beer as brewed', () => {
    const less = { verdict: 'fine', others: [seen('packaged.volume', 13)] } as const;
    // 0.8 + 104 × 0.5143 / (13 × 1.9768) = 2.88.
    expect(told('packaged.sugar', 104, less)).toBe(MAKES('2.9'));
    // 1.2 + 1.503.
    expect(told('packaged.sugar', 104, { verdict: 'fine', brewed: { residual_co2_vol: 1.2 } })).toBe(
      MAKES('2.7'),
    );
  });

  it('of a part of the batch is told the same way', () => {
    expect(told('packaged[1].sugar', 140, { verdict: 'fine' })).toBe(MAKES('2.8'));
  });

  it('of sugar that nothing is known of', () => {
    const unknown: readonly Told[] = [
      { recipe: { packaging: [] } },
      { planned: { residual_co2_vol: undefined as never } },
      { planned: { packaged_volume_l: undefined as never } },
      { others: [seen('packaged.volume', 0)] },
    ];
    for (const of of unknown) {
      expect(told('packaged.sugar', 200, { ...of, verdict: 'fine' })).toBe('Nothing to do.');
      expect(told('packaged.sugar', 200, of)).toBe(FOR_THE_NOTES);
    }
  });
});
