/** The same quantities by libraries that know nothing of this program. */
import { IAPWS97_EoS } from '@neutrium/thermo.eos.iapws97';
import { r4_P_Tsat, r4_T_Psat } from '@neutrium/thermo.eos.iapws97/dist/PT.js';
import { converter } from 'culori';
import { Solver } from 'odex';
import { describe, expect, test } from 'vitest';
import { FIRST_WAVELENGTH_nm, OBSERVER_AND_D65, WAVELENGTH_STEP_nm } from '../../lib/formulas/cie-tables.ts';
import { waterDensity_kgm3 } from '../../lib/formulas/density.ts';
import { heatingTime_min, wortHeat_kJ_per_kg } from '../../lib/formulas/heat.ts';
import { equivalentBoilMinutesAlong, isoAlphaShare } from '../../lib/formulas/isomerisation.ts';
import { thermalVolumeRatio } from '../../lib/formulas/shrinkage.ts';
import { beerSwatch, beerTristimulus } from '../../lib/formulas/swatch.ts';
import { saturationTemperature_C, waterVapourPressure_kPa } from '../../lib/formulas/water-vapour.ts';
import { D65_WEIGHTED_OBSERVER } from './d65-weighted-observer.ts';

const ZERO_CELSIUS_K = 273.15;

describe('water, by @neutrium/thermo.eos.iapws97 (IAPWS-IF97)', () => {
  const water = new IAPWS97_EoS();
  const state = (t_C: number) => water.solve({ p: 101_325, t: t_C + ZERO_CELSIUS_K });
  // Liquid at 1 atm only below 99.97 °C.
  const temperatures_C = [0.5, 4, 10, 15.556, 20, 30, 40, 50, 60, 70, 80, 90, 95, 99, 99.9];

  test.each(temperatures_C)('density at %d °C', (t_C) => {
    // 0.02 between Kell 1975 and IAPWS-95, and 0.01 (0.001 %) that IAPWS-IF97 allows itself.
    expect(Math.abs(waterDensity_kgm3(t_C) - state(t_C).rho)).toBeLessThanOrEqual(0.03);
  });

  test.each(temperatures_C)('shrinkage from %d °C to 20 °C', (t_C) => {
    const found = thermalVolumeRatio({ plato_P: 0, from_C: t_C, to_C: 20 });
    // 3e-5 of the volume: 0.03 kg/m³ of 1000.
    expect(Math.abs(found - state(t_C).rho / state(20).rho)).toBeLessThanOrEqual(3e-5);
  });

  test.each([
    [10, 20, 99, 2],
    [5, 18, 70, 1.5],
    [20, 8, 65, 3],
  ])('time to heat %d kg from %d to %d °C with %d kW', (mass_kg, from_C, to_C, power_kW) => {
    const ours = heatingTime_min({
      energy_kJ: mass_kg * (wortHeat_kJ_per_kg(0, to_C) - wortHeat_kJ_per_kg(0, from_C)),
      power_kW,
    });
    const theirs = (mass_kg * (state(to_C).h - state(from_C).h)) / power_kW / 60;
    // 0.2 %: water's heat capacity is taken as constant, and varies by 0.8 % from 0 to 100 °C.
    expect(Math.abs(ours / theirs - 1)).toBeLessThanOrEqual(0.002);
  });

  test.each([0, 5, 20, 25, 30, 40, 65, 90, 99.97, 120])('vapour pressure at %d °C', (t_C) => {
    const theirs_kPa = 1000 * r4_T_Psat(t_C + ZERO_CELSIUS_K);
    // 1e-9: the package's ninth coefficient has a digit too many (-0.2385585… for -0.2385555…).
    expect(Math.abs(waterVapourPressure_kPa(t_C) / theirs_kPa - 1)).toBeLessThanOrEqual(1e-9);
  });

  test.each([1, 10, 60, 70.1, 83.5, 101.325, 200])('boiling point under %d kPa', (kPa) => {
    const theirs_C = r4_P_Tsat(kPa / 1000) - ZERO_CELSIUS_K;
    expect(Math.abs(saturationTemperature_C(kPa) - theirs_C)).toBeLessThanOrEqual(2e-8);
  });
});

describe('screen colour, by culori', () => {
  const toRgb = converter('rgb');

  test.each([0, 1, 2, 4, 6, 10, 15, 20, 30, 40, 80])('%d SRM through 5 cm', (srm) => {
    const theirs = toRgb({ mode: 'xyz65', ...beerTristimulus(srm, 5) });
    const ours = beerSwatch(srm, 5);
    for (const channel of ['r', 'g', 'b'] as const) {
      const byte = Math.round(255 * Math.min(1, Math.max(0, theirs[channel])));
      // One step: the matrices are rounded differently in the seventh digit.
      expect(Math.abs(ours[channel] - byte), channel).toBeLessThanOrEqual(1);
    }
  });

  test('XYZ .4804 .4615 .0924 is #e7aa31 in culori, and so is 4 SRM here', () => {
    const { r, g, b } = toRgb({ mode: 'xyz65', x: 0.4804, y: 0.4615, z: 0.0924 });
    expect([r, g, b].map((value) => Math.round(255 * value))).toEqual([0xe7, 0xaa, 0x31]);
    expect(beerSwatch(4, 5).hex).toBe('#e7aa31');
  });
});

describe('the tables of CIE 015', () => {
  test('clear water has the white of D65: .9505, 1, 1.0888 (ASTM E308, from memory)', () => {
    const { x, y, z } = beerTristimulus(0, 5);
    // 0.001: sums in steps of 10 nm against those of 1 nm.
    expect(Math.abs(x - 0.9505)).toBeLessThanOrEqual(0.001);
    expect(y).toBeCloseTo(1, 12);
    expect(Math.abs(z - 1.0888)).toBeLessThanOrEqual(0.001);
  });

  test.each(D65_WEIGHTED_OBSERVER.map((weights, row) => [380 + 10 * row, weights, row] as const))(
    '%d nm as in spectral.js',
    (_, weights, row) => {
      let white = 0;
      for (const [, y, , power] of OBSERVER_AND_D65) white += y * power;
      const [x, y, z, power] = OBSERVER_AND_D65[row]!;
      for (const [axis, value] of [x, y, z].entries()) {
        const expected = weights[axis]!;
        // The curves are printed to six decimals (5e-8 here) and five to six digits (2e-5 of the value).
        expect(Math.abs((value * power) / white - expected)).toBeLessThanOrEqual(5e-8 + 2e-5 * expected);
      }
    },
  );

  test('a light of equal power at all wavelengths is white: the three curves enclose the same area', () => {
    const area = (axis: 0 | 1 | 2): number => OBSERVER_AND_D65.reduce((sum, row) => sum + row[axis], 0);
    // 0.1 %: the same steps of 10 nm.
    expect(Math.abs(area(0) / area(1) - 1)).toBeLessThanOrEqual(0.001);
    expect(Math.abs(area(2) / area(1) - 1)).toBeLessThanOrEqual(0.001);
  });

  test('the range is 380 to 780 nm, the peak of ȳ at 555 nm, and D65 is 100 at 560 nm', () => {
    expect(FIRST_WAVELENGTH_nm + WAVELENGTH_STEP_nm * (OBSERVER_AND_D65.length - 1)).toBe(780);
    expect(OBSERVER_AND_D65[18]).toEqual([0.5945, 0.995, 0.0039, 100]);
    expect(Math.max(...OBSERVER_AND_D65.map((row) => row[1]))).toBe(0.995);
  });
});

describe('isomerisation, by odex (extrapolation of Gragg, Bulirsch and Stoer)', () => {
  /** The two reactions of Malowicki & Shellhammer 2005 (abstract opened), per minute. */
  const first = (t_C: number) => 7.9e11 * Math.exp(-11858 / (t_C + ZERO_CELSIUS_K));
  const second = (t_C: number) => 4.1e12 * Math.exp(-12994 / (t_C + ZERO_CELSIUS_K));

  /** Iso-alpha acids and equivalent minutes, carried along together. */
  function solve(temperature_C: (minute: number) => number, minutes: number) {
    const solver = new Solver(3);
    solver.absoluteTolerance = 1e-12;
    solver.relativeTolerance = 1e-12;
    const derivative = (minute: number, [alpha, iso]: number[]): number[] => {
      const t_C = temperature_C(minute);
      return [-first(t_C) * alpha!, first(t_C) * alpha! - second(t_C) * iso!, first(t_C)];
    };
    const { y } = solver.solve(derivative, 0, [1, 0, 0], minutes);
    return { iso: y[1]!, equivalent_min: y[2]! / first(100) };
  }

  test.each([
    ['cooling with a time constant of 30 min', (m: number) => 20 + 80 * Math.exp(-m / 30), 60],
    ['cooling with a time constant of 10 min', (m: number) => 20 + 80 * Math.exp(-m / 10), 30],
    ['falling from 100 to 60 °C', (m: number) => 100 - 2 * m, 20],
    ['a stand at 80 °C', () => 80, 20],
    ['warming up', (m: number) => 20 + 8 * m, 10],
  ] as const)('%s', (_, temperature_C, minutes) => {
    const { equivalent_min } = solve(temperature_C, minutes);
    // 2e-5 of a minute: Simpson's rule in steps of half a minute.
    expect(
      Math.abs(equivalentBoilMinutesAlong({ temperature_C, minutes }) - equivalent_min),
    ).toBeLessThanOrEqual(2e-5);
  });

  test('the slow cooling gives iso .0591745', () => {
    expect(solve((m) => 20 + 80 * Math.exp(-m / 30), 60).iso).toBeCloseTo(0.0591745, 7);
  });

  test.each([70, 80, 90, 95, 98, 100, 105])('closed form at a steady %d °C', (t_C) => {
    for (const minutes of [1, 10, 60, 149, 300]) {
      const { iso } = solve(() => t_C, minutes);
      expect(Math.abs(isoAlphaShare({ t_C, minutes }) - iso)).toBeLessThanOrEqual(1e-9);
    }
  });
});
