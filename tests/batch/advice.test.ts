/** What a brewer is told of each reading, in whole sentences, with the figures worked out by hand. */
import { describe, expect, it } from 'vitest';
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { PackagedReading, Readings } from '../../lib/batch/types/readings.ts';
import { extract, given, sampleBatch, sampleRecipe, sampleSetup } from './sample.ts';
import { own, planOf } from './sample-plan.ts';
import { litres, sg } from './sample-readings.ts';

const on = { date: '2026-03-01', clock: null };
const degrees = (value: number) => given(value) as never;
const part: PackagedReading = {
  on,
  into: 'bottles',
  volume: null,
  temperature_C: null,
  sugar_g: null,
  bottles: null,
};
const packaged = (over: Partial<PackagedReading>): Readings => ({ packaged: [{ ...part, ...over }] });
const log: Readings['fermentation'] = [{ on, gravity: sg(1.02), temperature_C: null, note: null }];

function told(readings: Readings, key: string, over: Partial<Batch> = {}) {
  return planOf(sampleBatch({ readings, ...over })).readings[key]!.advice;
}

describe('volume at the boil’s start, planned at 10.5 L', () => {
  it('too little: hot water up to it', () => {
    expect(told({ boil_start_volume: litres(8) }, 'boil_start_volume')).toBe(
      'Add 2.5 L of hot water before the countdown begins.',
    );
  });

  it('too much: 3 L at 2.5 L/h boil off in 72 minutes', () => {
    expect(told({ boil_start_volume: litres(13.5) }, 'boil_start_volume')).toBe(
      'Boil 1 h 12 min before the countdown begins, which takes 3 L away.',
    );
  });

  it('too much in a kettle that boils nothing off: what it changes', () => {
    const setup = sampleSetup({ boilOff_L_per_h: own(0) });
    expect(told({ boil_start_volume: litres(13.5) }, 'boil_start_volume', { setup })).toMatch(
      /^The beer comes out /,
    );
  });

  it('can still be mended when the gravity was read beside it, not once the boil is over', () => {
    const together = { boil_start_volume: litres(8), boil_start_gravity: sg(1.06) };
    expect(told(together, 'boil_start_volume')).toMatch(/^Add 2.5 L/);
    expect(told({ boil_start_volume: litres(8), boil_ended: '15:00' }, 'boil_start_volume')).toMatch(
      /^The beer comes out \d+ points of gravity weaker and \d+ IBU less bitter than planned\.$/,
    );
  });
});

describe('the chill, planned down to 22 °C', () => {
  const at = (t_C: number) => ({ chilled: { at: null, temperature_C: degrees(t_C) } });

  it('too warm: chill on; colder than it need be is fine', () => {
    expect(told(at(45), 'chilled.temperature')).toBe(
      'Chill on to 29 °C before the top-up and the yeast go in.',
    );
    expect(told(at(8), 'chilled.temperature')).toBe('Nothing to do.');
    expect(told(at(22), 'chilled.temperature')).toBe('Nothing to do.');
  });

  it('topped up too warm: still to be cooled, as long as the yeast is not in', () => {
    const later: Readings = { ...at(45), top_up: { volume: litres(11), temperature_C: null } };
    expect(told(later, 'chilled.temperature')).toMatch(/^Cool it to \d+ °C before the yeast goes in/);
    const pitched: Readings = { ...later, pitched: { on: null, temperature_C: null, yeast: null } as never };
    expect(told(pitched, 'chilled.temperature')).toBe(
      'Nothing to do now: write it in the notes for the next batch.',
    );
  });
});

describe('the starting gravity', () => {
  it('too strong: 19 L of 14.74 °P to 9.96 °P take 9.7 L', () => {
    expect(told({ original_gravity: sg(1.06) }, 'original_gravity')).toBe(
      'Add 9.7 L of boiled and cooled water to the 19 L in the fermenter, if it has the room, and stir.',
    );
  });

  it('may be mended with the yeast in, not once there is a log', () => {
    const pitched: Readings = { pitched: { on, temperature_C: null, yeast: null } };
    expect(told({ original_gravity: sg(1.06), ...pitched }, 'original_gravity')).toMatch(/^Add 9.7 L/);
    expect(told({ original_gravity: sg(1.06), fermentation: log }, 'original_gravity')).toMatch(
      /^The beer comes out 20 points of gravity stronger and \d+ IBU less bitter than planned\.$/,
    );
    expect(told({ original_gravity: sg(1.03), fermentation: log }, 'original_gravity')).toMatch(
      /^The beer comes out 10 points of gravity weaker and \d+ IBU more bitter than planned\.$/,
    );
  });

  it('one point is a point', () => {
    const readings = { original_gravity: sg(1.041), boil_end_volume: litres(5), fermentation: log };
    expect(told(readings, 'boil_end_volume')).toMatch(/ a point of gravity stronger/);
  });

  it('of water says nothing that could be mended', () => {
    expect(told({ original_gravity: sg(0.998) }, 'original_gravity')).toBe(
      'Nothing to do now: write it in the notes for the next batch.',
    );
  });

  it('too weak for a recipe of dry extract: grams of that', () => {
    const recipe = sampleRecipe({
      extract: [extract(1500), extract(2000, { name: 'wheat dry extract', form: 'dry' })],
    });
    expect(told({ original_gravity: sg(1.03) }, 'original_gravity', { recipe })).toMatch(
      /^Stir [\d.]+ k?g of wheat dry extract, boiled up in a little water and cooled, into the 19 L in the fermenter\.$/,
    );
  });
});

describe('the end gravity', () => {
  it('too high: not into bottles; too low: wait', () => {
    expect(told({ final_gravity: sg(1.03) }, 'final_gravity')).toBe(
      'Do not package it: see what the fermentation log says, and read again.',
    );
    expect(told({ final_gravity: sg(0.998) }, 'final_gravity')).toBe(
      'Wait a week and read again before packaging: something may still be fermenting what the yeast leaves.',
    );
  });
});

describe('what is a little off', () => {
  it('is left alone, with what it changes', () => {
    expect(told({ boil_end_volume: litres(11) }, 'boil_end_volume')).toMatch(
      /^Nothing to do: within what the batch can bear\. The beer comes out .* than planned\.$/,
    );
  });

  it('and with nothing where nothing follows from it', () => {
    const readings = { chilled: { at: null, temperature_C: degrees(24) } };
    expect(told(readings, 'chilled.temperature')).toBe('Nothing to do: within what the batch can bear.');
  });
});

describe('packaging', () => {
  it('other than planned: sugar for what is there, as long as none is weighed', () => {
    // (2.3 − 0.872) × 13 × 1.9768 / 0.5143 = 71 g.
    expect(told(packaged({ volume: litres(13) }), 'packaged.volume')).toBe(
      'Weigh 74 g of table sugar for the 13 L that are there.',
    );
    expect(told(packaged({ volume: litres(13), sugar_g: given(71) as never }), 'packaged.volume')).toBe(
      'Nothing to do now: write it in the notes for the next batch.',
    );
  });

  it('sugar as weighed is told by what it makes: 0.872 + 60 × 0.5143 / (18.3 × 1.9768) is 1.7 vol', () => {
    expect(told(packaged({ sugar_g: given(60) as never }), 'packaged.sugar')).toBe(
      'It makes about 1.7 vol; 2.3 vol was planned.',
    );
  });

  it('sugar that is nearly as planned is far too much for less beer: 120 g in 13 L make 3.3 vol', () => {
    expect(told(packaged({ volume: litres(13), sugar_g: given(120) as never }), 'packaged.sugar')).toBe(
      'It makes about 3.3 vol; 2.3 vol was planned.',
    );
    expect(told(packaged({ volume: litres(13), sugar_g: given(100) as never }), 'packaged.sugar')).toMatch(
      /2.9 vol/,
    );
    expect(told(packaged({ volume: litres(18.3), sugar_g: given(100) as never }), 'packaged.sugar')).toBe(
      'Nothing to do.',
    );
    expect(told(packaged({ volume: litres(18.3), sugar_g: given(120) as never }), 'packaged.sugar')).toBe(
      'Nothing to do: within what the batch can bear. It makes about 2.6 vol; 2.3 vol was planned.',
    );
  });

  it('fewer bottles than planned are for the notes', () => {
    expect(told(packaged({ bottles: 20 }), 'packaged.bottles')).toBe(
      'Nothing to do now: write it in the notes for the next batch.',
    );
  });
});

describe('what says nothing', () => {
  it('names its fault', () => {
    expect(told({ original_gravity: { ...sg(1.05), sample_C: 95 } }, 'original_gravity')).toBe(
      'This reading says nothing: sample temperature in °C must be from 0 to 80, not 95.',
    );
  });

  it('is not commented on where there is no target', () => {
    expect(told({ warmest_after: degrees(25) }, 'warmest_after')).toBeNull();
    expect(told({ final_gravity: 'not taken' }, 'final_gravity')).toBeNull();
  });
});

describe('sugar that is too much for the bottles', () => {
  const warned = (readings: Readings) =>
    planOf(sampleBatch({ readings })).warnings.filter(({ code }) => /^bottle/.test(code));

  it('is told of before any gravity was read: 160 g in 13 L make 4 vol and more', () => {
    const [warning] = warned(packaged({ volume: litres(13), sugar_g: given(160) as never }));
    expect(warning).toMatchObject({ code: 'bottle-danger', key: 'readings.packaged.sugar' });
    expect(warning!.message).toMatch(/^the sugar that was weighed in makes up to 4\.\d vol, /);
    expect(warning!.message).toMatch(/these bottles may burst/);
  });

  it('is not told of where the bottles stand it', () => {
    expect(warned(packaged({ volume: litres(18.3), sugar_g: given(90) as never }))).toEqual([]);
    expect(warned(packaged({ volume: litres(13) }))).toEqual([]);
  });
});
