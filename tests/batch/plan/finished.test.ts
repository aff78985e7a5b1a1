/** Whether a fermentation is over: how readings agree, for how long, and when to read again. */
import { describe, expect, it } from 'vitest';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Readings } from '../../../lib/batch/types/readings.ts';
import { extract, given, sampleBatch, sampleRecipe } from '../sample.ts';
import { brewery, planOf } from '../sample-plan.ts';
import { days, sg } from '../sample-readings.ts';

type Log = readonly (readonly [day: number, sg: number, t_C?: number])[];
const logged = (log: Log): Readings => ({
  fermentation: log.map(([n, gravity, t_C = 19]) => ({
    on: { date: `2026-03-${String(n).padStart(2, '0')}`, clock: null },
    gravity: sg(gravity),
    temperature_C: given(t_C) as never,
    note: null,
  })),
});

/** Begins at 1.040 and ends at 1.0103; u of the distance: √(1.0² + (0.032 × 40)²) = 1.6 points. */
const plan = (log: Log, more: Readings = {}) =>
  planOf(sampleBatch({ readings: { original_gravity: sg(1.04), ...logged(log), ...more } }));

describe('the state of a log', () => {
  it.each<[name: string, log: Log, state: string, next: string | null]>([
    ['one reading', days('6 1.02'), 'too few readings', '2026-03-09'],
    ['a fall of 4 points in 2 days', days('6 1.02, 8 1.016'), 'still falling', '2026-03-11'],
    ['readings too far apart to show a fall', days('6 1.02, 16 1.012'), 'too few readings', '2026-03-19'],
    ['a rise', days('6 1.012, 8 1.016'), 'not yet flat', '2026-03-11'],
    ['the same for 2 days', days('6 1.011, 8 1.011'), 'not yet flat', '2026-03-09'],
    ['the same for 3 days', days('6 1.011, 9 1.011'), 'finished', null],
    ['the same for 6 days in the cold', days('6 1.011 11, 12 1.011 11'), 'not yet flat', '2026-03-13'],
    ['the same for 7 days in the cold', days('6 1.011 11, 13 1.011 11'), 'finished', null],
    ['a point lower after 3 days creeps', days('6 1.012, 9 1.011'), 'not yet flat', '2026-03-12'],
    ['a point lower after 6 days', days('6 1.012, 9 1.011, 12 1.011'), 'finished', null],
    ['two points lower in three days', days('6 1.013, 9 1.011'), 'still falling', '2026-03-12'],
    ['flat 2 points above', days('6 1.0125, 9 1.0125'), 'nearly', '2026-03-12'],
    ['the same 2 points, flat twice as long', days('6 1.0125, 9 1.0125, 12 1.0125'), 'finished', null],
    ['flat 6 points above', days('6 1.016, 9 1.016'), 'stopped high', '2026-03-12'],
    ['flat far below', days('6 1.003, 9 1.003'), 'finished', null],
    ['two points above a flat stretch', days('6 1.011, 9 1.011, 12 1.013'), 'finished', null],
    ['two points below a flat stretch', days('6 1.011, 9 1.011, 12 1.009'), 'not yet flat', '2026-03-15'],
    ['three points below a flat stretch', days('6 1.012, 9 1.012, 12 1.009'), 'still falling', '2026-03-15'],
    ['far below and falling', days('6 1.005, 9 1.002'), 'falling below', '2026-03-12'],
  ])('%s', (_, log, state, next) => {
    expect(plan(log).fermentation).toEqual({ state, next, as_of: null });
  });

  it('a first reading, falling and not yet flat bear no mark; the rest say what to look at, or what to do', () => {
    const level = (log: Log) =>
      plan(log).judgments.find(({ cause }) => cause !== null && cause.code !== 'volume')!.level;
    expect(level(days('6 1.02, 8 1.016'))).toBe('calm');
    expect(level(days('6 1.011, 8 1.011'))).toBe('calm');
    expect(level(days('6 1.02'))).toBe('calm');
    expect(level(days('6 1.0125, 9 1.0125'))).toBe('look again');
    expect(level(days('6 1.016, 9 1.016'))).toBe('act');
  });

  it('takes the final gravity for one of the day of packaging', () => {
    const part = { into: null, volume: null, temperature_C: null, sugar_g: null, bottles: null };
    const packaged = (date: string) => [{ ...part, on: { date, clock: null } }];
    const state = (date: string) =>
      plan(days('6 1.011'), { final_gravity: sg(1.011), packaged: packaged(date) }).fermentation!.state;
    expect(state('2026-03-08')).toBe('not yet flat');
    expect(state('2026-03-09')).toBe('finished');
  });

  it('takes a final gravity that stands in the log too for one reading, which hides no fall', () => {
    const log = days('6 1.014, 9 1.011');
    const twice = plan(log, { final_gravity: sg(1.011) });
    expect(twice.fermentation).toEqual(plan(log).fermentation);
    expect(twice.fermentation!.state).toBe('still falling');
  });

  it('never compares two instruments', () => {
    const brix = { scale: 'brix' as const, value: 5.6, u: null, sample_C: null, written: '5.6 Bx' };
    const log = logged(days('6 1.011, 9 1.011'));
    const [first, ...others] = log.fermentation === 'not taken' ? [] : log.fermentation!;
    const rows = [{ ...first!, gravity: brix }, ...others];
    const { fermentation } = planOf(sampleBatch({ readings: { fermentation: rows } }));
    expect(fermentation!.state).toBe('too few readings');
  });
});

describe('the expected end', () => {
  it('follows the wort as brewed: 1.042 instead of 1.038 ends higher, by the same attenuation', () => {
    const end = (original: number) =>
      planOf(sampleBatch({ readings: { original_gravity: sg(original), ...logged(days('6 1.02')) } })).finish!
        .expected_gravity;
    // Points scale with the original gravity, within a tenth of a point (Balling).
    expect((end(1.042) - 1) / (end(1.038) - 1)).toBeCloseTo(42 / 38, 2);
  });

  it('gives way to a sample that was fermented out, known to a point', () => {
    const { finish } = plan(days('6 1.02'), { fermented_out: sg(1.014) });
    expect(finish!.expected_gravity).toBeCloseTo(1.014, 4);
    // √(1² + 1²) points above it, within a tenth of a point: the sample's point is one of °P.
    const above = (finish!.finished_at_most - 1.014) / 0.001;
    expect(Math.abs(above - Math.SQRT2)).toBeLessThan(0.1);
  });

  it('is known to 1.6 points at 1.050: 0.02 of the yeast, 0.025 of the extract', () => {
    const recipe = sampleRecipe({ grain: [], steep: null, extract: [extract(3514)] });
    const { finish } = planOf(sampleBatch({ recipe, readings: { original_gravity: sg(1.05) } }));
    const u_points = (finish!.finished_at_most - finish!.expected_gravity) / 0.001;
    // Attenuation is of °P, of which a point is a little more down where beers end: 1.6 points of SG within a twentieth.
    expect(u_points).toBeCloseTo(Math.hypot(1.08, 50 * Math.hypot(0.02, 0.025)), 1);
    // It is what the printed range of the end is made of, beside the hydrometer and the gravity it begins with.
    const { final_gravity } = planOf(sampleBatch({ recipe })).targets;
    const printed_u = (final_gravity!.high - final_gravity!.value) / 2 / 0.001;
    expect(printed_u).toBeGreaterThan(u_points);
    expect(printed_u).toBeLessThan(Math.hypot(u_points, 0.6));
  });
});

it('a reading that was due is due today, and says so', () => {
  const batch = sampleBatch({
    readings: logged(days('6 1.02, 8 1.016')),
  });
  const on = (today: string | null) => {
    const result = planBatch(batch, brewery, today);
    return result.ok ? result.plan.fermentation : null;
  };
  expect(on(null)).toEqual({ state: 'still falling', next: '2026-03-11', as_of: null });
  expect(on('2026-03-10')).toEqual({ state: 'still falling', next: '2026-03-11', as_of: null });
  expect(on('2026-03-20')).toEqual({ state: 'still falling', next: '2026-03-20', as_of: '2026-03-20' });
});
