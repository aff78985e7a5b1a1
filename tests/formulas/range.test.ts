import { describe, expect, test } from 'vitest';
import { airPressure_kPa } from '../../lib/formulas/air.ts';
import { grainMixTemperature, mixPlato_P, mixTemperature_C } from '../../lib/formulas/mixing.ts';
import { USES_OF_SECOND_QUANTITIES } from './uses-of-second-quantities.ts';
import { USES_OF_THE_REST } from './uses-of-the-rest.ts';
import { USES_OF_WORT } from './uses-of-wort.ts';

function allNumbersFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value === 'string') return true;
  return value !== null && typeof value === 'object' && Object.values(value).every(allNumbersFinite);
}

describe.each([...USES_OF_WORT, ...USES_OF_THE_REST, ...USES_OF_SECOND_QUANTITIES])(
  '%s',
  (_, call, low, high, quantity) => {
    test('is finite at both bounds and between', () => {
      for (const share of [0, 0.001, 0.25, 0.5, 0.75, 0.999, 1]) {
        const x = share === 1 ? high : low + share * (high - low);
        expect(allNumbersFinite(call(x)), `at ${x}`).toBe(true);
      }
    });

    test('outside, or for what is no number, throws a RangeError that names the quantity', () => {
      const beyond = (high - low) / 1000;
      for (const x of [
        low - beyond,
        high + beyond,
        Number.NaN,
        Number.POSITIVE_INFINITY,
        Number.NEGATIVE_INFINITY,
      ]) {
        const run = (): unknown => call(x);
        expect(run, `at ${x}`).toThrow(RangeError);
        expect(run, `at ${x}`).toThrow(quantity);
      }
    });
  },
);

test('no row of the lists is lost', () => {
  expect(USES_OF_WORT.length).toBe(41);
  expect(USES_OF_THE_REST.length).toBe(52);
  expect(USES_OF_SECOND_QUANTITIES.length).toBe(33);
});

test('the message gives the bounds and what was found', () => {
  expect(() => airPressure_kPa(12_000)).toThrow('altitude in m must be from -500 to 11000, not 12000');
});

test('a mix of nothing has no temperature and no extract', () => {
  expect(() => mixTemperature_C([])).toThrow(RangeError);
  expect(() => mixPlato_P([{ mass_kg: 0, plato_P: 5 }])).toThrow(RangeError);
  expect(() => grainMixTemperature({ water_kg: 0, water_C: 70, grain_kg: 0, grain_C: 20 })).toThrow(
    RangeError,
  );
});
