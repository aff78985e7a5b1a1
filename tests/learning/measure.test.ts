/** A result and its doubts from readings, by functions whose slopes are known. */

import { describe, expect, it } from 'vitest';
import { measure } from '../../lib/batch/learning/measure.ts';
import { elapsed } from '../../lib/batch/readings/boil-clock.ts';
import type { Input } from '../../lib/batch/uncertainty/inputs.ts';
import { OutOfRange } from '../../lib/formulas/range.ts';
import { modelOf } from '../batch/sample-plan.ts';

const { c } = modelOf({});
const reading = (name: string, value: number, u: number) => ({ name, value, u });
const input = (key: 'scale' | 'heat_kW', u: number): Input => {
  const nominal = c[key];
  const set: Input['set'] = (now, change) => {
    now[key] = nominal + change;
  };
  return { key, label: `the ${key}`, u, movesKettle: false, set };
};

describe('a measured result', () => {
  it('is doubted by each reading times its slope: 3 × 2 with ± 0.1 and ± 0.2', () => {
    const found = measure(
      [reading('length', 3, 0.1), { ...reading('width', 2, 0.2), shared: true }],
      c,
      [],
      ([a = 0, b = 0]) => a * b,
    )!;
    expect(found.value).toBe(6);
    // 2 × 0.1 and 3 × 0.2 (JCGM 100, equation 10).
    expect(found.u).toBeCloseTo(Math.hypot(0.2, 0.6), 12);
    expect(found.doubts).toEqual([
      { input: 'length', effect: expect.closeTo(0.2, 12), shared: false },
      { input: 'width', effect: expect.closeTo(0.6, 12), shared: true },
    ]);
  });

  it('is doubted by the case’s own inputs, which every batch shares, and leaves the case as it was', () => {
    const before = { ...c };
    const found = measure([], c, [input('scale', 0.01), input('heat_kW', 0.2)], (_, now) => -5 * now.scale)!;
    // The heat moves nothing, so it is no doubt.
    expect(found.doubts).toEqual([{ input: 'the scale', effect: expect.closeTo(-0.05, 12), shared: true }]);
    expect(found.u).toBeCloseTo(0.05, 12);
    expect({ ...c }).toEqual(before);
  });

  it('leaves the case as it was where an input moves the result out of its range', () => {
    const failing = (_: readonly number[], now: typeof c) => {
      if (now.scale > 1) throw new OutOfRange('too much');
      return 2;
    };
    expect(measure([reading('mark', 1, 1)], c, [input('scale', 0.01)], failing)).toBeNull();
    expect(c.scale).toBe(1);
  });

  it.each<[string, (values: readonly number[]) => number]>([
    ['none of its readings moves', () => 4],
    ['is no number', () => Number.NaN],
    ['is no number just where it was read', ([a = 0]) => (a * a - 1) / (a - 1)],
    ['has no end', ([a = 0]) => 1 / (a - 1)],
    ['has no end a little further on', ([a = 0]) => 1 / Math.max(0, 1.5 - a)],
  ])('that %s is none', (_, result) => {
    expect(measure([reading('mark', 1, 0.5)], c, [], result)).toBeNull();
  });

  it('is not moved by a reading without doubt', () => {
    const found = measure(
      [reading('sure', 3, 0), reading('mark', 2, 0.5)],
      c,
      [],
      ([a = 0, b = 0]) => a + b,
    )!;
    expect(found.doubts.map(({ input: name }) => name)).toEqual(['mark']);
  });

  it('does not hide a fault of the program', () => {
    const broken = () => {
      throw new TypeError('a slip');
    };
    expect(() => measure([], c, [], broken)).toThrow(TypeError);
  });
});

describe('minutes by the clock', () => {
  it.each([
    ['10:05', '11:00', 55],
    ['23:50', '00:10', 20],
    ['not taken', '11:00', null],
    ['10:00', 'not taken', null],
    [null, '11:00', null],
    ['10:00', undefined, null],
  ] as const)('from %s to %s are %s', (from, to, minutes) => {
    expect(elapsed(from, to)).toBe(minutes);
  });
});
