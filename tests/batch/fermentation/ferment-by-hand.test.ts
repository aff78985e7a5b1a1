/** The fitted fermentation in cases with a known answer: a flat end against what was expected, and what is left out of a log. */
import { describe, expect, it } from 'vitest';
import { fermentationCurve } from '../../../lib/batch/fermentation/curve.ts';
import {
  dayOfEnd,
  END,
  gravityOf,
  HALF,
  nudged,
  SHAPE,
  START,
  TAIL,
} from '../../../lib/batch/fermentation/curve-model.ts';
import { type Expected, fitCourse, type Sample } from '../../../lib/batch/fermentation/fit-curve.ts';
import type { LogRow } from '../../../lib/batch/readings/log-rows.ts';
import type { Observation } from '../../../lib/batch/readings/normalise-readings.ts';
import type { FermentationCurve } from '../../../lib/batch/types/plan.ts';
import { lowerTriangle, solved } from '../../../lib/batch/uncertainty/cholesky.ts';
import { given, sampleBatch, sampleRecipe } from '../sample.ts';
import { planOf } from '../sample-plan.ts';

/** Long after the fall nothing but the end is left to tell: 1.010 ± 0.001 expected, the rest known. */
const U = 0.001;
const flat: Expected = {
  course: Float64Array.of(1.05, 1.01, Math.log(4), 0, 0),
  u: Float64Array.of(1e-9, U, 1e-9, 1e-9, 1e-9),
  misfit_SG: 0,
};
/** Readings so many times 0.001 above 1.010, each with its own uncertainty in the same unit. */
const late = (...list: readonly (readonly [off: number, u: number])[]): Sample[] =>
  list.map(([off, u], i) => ({ day: 900 + i, sg: 1.01 + off * U, u: u * U, hour_u: 0 }));
/** How far above the expected end the fitted one lies, in its uncertainties. */
const moved = (samples: readonly Sample[], expected = flat) =>
  (fitCourse(samples, expected).course[END]! - expected.course[END]!) / U;
/** Weights change from step to step; the last step is below a thousandth of the uncertainty, what is left a few times that. */
const NEAR = 0.01;
const near = (found: number, wanted: number) => expect(Math.abs(found - wanted)).toBeLessThan(NEAR);

describe('the end, of which something else was expected', () => {
  it('is the mean of both where they are near: 1 above, equally sure', () => {
    near(moved(late([1, 1])), 0.5);
    near(moved(late([-1, 1])), -0.5);
  });

  it('is weighted by how sure each is: 1.4 above and half as unsure', () => {
    // 1.4 × 4 / 5.
    near(moved(late([1.4, 0.5])), 1.12);
  });

  it('gives way past a reach of 1.5: x² − 4x + 2.25 = 0 of a reading 4 above', () => {
    // The reading pulls by 4 − x, the expectation by 1.5² / x.
    near(moved(late([4, 1])), 2 + Math.sqrt(4 - 2.25));
    near(moved(late([-4, 1])), -2 - Math.sqrt(4 - 2.25));
  });

  it('is what three readings say, however far they are: 20 above', () => {
    // 3 (20 − x) = 2.25 / x.
    near(moved(late([20, 1], [20, 1], [20, 1])), 10 + Math.sqrt(100 - 0.75));
  });

  it('is looked for where the middle of the last three is, whatever their order', () => {
    // 2 (20 − x) = 2.25 / x + 9 / x: the one at the expectation counts as a slip.
    for (const order of [
      [20, 0, 20],
      [0, 20, 20],
      [20, 20, 0],
    ])
      near(moved(late(...order.map((off) => [off, 1] as const))), 10 + Math.sqrt(100 - 5.625));
  });

  it('is the likelier of the two valleys about a reading 20 above', () => {
    // Near the reading (20 − x) / u² = 2.25 / x; near the expectation 9 / (20 − x) = x. With ½ z² to the reach and
    // reach² (½ + ln(z / reach)) beyond, the first costs 6.77 and the second 6.98 for u = 5, but 6.71 and 6.13 for u = 5.5.
    near(moved(late([20, 5])), 10 + Math.sqrt(100 - 2.25 * 25));
    near(moved(late([20, 5.5])), 10 - Math.sqrt(91));
  });

  it('is hardly moved by one slip among nine: x (20 − x) = 9 / 10 with the expectation as the tenth', () => {
    const nine = Array.from({ length: 9 }, () => [0, 1] as const);
    near(moved(late([20, 1], ...nine)), 10 - Math.sqrt(99.1));
  });

  it('is known as its weighted mean is: two readings and what was expected, ± 0.001 each', () => {
    const { covariance } = fitCourse(late([0, 1], [0, 1]), flat);
    expect(Math.sqrt(covariance[END]![END]!)).toBeCloseTo(U / Math.sqrt(3), 8);
  });
});

describe('the course that exact readings were drawn from', () => {
  const expected: Expected = {
    course: Float64Array.of(1.05, 1.01, Math.log(2), Math.log(1.1), Math.log(2.5)),
    u: Float64Array.of(0.005, 0.003, 0.5, 0.4, 0.7),
    misfit_SG: 0,
  };

  // Readings a thousand times sharper than the expectation outweigh it a million times.
  it.each<[string, readonly [start: number, end: number, half_d: number, tail: number, shape: number]]>([
    ['a cold one, half on day 9', [1.052, 1.012, 9, 1.4, 1.6]],
    ['a hot one, half within a day', [1.052, 1.012, 0.7, 1.4, 1.6]],
    ['one that stops high', [1.052, 1.03, 3, 1.4, 1.6]],
    ['one with a long tail', [1.05, 1.008, 3, 0.5, 6]],
    ['one that is slow to begin', [1.05, 1.012, 6, 3, 0.6]],
  ])('is found, whatever was expected: %s', (_, [start, end, half_d, tail, shape]) => {
    const truth = Float64Array.of(start, end, Math.log(half_d), Math.log(tail), Math.log(shape));
    const gravity = gravityOf(truth);
    const samples = Array.from({ length: 30 }, (_, i) => ({
      day: (i * half_d) / 5,
      sg: gravity((i * half_d) / 5),
      u: 1e-6,
      hour_u: 0,
    }));
    const { course, off } = fitCourse(samples, expected);
    expect(Math.abs(course[START]! - start)).toBeLessThan(1e-4);
    expect(Math.abs(course[END]! - end)).toBeLessThan(1e-5);
    for (const k of [HALF, TAIL, SHAPE]) expect(Math.abs(course[k]! - truth[k]!)).toBeLessThan(0.02);
    expect(Math.max(...off.map(Math.abs))).toBeLessThan(1);
  });
});

describe('the misfit', () => {
  const still: Expected = { ...flat, u: flat.u.with(END, 1e-9), misfit_SG: U };
  const off = (...days: readonly number[]) =>
    fitCourse(
      days.map((day) => ({ day, sg: 1.01 + 2 * U, u: U, hour_u: 0 })),
      still,
    ).off;

  // 2 off, ± 1 of the reading and 1 of the misfit, twice where two share a stretch: half as long as the fall takes to its half.
  it.each([
    ['one stretch of 2 days', [900, 901], [3, 3]],
    ['two', [901, 902], [2, 2]],
    ['one and the next', [900, 901, 902], [3, 3, 2]],
  ])('is shared by readings of %s', (_, days, variances) => {
    expect(off(...days)).toEqual(variances.map((variance) => expect.closeTo(2 / Math.sqrt(variance), 6)));
  });
});

describe('the course', () => {
  it('that is even stands at the middle on its half, and has e⁻¹ less to go each time its rate says', () => {
    // Shape 1, half on day 4, rate 1 per 4 days: 1 / (1 + e^((t − 4) / 4)).
    const gravity = gravityOf(flat.course);
    expect(gravity(4)).toBeCloseTo(1.03, 12);
    expect(gravity(8)).toBeCloseTo(1.01 + 0.04 / (1 + Math.E), 12);
    expect(gravity(-3)).toBe(gravity(0));
  });

  it('ends when less is left than shows: one part of a hundred after 4 + 4 ln 99 days', () => {
    expect(dayOfEnd(flat.course, 0.0004)!).toBeCloseTo(4 + 4 * Math.log(99), 9);
    expect(dayOfEnd(flat.course, 0.04)).toBeNull();
    expect(dayOfEnd(flat.course, 0)).toBeNull();
  });

  it('is moved a hundredth of a point or a thousandth either way', () => {
    const either = nudged(flat.course, (course) => Array.from(course));
    expect(either.map(({ by }) => by)).toEqual([2e-5, 2e-5, 2e-3, 2e-3, 2e-3]);
    either.forEach(({ up, down }, k) => {
      up.forEach((figure, i) => {
        expect(figure - flat.course[i]!).toBeCloseTo(i === k ? either[k]!.by / 2 : 0, 12);
        expect(down[i]! - flat.course[i]!).toBeCloseTo(i === k ? -either[k]!.by / 2 : 0, 12);
      });
    });
  });
});

describe('a small symmetric system', () => {
  // 4 12 −16, 12 37 −43, −16 −43 98 is the square of 2, 6 1, −8 5 3.
  const rows = [
    Float64Array.of(4, Number.NaN, Number.NaN),
    Float64Array.of(12, 37, Number.NaN),
    Float64Array.of(-16, -43, 98),
  ];

  it('has its triangle, of which only the lower half is read', () => {
    expect(lowerTriangle(rows)!.map((row) => [...row])).toEqual([
      [2, 0, 0],
      [6, 1, 0],
      [-8, 5, 3],
    ]);
  });

  it('is solved: 1, 2 and 3 give −20, −43 and 192', () => {
    expect([...solved(lowerTriangle(rows)!, Float64Array.of(-20, -43, 192))]).toEqual([1, 2, 3]);
  });

  it('has none where a direction says nothing', () => {
    expect(lowerTriangle([Float64Array.of(1, 2), Float64Array.of(2, 4)])).toBeNull();
  });
});

describe('the curve of a log', () => {
  const batch = sampleBatch({
    readings: { pitched: { on: { date: '2026-02-14', clock: '17:00' }, temperature_C: null, yeast: null } },
  });
  const PITCHED = (Date.UTC(2026, 1, 14) / 86_400_000 + 17 / 24) as number;
  const { targets } = planOf(batch);
  const row = (day: number, sg: number, over: Partial<LogRow> = {}): LogRow => ({
    key: `day ${day}`,
    day: PITCHED + day,
    hasClock: true,
    sg,
    u: 0.001,
    t_C: 19,
    ...over,
  });
  const original = (value: number | null, u = 0.001): Observation => ({
    key: 'original_gravity',
    value,
    u,
    target: 'original_gravity',
  });
  const LOG = [row(2, 1.025), row(4, 1.016), row(7, 1.012)];
  const curve = (
    rows: readonly LogRow[] = LOG,
    readings: readonly Observation[] = [original(1.04)],
    of = targets,
    own = batch,
  ): FermentationCurve | null => fermentationCurve(own, rows, readings, of);
  const wide = (value: number, half: number) => ({
    ...targets.final_gravity!,
    value,
    low: value - half,
    high: value + half,
  });

  it('leaves out what was read before or as the yeast went in, and what claims to be sure', () => {
    const known = curve()!;
    expect(curve([row(-1, 1.2), ...LOG])).toEqual(known);
    expect(curve([row(0, 1.2), ...LOG])).toEqual(known);
    expect(curve([...LOG, row(9, 1.2, { u: 0 })])).toEqual(known);
  });

  it('goes by the planned start where none was read, or none that can be used, and names only what was', () => {
    const planned = curve(LOG, [])!;
    expect(planned.readings.map(({ key }) => key)).toEqual(['day 2', 'day 4', 'day 7']);
    expect(curve(LOG, [original(null)])).toEqual(planned);
    expect(curve(LOG, [original(1.04, 0)])).toEqual(planned);
    expect(curve()!.readings.map(({ key }) => key)).toEqual(['original_gravity', 'day 2', 'day 4', 'day 7']);
  });

  it.each<[string, () => FermentationCurve | null]>([
    ['a wort as heavy as water', () => curve([row(2, 0.98), row(4, 0.979)], [original(0.999)])],
    [
      'a plan that ferments nothing',
      () => curve(LOG, [original(1.04)], { ...targets, original_gravity: wide(1, 0.002) }),
    ],
    [
      'a plan whose wort is water and whose beer is lighter',
      () => {
        const water = { ...targets, original_gravity: wide(1, 0.002), final_gravity: wide(0.998, 0.002) };
        return curve(LOG, [original(1.04)], water);
      },
    ],
    [
      'an end that is said to be sure',
      () => curve(LOG, [original(1.04)], { ...targets, final_gravity: wide(1.01, 0) }),
    ],
    [
      'a start less sure than the whole fall',
      () => curve([row(2, 0.88), row(4, 0.87)], [original(1.04, 0.05)]),
    ],
    ['no planned start', () => curve(LOG, [original(1.04)], { ...targets, original_gravity: null })],
    ['no planned end', () => curve(LOG, [original(1.04)], { ...targets, final_gravity: null })],
  ])('is none for %s', (_, found) => {
    expect(found()).toBeNull();
  });

  it('counts from noon where the hour of pitching is not known', () => {
    const on = { date: '2026-02-14', clock: null };
    const noon = sampleBatch({ readings: { pitched: { on, temperature_C: null, yeast: null } } });
    const found = curve(LOG, [original(1.04)], targets, noon)!;
    // Five hours before 17:00.
    expect(found.readings.map(({ day }) => day)).toEqual([0, 2.208, 4.208, 7.208]);
    expect(found.pitched).toBe('2026-02-14');
  });

  it('still gives a day in the second month, where it is known to within one', () => {
    const cold = { temperature_C: given(8), time_min: given(60 * 1440) };
    const lager = sampleBatch({
      recipe: sampleRecipe({ ferment: [cold] as never }),
      readings: batch.readings,
    });
    const log = [5, 10, 15, 20, 25, 30, 35].map((day) =>
      row(day, Number((1.01 + 0.03 / (1 + Math.exp((day - 15) / 5))).toFixed(3)), { t_C: 8 }),
    );
    const { end_day } = curve(log, [original(1.04)], targets, lager)!;
    const days = (date: string) => Date.parse(date) / 86_400_000 - Math.floor(PITCHED);
    expect(days(end_day!.earliest) + days(end_day!.latest)).toBeGreaterThan(60);
    expect(days(end_day!.latest) - days(end_day!.earliest)).toBeLessThan(60);
    // A thirtieth of the fall is left after 15 + 5 ln 29 = 31.8 days.
    expect(days(end_day!.earliest)).toBeLessThanOrEqual(32);
    expect(days(end_day!.latest)).toBeGreaterThanOrEqual(31);
  });

  it('is drawn to the day after the last reading, where that is the later, closer together at first', () => {
    const { points } = curve([...LOG, row(20, 1.011), row(60, 1.011)])!;
    expect(points).toHaveLength(33);
    expect(points[0]!.day).toBe(0);
    // Half of the points by 61 × 0.5^1.6.
    expect(points[16]!.day).toBeCloseTo(61 * 0.5 ** 1.6, 3);
    expect(points[32]!.day).toBeCloseTo(61, 3);
  });

  it('names the law that it follows', () => {
    expect(curve()!.model).toBe(
      'Speers, Rogers & Smith 2003, J. Inst. Brew. 109:229, with a shape (Richards 1959)',
    );
  });
});
