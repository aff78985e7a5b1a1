/** What must hold for any input: inverse pairs, directions, conservation, and joins without a step. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { airPressure_kPa } from '../../lib/formulas/air.ts';
import { apparentExtractBalling, realExtractBalling } from '../../lib/formulas/attenuation.ts';
import { boilingPoint_C } from '../../lib/formulas/boiling-point.ts';
import { co2Pressure_kPa_gauge, residualCo2_vol } from '../../lib/formulas/co2.ts';
import { srmMorey } from '../../lib/formulas/colour.ts';
import { platoFromDensity, sucroseDensity_kgm3 } from '../../lib/formulas/density.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../../lib/formulas/gravity.ts';
import { wortHeat_kJ_per_kg } from '../../lib/formulas/heat.ts';
import { correctHydrometer, hydrometerReading } from '../../lib/formulas/hydrometer.ts';
import { iceMass_kg } from '../../lib/formulas/ice.ts';
import { isoAlphaShare, isomerisationRatio } from '../../lib/formulas/isomerisation.ts';
import { mixTemperature_C, temperatureForMix_C } from '../../lib/formulas/mixing.ts';
import { co2FromExtract_vol, co2FromSugar_vol, primingSugar_g } from '../../lib/formulas/priming.ts';
import { beerSwatch } from '../../lib/formulas/swatch.ts';
import { utilisationTinseth1997 } from '../../lib/formulas/tinseth.ts';
import { saturationTemperature_C, waterVapourPressure_kPa } from '../../lib/formulas/water-vapour.ts';
import { extractIn_kg, platoOf, volumeOf, waterForVolume } from '../../lib/formulas/wort.ts';

/** Numbers between two bounds, both met. */
function between(low: number, high: number): fc.Arbitrary<number> {
  return fc.double({ min: low, max: high, noNaN: true });
}

/** One call with a number between bounds undoes the other. */
function undoes(
  there: (x: number) => number,
  back: (y: number) => number,
  [low, high]: readonly [number, number],
  tolerance = 1e-9,
): void {
  fc.assert(
    fc.property(between(low, high), (x) => {
      expect(Math.abs(back(there(x)) - x)).toBeLessThanOrEqual(tolerance * Math.max(1, Math.abs(x)));
    }),
  );
}

describe('inverse pairs', () => {
  test('°P and gravity, below 1.000 too', () => {
    undoes(specificGravityFromPlato, platoFromSpecificGravity, [-8, 85]);
  });

  test('gravity and °P', () => {
    undoes(platoFromSpecificGravity, specificGravityFromPlato, [0.97, 1.448], 1e-12);
  });

  test('°P and density at any temperature of the set', () => {
    fc.assert(
      fc.property(between(-8, 85), between(0, 80), (plato_P, t_C) => {
        expect(Math.abs(platoFromDensity(sucroseDensity_kgm3(plato_P, t_C), t_C) - plato_P)).toBeLessThan(
          1e-9,
        );
      }),
    );
  });

  test('a wort, its volume and the water in it', () => {
    fc.assert(
      fc.property(between(0.1, 60), between(0, 70), (volume_L, plato_P) => {
        const extract_kg = extractIn_kg(volume_L, specificGravityFromPlato(plato_P));
        const wort = { extract_kg, water_kg: waterForVolume(extract_kg, volume_L) };
        expect(Math.abs(platoOf(wort) - plato_P)).toBeLessThan(1e-7);
        expect(Math.abs(volumeOf(wort) / volume_L - 1)).toBeLessThan(1e-9);
      }),
    );
  });

  test('hydrometer', () => {
    fc.assert(
      fc.property(between(0.99, 1.2), between(0, 80), between(0, 40), (sg_2020, sample_C, calibrated_C) => {
        const reading_SG = hydrometerReading({ sg_2020, sample_C, calibrated_C });
        expect(Math.abs(correctHydrometer({ reading_SG, sample_C, calibrated_C }) - sg_2020)).toBeLessThan(
          1e-10,
        );
      }),
    );
  });

  test('real and apparent extract', () => {
    fc.assert(
      fc.property(between(0, 40), between(-6, 40), (original_P, apparent_P) => {
        const real_P = realExtractBalling({ original_P, apparent_P });
        expect(Math.abs(apparentExtractBalling({ original_P, real_P }) - apparent_P)).toBeLessThan(1e-12);
      }),
    );
  });

  test('vapour pressure and boiling point', () => {
    // Equations 30 and 31 of IAPWS-IF97 are one equation solved two ways.
    undoes(waterVapourPressure_kPa, saturationTemperature_C, [0.5, 140], 1e-7);
  });

  test('sugar for a carbonation, and the gas of that sugar', () => {
    undoes(
      (missing_vol) => primingSugar_g({ volume_L: 19, missing_vol, co2_g_per_g: 0.5 }),
      (sugar_g) => co2FromSugar_vol({ sugar_g, volume_L: 19, co2_g_per_g: 0.5 }),
      [0, 5],
    );
  });

  test('what fermentation leaves has no gauge pressure', () => {
    fc.assert(
      fc.property(between(0, 40), between(60, 110), (t_C, ambient_kPa) => {
        const volumes = residualCo2_vol({ t_C, ambient_kPa });
        expect(Math.abs(co2Pressure_kPa_gauge({ volumes, t_C, ambient_kPa }))).toBeLessThan(1e-8);
      }),
    );
  });

  test('a temperature for a mix, and the mix', () => {
    fc.assert(
      fc.property(
        between(2, 30),
        between(0, 25),
        between(15, 25),
        between(0, 30),
        (mass_kg, plato_P, target_C, t_C) => {
          const other = { mass_kg: 2, plato_P: 0, t_C };
          const own_C = temperatureForMix_C({ mass_kg, plato_P, target_C, other });
          expect(mixTemperature_C([{ mass_kg, plato_P, t_C: own_C }, other])).toBeCloseTo(target_C, 6);
        },
      ),
    );
  });
});

/** Rises (or falls) between any two points a little apart. */
function goes(
  direction: 'up' | 'down',
  f: (x: number) => number,
  [low, high]: readonly [number, number],
): void {
  const apart = (high - low) * 1e-6;
  fc.assert(
    fc.property(between(low, high), between(low, high), (one, other) => {
      const [a, b] = one < other ? [one, other] : [other, one];
      fc.pre(b - a > apart);
      if (direction === 'up') expect(f(b)).toBeGreaterThan(f(a));
      else expect(f(b)).toBeLessThan(f(a));
    }),
  );
}

describe('directions', () => {
  test.each([0, 20, 50, 80, 100])('density rises with extract at %d °C', (t_C) => {
    goes('up', (plato_P) => sucroseDensity_kgm3(plato_P, t_C), [-8, 85]);
  });

  test.each([0, 5, 12, 30, 80])('density of %d °P falls with temperature', (plato_P) => {
    goes('down', (t_C) => sucroseDensity_kgm3(plato_P, t_C), [4.5, 105]);
  });

  test('a warm sample reads low', () => {
    goes('down', (sample_C) => hydrometerReading({ sg_2020: 1.05, sample_C, calibrated_C: 20 }), [4, 80]);
  });

  test('bitterness: more with time, less with gravity, faster when hotter', () => {
    goes('up', (minutes) => utilisationTinseth1997(1.05, minutes), [0, 300]);
    goes('down', (gravity) => utilisationTinseth1997(gravity, 60), [0.97, 1.3]);
    goes('up', isomerisationRatio, [0, 130]);
  });

  test('colour rises with malt', () => goes('up', srmMorey, [0, 500]));

  test('a darker beer is darker on the screen', () => {
    fc.assert(
      fc.property(between(0, 100), between(0, 100), (one, other) => {
        const light = beerSwatch(Math.min(one, other), 5);
        const dark = beerSwatch(Math.max(one, other), 5);
        expect(dark.r).toBeLessThanOrEqual(light.r);
        expect(dark.g).toBeLessThanOrEqual(light.g);
        expect(dark.b).toBeLessThanOrEqual(light.b);
      }),
    );
  });

  test('up the mountain: less air, cooler boil', () => {
    goes('down', airPressure_kPa, [-500, 11_000]);
    goes('down', boilingPoint_C, [-500, 11_000]);
  });

  test('gas: less stays when warm, more pressure with warmth and with gas', () => {
    goes('down', (t_C) => residualCo2_vol({ t_C, ambient_kPa: 101.325 }), [0, 40]);
    goes('up', (t_C) => co2Pressure_kPa_gauge({ volumes: 2.5, t_C, ambient_kPa: 101.325 }), [0, 40]);
    goes('up', (volumes) => co2Pressure_kPa_gauge({ volumes, t_C: 20, ambient_kPa: 101.325 }), [0, 20]);
    goes('up', (from_SG) => co2FromExtract_vol({ from_SG, to_SG: 1 }), [1, 1.1]);
    goes('up', (missing_vol) => primingSugar_g({ volume_L: 10, missing_vol, co2_g_per_g: 0.5 }), [0, 5]);
  });

  test('ice: more for warmer wort, less when the ice is colder', () => {
    const chill = { wort_kg: 10, plato_P: 12, from_C: 70, to_C: 20, ice_C: -5 };
    goes('up', (from_C) => iceMass_kg({ ...chill, from_C }), [20, 100]);
    goes('up', (ice_C) => iceMass_kg({ ...chill, ice_C }), [-40, 0]);
  });
});

const part = fc.record({ mass_kg: between(0.01, 50), plato_P: between(0, 80), t_C: between(0, 100) });
const parts = fc.array(part, { minLength: 1, maxLength: 8 });

describe('conservation', () => {
  test('mixing keeps the heat, and ends between the coldest and the warmest', () => {
    fc.assert(
      fc.property(parts, (all) => {
        const t_C = mixTemperature_C(all);
        const mass_kg = all.reduce((sum, each) => sum + each.mass_kg, 0);
        const before_kJ = all.reduce(
          (sum, each) => sum + each.mass_kg * wortHeat_kJ_per_kg(each.plato_P, each.t_C),
          0,
        );
        const plato_P = all.reduce((sum, each) => sum + each.mass_kg * each.plato_P, 0) / mass_kg;
        expect(mass_kg * wortHeat_kJ_per_kg(plato_P, t_C)).toBeCloseTo(before_kJ, 6);
        expect(t_C).toBeGreaterThanOrEqual(Math.min(...all.map((each) => each.t_C)) - 1e-9);
        expect(t_C).toBeLessThanOrEqual(Math.max(...all.map((each) => each.t_C)) + 1e-9);
      }),
    );
  });

  test('iso-alpha acids are never more than the alpha acids there were', () => {
    fc.assert(
      fc.property(between(0, 130), between(0, 500), (t_C, minutes) => {
        expect(isoAlphaShare({ t_C, minutes })).toBeGreaterThanOrEqual(0);
        expect(isoAlphaShare({ t_C, minutes })).toBeLessThanOrEqual(1 + 1e-12);
      }),
    );
  });
});

describe('joins', () => {
  test('density has no step at 80 °C, where water takes over, and no bend worth the name', () => {
    fc.assert(
      fc.property(between(-8, 30), (plato_P) => {
        const at = (t_C: number): number => sucroseDensity_kgm3(plato_P, t_C);
        expect(Math.abs(at(80.000001) - at(80))).toBeLessThan(1e-5);
        // Per kelvin the density falls by about 0.6 kg/m³; the two sides differ by less than a fifth of that.
        expect(Math.abs(at(80.5) - 2 * at(80) + at(79.5)) / 0.5).toBeLessThan(0.12);
      }),
    );
  });

  test('gravity passes through 0 °P without a step or a bend', () => {
    const slope = (plato_P: number): number =>
      (specificGravityFromPlato(plato_P + 1e-4) - specificGravityFromPlato(plato_P - 1e-4)) / 2e-4;
    expect(specificGravityFromPlato(0)).toBe(1);
    expect(platoFromSpecificGravity(1)).toBe(0);
    expect(Math.abs(slope(0.01) - slope(-0.01))).toBeLessThan(1e-5);
  });
});
