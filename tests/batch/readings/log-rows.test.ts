/** The log's gravities in order, each with the beer's temperature, read or planned. */
import { describe, expect, it } from 'vitest';
import { logRows } from '../../../lib/batch/readings/log-rows.ts';
import type { FermentationRow } from '../../../lib/batch/types/readings.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import { given, sampleBatch, sampleRecipe, yeast } from '../sample.ts';

/** Days from 1970 to 14 February 2026, the day of the brew. */
const BREWED = Date.UTC(2026, 1, 14) / 86_400_000;
const row = (date: string, clock: string | null = null, t_C: number | null = null): FermentationRow => ({
  on: { date, clock },
  gravity: { scale: 'sg', value: 1.02, u: null, sample_C: null, written: '1.020' },
  temperature_C: t_C === null ? null : given(t_C),
  note: null,
});
const read = (i: number, value: number | null, u = 0.001) => ({
  key: `fermentation[${i}].gravity`,
  value,
  u,
  target: null,
});
const step = (t_C: number, days: number) => ({
  temperature_C: given(t_C, `${t_C} °C`),
  time_min: given(days * 1440, `${days} days`),
});
const steps = (...list: ReturnType<typeof step>[]) => list as unknown as Recipe['ferment'];

describe('the rows of a log', () => {
  it('are none without a log', () => {
    expect(logRows(sampleBatch(), [read(0, 1.02)])).toEqual([]);
    expect(logRows(sampleBatch({ readings: { fermentation: 'not taken' } }), [read(0, 1.02)])).toEqual([]);
  });

  it('go by day and hour, and keep the key that they were written under', () => {
    const fermentation = [
      row('2026-02-20', '18:00', 18),
      row('2026-02-20', '06:00', 21),
      row('2026-02-16', null, 20),
    ];
    const rows = logRows(sampleBatch({ readings: { fermentation } }), [
      read(0, 1.012, 0.001),
      read(1, 1.014, 0.002),
      read(2, 1.03, 0.003),
    ]);
    expect(rows).toMatchObject([
      { key: 'fermentation[2].gravity', day: BREWED + 2, hasClock: false, sg: 1.03, u: 0.003, t_C: 20 },
      { key: 'fermentation[1].gravity', day: BREWED + 6.25, hasClock: true, sg: 1.014, u: 0.002, t_C: 21 },
      { key: 'fermentation[0].gravity', day: BREWED + 6.75, hasClock: true, sg: 1.012, u: 0.001, t_C: 18 },
    ]);
  });

  it('leave out what no formula could use', () => {
    const fermentation = [row('2026-02-16'), row('2026-02-18'), row('2026-02-20')];
    const rows = logRows(sampleBatch({ readings: { fermentation } }), [read(0, null), read(2, 1.012)]);
    expect(rows.map(({ key }) => key)).toEqual(['fermentation[2].gravity']);
  });
});

describe('the beer’s temperature, where it was not read', () => {
  const planned = (date: string, recipe: Partial<Recipe>, brewed: string | null = '2026-02-14') => {
    const readings = { fermentation: [row(date)] };
    const batch = sampleBatch({ brewed, recipe: sampleRecipe(recipe), readings });
    return logRows(batch, [read(0, 1.02)])[0]!.t_C;
  };
  const two = { ferment: steps(step(19, 5), step(12, 20)) };

  it.each([
    ['2026-02-14', 19],
    ['2026-02-18', 19],
    // Five days after the brew the second step has begun.
    ['2026-02-19', 12],
    ['2026-03-10', 12],
    // Past both, the last one stays.
    ['2026-06-01', 12],
  ])('on %s is the planned %i °C', (date, t_C) => {
    expect(planned(date, two)).toBe(t_C);
  });

  it('is the first step’s where the day of the brew is not known', () => {
    expect(planned('2026-06-01', two, null)).toBe(19);
  });

  it('is the middle of the yeast’s band without steps', () => {
    const band = { low: 16 as never, high: 24 as never, written: '16-24 °C' };
    expect(planned('2026-02-20', { ferment: [], yeast: [yeast({ temperature_C: band })] })).toBe(20);
  });
});
