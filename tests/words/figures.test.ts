import { describe, expect, it } from 'vitest';
import type { Figure, Plan } from '../../lib/batch/types/plan.ts';
import { TARGET_KEYS, type TargetKey } from '../../lib/batch/types/targets.ts';
import type { Units } from '../../lib/units/dimension.ts';
import { fixed, stepped } from '../../lib/units/format/format.ts';
import { parseQuantity } from '../../lib/units/parse/parse.ts';
import { figureText, labelLine } from '../../lib/words/figures.ts';
import { durationText } from '../../lib/words/measures.ts';

const figure = (value: number, low: number, high: number): Figure => ({
  value,
  low,
  high,
  printed: { low, high },
  contributors: [],
});

import { plan } from './fixture.ts';

/**
 * Conversions worked by hand from exact definitions (NIST Handbook 44, appendix C: gallon 3.785411784 L, ounce
 * 28.349523125 g; °F = 1.8 °C + 32; NIST SP 811, B.8: psi 6.894757 kPa); ranges rounded outward to the step.
 */
const CASES: readonly (readonly [TargetKey, Units, Figure, string, string, string, string])[] = [
  ['original_gravity', 'metric', figure(1.0398, 1.034, 1.044), '1.040', '', '1.034', '1.044'],
  ['water_to_heat_l', 'metric', figure(9.72, 9.2, 10.3), '9.7', 'L', '9.2', '10.3'],
  ['water_to_heat_l', 'metric', figure(9.98, 9.5, 10.5), '10', 'L', '9.5', '10.5'],
  ['water_to_heat_l', 'metric', figure(0.46, 0.3, 0.6), '0.5', 'L', '0.3', '0.6'],
  [
    'water_to_heat_l',
    'us',
    figure(10, 9.5, 10.5),
    '2\u00a0gal\u00a02.5\u00a0qt',
    '',
    '2\u00a0gal\u00a02\u00a0qt',
    '2\u00a0gal\u00a03.25\u00a0qt',
  ],
  ['top_up_l', 'us', figure(1.9, 1.5, 2.3), '2\u00a0qt', '', '1.5\u00a0qt', '2.5\u00a0qt'],
  ['steep_water_c', 'us', figure(70, 68, 72), '158', '°F', '154', '162'],
  ['priming_sugar_g', 'us', figure(100, 90, 110), '3.53', 'oz', '3.17', '3.89'],
  ['bottle_pressure_30c_kpa', 'metric', figure(213, 170, 270), '2.1', 'bar', '1.7', '2.7'],
  ['bottle_pressure_30c_kpa', 'us', figure(213, 170, 270), '31', 'psi', '24', '40'],
  ['bitterness_ibu', 'us', figure(22.4, 15, 30), '22', 'IBU', '15', '30'],
  ['yeast_packs', 'metric', figure(2, 2, 2), '2', '', '2', '2'],
];

describe('figureText', () => {
  it.each(CASES)('%s in %s units', (key, units, given, number, unit, low, high) => {
    expect(figureText(key, given, units)).toEqual({
      key,
      number,
      unit,
      low,
      high,
    });
  });

  it('never shows a US-unit brewer a litre, a gram, a kilogram or a degree Celsius', () => {
    for (const key of TARGET_KEYS) {
      const { unit } = figureText(key, figure(20, 18, 22), 'us');
      expect(unit, key).not.toMatch(/\b(L|litre|kg|g|bar|kPa)\b|°C/);
    }
  });

  it('never makes a range narrower by converting it', () => {
    for (const key of TARGET_KEYS.filter((one) => one.endsWith('_l'))) {
      for (const litres of [2.1, 3.3, 7.7, 19.4]) {
        const text = figureText(key, figure(litres, litres - 0.3, litres + 0.3), 'us');
        const read = (end: string): number => {
          const parsed = parseQuantity(end, 'volume', { units: 'us' });
          return parsed.ok ? parsed.value.value : Number.NaN;
        };
        expect(read(text.low)).toBeLessThanOrEqual(litres - 0.3 + 0.001);
        expect(read(text.high)).toBeGreaterThanOrEqual(litres + 0.3 - 0.001);
      }
    }
  });
});

describe('numbers on paper', () => {
  it.each([
    [0.5, 0.1, '0.5'],
    [30, 1, '30'],
    [100, 5, '100'],
    [2.5, 0.05, '2.5'],
    [-0.04, 0.1, '0'],
    [-1.2, 0.1, '−1.2'],
  ])('%d in steps of %d is %s', (value, step, text) => {
    expect(stepped(value, step)).toBe(text);
  });

  it('keeps the last zero of a reading and loses the sign of nothing', () => {
    expect(fixed(1.04, 3)).toBe('1.040');
    expect(fixed(-0.0001, 3)).toBe('0.000');
  });

  it('says minutes, hours and days as people do', () => {
    expect([45, 120, 150, 20160].map(durationText)).toEqual([
      '45\u00a0min',
      '120\u00a0min',
      '2\u00a0h 30\u00a0min',
      '14\u00a0days',
    ]);
  });
});

describe("a kit's label", () => {
  const planned = (label: Plan['label']) => ({
    ...plan,
    label,
    targets: {
      ...plan.targets,
      original_gravity: figure(1.041, 1.037, 1.044),
      final_gravity: figure(1.011, 1.007, 1.014),
    },
  });
  const label = {
    original_gravity: 1.042,
    final_gravity: 1.01,
    volume_l: 20,
    reachable_gravity: 1.0421,
    volume_for_label_l: 20.05,
  };

  it.each([
    ['that says the same is not told', {}, null],
    ['of another volume', { volume_l: 23 }, /23\u00a0L\. You make 20\u00a0L\.$/],
    [
      'that this extract cannot keep',
      { original_gravity: 1.056, reachable_gravity: 1.0409, volume_for_label_l: 14.4 },
      /^original gravity 1\.056.* This extract gives 1\.041 in 20\u00a0L\. It would reach 1\.056 in 14\.4\u00a0L\.$/,
    ],
    [
      'without a volume',
      { original_gravity: 1.056, volume_l: null, reachable_gravity: null, volume_for_label_l: 14.4 },
      /gravity 1\.010\. It would reach 1\.056 in 14\.4\u00a0L\.$/,
    ],
    ['that ends elsewhere', { final_gravity: 1.02 }, /Where it ends depends on the yeast/],
  ] as const)('%s', (_, other, says) => {
    const line = labelLine(planned({ ...label, ...other }), 20, 'metric');
    if (says === null) expect(line).toBeNull();
    else expect(line).toMatch(says);
  });

  it('of a recipe without one is nothing', () => {
    expect(labelLine(planned(null), 20, 'metric')).toBeNull();
  });
});
