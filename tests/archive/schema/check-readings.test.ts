/** Readings that contradict each other are told; those that only look odd are not. */
import { describe, expect, it } from 'vitest';
import { checkReadings } from '../../../lib/archive/schema/check-readings.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import type { GivenGravity } from '../../../lib/units/parse/given.ts';
import { pathText } from '../../../lib/units/problem.ts';
import { given, sampleBatch, sampleRecipe } from '../../batch/sample.ts';
import { sg } from '../../batch/sample-readings.ts';

const on = (date: string, clock: string | null = null) => ({ date, clock });
const row = (date: string) => ({ on: on(date), gravity: null, temperature_C: null, note: null });
const pack = (date: string) => ({
  ...{ on: on(date), into: null, volume: null, temperature_C: null, sugar_g: null, bottles: null },
});
const pitch = (date: string, clock: string | null = null) => ({
  pitched: { on: on(date, clock), temperature_C: null, yeast: null },
});
const brix = (value: number): GivenGravity => ({
  scale: 'brix',
  value,
  u: null,
  sample_C: null,
  written: `${value} Bx`,
});

function said(readings: Readings, more: object = { brewed: '2026-02-14' }): string[] {
  return checkReadings(sampleBatch({ readings, ...more })).map(
    ({ severity, code, path, found }) => `${severity} ${code} ${pathText(path)}: ${found}`,
  );
}
const told = (key: string, found: string) => [`warning readings-contradict readings.${key}: ${found}`];

describe('days', () => {
  const early = '"2026-02-13", before the batch was brewed on 2026-02-14';

  it('on the brew day and after it are fine, whatever the time of day', () => {
    expect(
      said({
        ...pitch('2026-02-14', '00:10'),
        fermentation: [row('2026-02-14'), row('2026-02-20')],
        packaged: [pack('2026-03-01')],
        tasted: [{ on: on('2027-01-01'), score: 3, note: null }],
      }),
    ).toEqual([]);
  });

  it.each<[string, Readings]>([
    ['pitched.on', pitch('2026-02-13', '23:50')],
    ['fermentation[1].on', { fermentation: [row('2026-02-15'), row('2026-02-13'), row('2026-02-12')] }],
    ['packaged.on', { packaged: [pack('2026-02-13')] }],
    ['packaged[1].on', { packaged: [pack('2026-03-01'), pack('2026-02-13')] }],
    ['tasted[0].on', { tasted: [{ on: on('2026-02-13'), score: 3, note: null }] }],
  ])('%s before the brew day is told, once of a kind', (key, readings) => {
    expect(said(readings)).toEqual(told(key, early));
  });

  it('are no contradiction where no brew day is written', () => {
    expect(said(pitch('2026-02-13'), { brewed: null })).toEqual([]);
  });
});

describe('clock times', () => {
  it.each([
    ['22:00', '12:00', 'fourteen hours, past midnight'],
    ['13:00', '14:00', 'an hour'],
  ])('%s to %s, %s, is fine', (boil_started, boil_ended) => {
    expect(said({ boil_started, boil_ended })).toEqual([]);
  });

  it('of an end before its beginning are told', () => {
    expect(said({ boil_started: '14:00', boil_ended: '13:00' })).toEqual(
      told('boil_ended', '"13:00", before boil_started at 14:00'),
    );
    expect(said({ mash_in: '12:00', mash_out: '02:01' })).toEqual(
      told('mash_out', '"02:01", before mash_in at 12:00'),
    );
    expect(said({ steep_in: '06:00', steep_out: '20:01' })).toEqual(
      told('steep_out', '"20:01", long after steep_in at 06:00'),
    );
  });

  it('of a step that is planned to be as long, or of one time alone, are not', () => {
    const recipe = sampleRecipe({ boil_min: given(16 * 60, '16 h') });
    expect(said({ boil_started: '08:00', boil_ended: '23:50' }, { recipe })).toEqual([]);
    expect(said({ boil_started: '14:00' })).toEqual([]);
    expect(said({ boil_started: 'not taken', boil_ended: '13:00' })).toEqual([]);
  });
});

describe('gravities', () => {
  it.each([
    [sg(1.044), sg(1.048)],
    [sg(1.044), sg(1.01)],
    // What a refractometer shows of beer is above its gravity: 6 Bx of a wort of 11 Bx is a finished beer.
    [brix(11), brix(6)],
  ])('%o then %o are fine', (original_gravity, final_gravity) => {
    expect(said({ original_gravity, final_gravity })).toEqual([]);
  });

  it('that rise by more than 4 points are told', () => {
    expect(said({ original_gravity: sg(1.044), final_gravity: sg(1.0485) })).toHaveLength(1);
    expect(said({ original_gravity: sg(1.01), final_gravity: sg(1.044) })).toEqual(
      told('final_gravity', '"1.044", above the original gravity of 1.010'),
    );
  });

  it('that were taken warm are held against each other at 20 °C', () => {
    // At 50 °C a hydrometer floats some ten points too deep.
    expect(said({ original_gravity: sg(1.04, 50), final_gravity: sg(1.046) })).toEqual([]);
    expect(said({ original_gravity: sg(1.046), final_gravity: sg(1.042, 50) })).toHaveLength(1);
  });

  it('that no formula takes, or that were not taken, say nothing here', () => {
    expect(said({ original_gravity: sg(1.04, 95), final_gravity: sg(1.09) })).toEqual([]);
    expect(said({ original_gravity: 'not taken', final_gravity: sg(1.09) })).toEqual([]);
  });
});
