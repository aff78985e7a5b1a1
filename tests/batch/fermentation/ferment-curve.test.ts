/** The curve fitted to a fermentation log: what it finds, what it never claims, and that it leaves the verdict alone. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { fermentationCurve } from '../../../lib/batch/fermentation/curve.ts';
import type { FermentationCurve, Plan } from '../../../lib/batch/types/plan.ts';
import type { FermentationRow, Readings } from '../../../lib/batch/types/readings.ts';
import type { GivenGravity } from '../../../lib/units/parse/given.ts';
import { given, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { own, planOf } from '../sample-plan.ts';
import { days, sg } from '../sample-readings.ts';

/** Pitched on 14 February at 17:00. */
const PITCHED = Date.UTC(2026, 1, 14, 17) / 86_400_000;
const moment = (day: number) => {
  const text = new Date((PITCHED + day) * 86_400_000).toISOString();
  return { date: text.slice(0, 10), clock: text.slice(11, 16) };
};
const row = (day: number, gravity: GivenGravity | number): FermentationRow => ({
  on: moment(day),
  gravity: typeof gravity === 'number' ? sg(gravity) : gravity,
  temperature_C: null,
  note: null,
});
type Log = readonly (readonly [day: number, gravity: number, t_C?: number])[];

function readingsOf(log: Log, original: number | null = 1.04): Readings {
  return {
    ...(original === null ? {} : { original_gravity: sg(original) }),
    pitched: { on: moment(0), temperature_C: null, yeast: null },
    fermentation: log.map(([day, gravity]) => row(day, gravity)),
  };
}
const planned = (readings: Readings): Plan => planOf(sampleBatch({ readings }));
const curveOf = (log: Log, original: number | null = 1.04) =>
  planned(readingsOf(log, original)).fermentation_curve;
const outliers = (curve: FermentationCurve) => curve.readings.filter((r) => r.outlier).map(({ key }) => key);

/** Half on day 2.2, as ales do; the sample's own original and final gravity are 1.040 and about 1.010. */
const ORDINARY: Log = days('2 1.025, 4 1.016, 7 1.012');

/** What must hold of any curve that is given out. */
function sound(curve: FermentationCurve): void {
  const { end_gravity: end, end_day: day, points, readings } = curve;
  expect(end.low).toBeLessThan(end.value);
  expect(end.value).toBeLessThan(end.high);
  expect(end.printed.low).toBeLessThanOrEqual(end.low + 1e-9);
  expect(end.printed.high).toBeGreaterThanOrEqual(end.high - 1e-9);
  if (day !== null) {
    for (const date of [day.earliest, day.expected, day.latest]) expect(date).toMatch(/^\d{4}-\d\d-\d\d$/);
    expect(day.earliest <= day.expected && day.expected <= day.latest).toBe(true);
    expect(day.earliest >= '2026-02-14').toBe(true);
  }
  for (const point of points) {
    for (const figure of Object.values(point)) expect(Number.isFinite(figure)).toBe(true);
    expect(point.low).toBeLessThan(point.gravity);
    expect(point.gravity).toBeLessThan(point.high);
  }
  for (let i = 1; i < points.length; i++) {
    expect(points[i]!.day).toBeGreaterThan(points[i - 1]!.day);
    expect(points[i]!.gravity).toBeLessThanOrEqual(points[i - 1]!.gravity);
  }
  expect(points.at(-1)!.day).toBeGreaterThan(readings.at(-1)!.day);
}

describe('the curve of a log', () => {
  it('ends near the planned gravity, about as long after as ales take', () => {
    const curve = curveOf(ORDINARY)!;
    sound(curve);
    expect(curve.end_gravity.printed.low).toBeLessThanOrEqual(1.01);
    expect(curve.end_gravity.printed.high).toBeGreaterThanOrEqual(1.01);
    // Two points are left on the seventh day: it has not ended before the fourth, nor goes on for weeks.
    expect(curve.end_day!.earliest >= '2026-02-18').toBe(true);
    expect(curve.end_day!.latest <= '2026-03-07').toBe(true);
    expect(curve.pitched).toBe('2026-02-14 17:00');
    expect(curve.readings.map(({ key }) => key)).toEqual([
      'original_gravity',
      'fermentation[0].gravity',
      'fermentation[1].gravity',
      'fermentation[2].gravity',
    ]);
  });

  it.each<[string, Log, number | null]>([
    ['two early readings', days('1 1.036, 2 1.027'), 1.04],
    ['a slow start', days('1 1.04, 3 1.04, 5 1.03, 7 1.018'), 1.04],
    ['gravities that rise by noise', days('2 1.012, 5 1.014, 9 1.015'), 1.04],
    ['gravities below 1.000', days('2 1.02, 5 1.002, 9 0.998, 12 0.997'), 1.04],
    ['no starting gravity', ORDINARY, null],
    ['a reading before the yeast', days('-2 1.04, 4 1.016, 7 1.012'), 1.04],
    ['a reading years later', days('4 1.016, 900 1.011'), 1.04],
    ['a slip of the pen', days('2 1.025, 4 1.016, 7 1.12, 9 1.011'), 1.04],
    ['a starting gravity that was a slip', ORDINARY, 1.14],
    ['rows out of order', days('7 1.012, 2 1.025, 4 1.016'), 1.04],
  ])('is sound for %s', (_, log, original) => sound(curveOf(log, original)!));

  it('is sound for four hundred readings, and no sharper than beers keep to any curve', () => {
    const log = Array.from({ length: 400 }, (_, i) => {
      const day = 0.05 * (i + 1);
      return [day, 1.011 + 0.029 * Math.exp(-day / 3) + 0.001 * Math.sin(7 * i)] as const;
    });
    const curve = curveOf(log)!;
    sound(curve);
    expect(curve.end_gravity.low).toBeLessThan(1.011);
    expect(curve.end_gravity.high).toBeGreaterThan(1.011);
    expect(curve.end_gravity.high - curve.end_gravity.low).toBeGreaterThan(0.0015);
  });

  it('is sound for any two to six readings at all', () => {
    const figure = fc.tuple(
      fc.double({ min: 0.05, max: 60, noNaN: true }),
      fc.double({ min: 0.98, max: 1.2, noNaN: true }),
    );
    const batch = sampleBatch({ readings: readingsOf([]) });
    const { targets } = planOf(batch);
    const original = { key: 'original_gravity', value: 1.04, u: 0.001, target: null };
    let given = 0;
    fc.assert(
      fc.property(fc.array(figure, { minLength: 2, maxLength: 6 }), (log) => {
        const rows = log
          .map(([day, gravity], i) => ({
            key: `fermentation[${i}].gravity`,
            day: PITCHED + day,
            hasClock: true,
            sg: gravity,
            u: 0.001,
            t_C: 19,
          }))
          .sort((a, b) => a.day - b.day);
        const curve = fermentationCurve(batch, rows, [original], targets);
        if (curve === null) return;
        sound(curve);
        given++;
      }),
      { numRuns: 200, seed: 7 },
    );
    expect(given).toBeGreaterThan(50);
  });

  it.each<[string, Readings]>([
    ['no reading', readingsOf([])],
    ['one reading', readingsOf(days('4 1.016'))],
    ['three readings of one day', readingsOf(days('2 1.025, 2.1 1.024, 2.2 1.025'))],
    ['readings that show no fall yet', readingsOf(days('1 1.04, 2 1.04'))],
    ['figures that no beer shows', readingsOf(days('2 1.3, 4 0.98, 7 1.2'))],
    ['no day of pitching', { ...readingsOf(ORDINARY), pitched: 'not taken' }],
    ['a batch given up', { ...readingsOf(ORDINARY), abandoned: { on: moment(9), why: 'vinegar' } }],
  ])('is not given out for %s: what the recipe expects is no fit', (_, readings) => {
    const { fermentation_curve } = planOf(sampleBatch({ brewed: null, readings }));
    expect(fermentation_curve).toBeUndefined();
  });

  it('counts from the brewing day where pitching was not written down, and is less sure of the day', () => {
    const readings: Readings = { ...readingsOf(ORDINARY), pitched: 'not taken' };
    const curve = planOf(sampleBatch({ brewed: '2026-02-14', readings })).fermentation_curve!;
    sound(curve);
    expect(curve.pitched).toBe('2026-02-14');
  });

  it('counts a reading without an hour from its noon, and is less sure of it', () => {
    const log = (clock: string | null): Readings => ({
      ...readingsOf([]),
      fermentation: [16, 18, 21].map((date, i) => ({
        ...row(0, ORDINARY[i]![1]),
        on: { date: `2026-02-${date}`, clock },
      })),
    });
    const [without, noon] = [null, '12:00'].map((clock) => planned(log(clock)).fermentation_curve!);
    // From 17:00 on the 14th to noon on the 16th, 18th and 21st.
    expect(without!.readings.slice(1).map(({ day }) => day)).toEqual([1.792, 3.792, 6.792]);
    expect(noon!.readings).toEqual(without!.readings);
    const steep = ({ points }: FermentationCurve) => {
      const point = points.find(({ day }) => day > 1.5)!;
      return point.high - point.low;
    };
    expect(steep(without!)).toBeGreaterThan(steep(noon!));
  });

  it('waits longer for a fall that a finer hydrometer still shows', () => {
    const at = (u: number) => {
      const hydrometer = { at_C: own(20), step: 0.002, u, assumed: false };
      const setup = sampleSetup({ hydrometer });
      return planOf(sampleBatch({ setup, readings: readingsOf(ORDINARY) })).fermentation_curve!.end_day!
        .expected;
    };
    expect(at(0.0005) > at(0.002)).toBe(true);
    // One that says it is never wrong shows half a graduation all the same.
    expect(
      planOf(
        sampleBatch({
          setup: sampleSetup({ hydrometer: { at_C: own(20), step: 0.002, u: 0, assumed: false } }),
          readings: {
            ...readingsOf([]),
            fermentation: ORDINARY.map(([day, gravity]) => row(day, { ...sg(gravity), u: 0.001 })),
          },
        }),
      ).fermentation_curve!.end_day,
    ).not.toBeNull();
  });

  it('names a reading that is far off, and ends where the others say', () => {
    const log: Log = days('2 1.025, 3 1.006, 4 1.016, 7 1.012, 9 1.011');
    const curve = curveOf(log)!;
    expect(outliers(curve)).toEqual(['fermentation[1].gravity']);
    const without = curveOf(log.filter((_, i) => i !== 1))!;
    // A tenth of what either claims: the slip still counts a little.
    expect(Math.abs(curve.end_gravity.value - without.end_gravity.value)).toBeLessThan(
      (without.end_gravity.high - without.end_gravity.low) / 10,
    );
    expect(outliers(without)).toEqual([]);
  });

  it('follows a beer that stops high, rather than the plan', () => {
    const curve = curveOf(days('3 1.026, 5 1.023, 8 1.023, 11 1.023, 14 1.023'))!;
    // The plan ends at 1.010; the readings, to half a graduation, at 1.023.
    expect(Math.abs(curve.end_gravity.value - 1.023)).toBeLessThan(0.001);
  });

  it('is slower in the cold, where the readings do not say', () => {
    const log: Log = days('1 1.036, 2 1.033');
    const cold = { temperature_C: given(10), time_min: given(28 * 1440) };
    const recipe = sampleRecipe({ ferment: [cold] as never });
    const lager = planOf(sampleBatch({ recipe, readings: readingsOf(log) })).fermentation_curve!;
    expect(lager.end_day!.expected > curveOf(log)!.end_day!.expected).toBe(true);
  });

  it('believes a refractometer less than a hydrometer', () => {
    const brix = (value: number): GivenGravity => ({
      scale: 'brix',
      value,
      u: null,
      sample_C: null,
      written: '',
    });
    const readings: Readings = {
      ...readingsOf([]),
      fermentation: [row(2, brix(8.2)), row(5, brix(6.2)), row(9, brix(5.6))],
    };
    const plan = planned(readings);
    const curve = plan.fermentation_curve!;
    sound(curve);
    const same = curve.readings.slice(1).map(({ day, gravity }) => [day, gravity] as const);
    const hydrometer = curveOf(same)!;
    const width = ({ end_gravity: { low, high } }: FermentationCurve) => high - low;
    expect(width(curve)).toBeGreaterThan(width(hydrometer));
  });
});
