import { describe, expect, test } from 'vitest';
import { airPressure_kPa } from '../../lib/formulas/air.ts';
import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../../lib/formulas/alcohol.ts';
import {
  apparentAttenuation,
  apparentExtractBalling,
  realAttenuation,
  realExtractBalling,
} from '../../lib/formulas/attenuation.ts';
import { boilingElevation_K, boilingPoint_C } from '../../lib/formulas/boiling-point.ts';
import {
  co2Pressure_kPa_gauge,
  co2Solubility_mol_per_L_atm,
  co2VolumesAt,
  residualCo2_vol,
} from '../../lib/formulas/co2.ts';
import {
  ebcFromLovibondMalt,
  ebcFromSrm,
  lovibondFromEbcMalt,
  mcu,
  mcuSugar,
  srmFromEbc,
  srmMorey,
} from '../../lib/formulas/colour.ts';
import {
  extractConcentration_g_per_L,
  platoFromExtractConcentration,
} from '../../lib/formulas/concentration.ts';
import {
  platoFromDensity,
  sucroseDensity_kgm3,
  sucroseDensity20_kgm3,
  waterDensity_kgm3,
} from '../../lib/formulas/density.ts';
import { energyAsbc_kcal_per_L } from '../../lib/formulas/energy.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../../lib/formulas/gravity.ts';
import {
  boilOffPower_kW,
  heatingTime_min,
  wortHeat_kJ_per_kg,
  wortHeatCapacity_kJ_per_kgK,
} from '../../lib/formulas/heat.ts';
import { correctHydrometer, hydrometerReading } from '../../lib/formulas/hydrometer.ts';
import { iceMass_kg } from '../../lib/formulas/ice.ts';
import {
  alphaShareLeft,
  degradationRate_per_min,
  isoAlphaShare,
  isomerisationRate_per_min,
  isomerisationRatio,
} from '../../lib/formulas/isomerisation.ts';
import { equivalentBoilMinutesAlong, isoAlphaShareAlong } from '../../lib/formulas/isomerisation-along.ts';
import {
  grainMixTemperature,
  mixPlato_P,
  mixTemperature_C,
  platoAfterEvaporation_P,
  waterTemperatureForGrain,
} from '../../lib/formulas/mixing.ts';
import { co2FromExtract_vol, primingSugar_g } from '../../lib/formulas/priming.ts';
import {
  brixFromRefractiveIndex,
  finalGravityTerrill2011,
  refractiveIndexFromBrix,
  wortPlatoFromBrix,
} from '../../lib/formulas/refractometer.ts';
import { thermalVolumeRatio } from '../../lib/formulas/shrinkage.ts';
import { beerSwatch, beerTristimulus } from '../../lib/formulas/swatch.ts';
import { utilisationTinseth1997 } from '../../lib/formulas/tinseth.ts';
import { saturationTemperature_C, waterVapourPressure_kPa } from '../../lib/formulas/water-vapour.ts';
import { cellsWanted_billion } from '../../lib/formulas/yeast.ts';

type Use = readonly [name: string, call: (x: number) => unknown, low: number, high: number, quantity: RegExp];

/** One quantity of one formula: how it is passed, its bounds, and how the message must call it. */
const USES: readonly Use[] = [
  ['waterDensity_kgm3', waterDensity_kgm3, 0, 105, /water temperature in °C/],
  ['sucroseDensity_kgm3, extract', (x) => sucroseDensity_kgm3(x, 20), -8, 85, /extract in °P/],
  ['sucroseDensity_kgm3, temperature', (x) => sucroseDensity_kgm3(10, x), 0, 105, /temperature in °C/],
  ['sucroseDensity20_kgm3', sucroseDensity20_kgm3, -8, 85, /extract in °P/],
  ['platoFromDensity, temperature', (x) => platoFromDensity(1000 - x / 10, x), 0, 80, /temperature in °C/],
  ['platoFromDensity, density', (x) => platoFromDensity(x, 20), 968.3, 1445.9, /density in kg\/m³ at 20 °C/],
  ['specificGravityFromPlato', specificGravityFromPlato, -8, 85, /extract in °P/],
  ['platoFromSpecificGravity', platoFromSpecificGravity, 0.96999, 1.4485, /specific gravity/],
  ['extractConcentration_g_per_L', extractConcentration_g_per_L, 0, 85, /extract in °P/],
  ['platoFromExtractConcentration', platoFromExtractConcentration, 0, 1229, /extract in g\/L/],
  [
    'correctHydrometer, sample',
    (x) => correctHydrometer({ reading_SG: 1.05, sample_C: x, calibrated_C: 20 }),
    0,
    80,
    /sample temperature in °C/,
  ],
  [
    'correctHydrometer, calibration',
    (x) => correctHydrometer({ reading_SG: 1.05, sample_C: 20, calibrated_C: x }),
    0,
    40,
    /calibration temperature in °C/,
  ],
  [
    'correctHydrometer, reading',
    (x) => correctHydrometer({ reading_SG: x, sample_C: 20, calibrated_C: 20 }),
    0.97,
    1.448,
    /hydrometer reading|density/,
  ],
  [
    'hydrometerReading, gravity',
    (x) => hydrometerReading({ sg_2020: x, sample_C: 20, calibrated_C: 20 }),
    0.97,
    1.448,
    /specific gravity/,
  ],
  [
    'hydrometerReading, sample',
    (x) => hydrometerReading({ sg_2020: 1.05, sample_C: x, calibrated_C: 20 }),
    0,
    80,
    /sample temperature/,
  ],
  ['refractiveIndexFromBrix', refractiveIndexFromBrix, 0, 30, /°Bx/],
  ['brixFromRefractiveIndex', brixFromRefractiveIndex, 1.333, 1.386, /refractive index/],
  ['wortPlatoFromBrix, reading', (x) => wortPlatoFromBrix({ brix: x, factor: 1.04 }), 0, 40, /°Bx/],
  ['wortPlatoFromBrix, factor', (x) => wortPlatoFromBrix({ brix: 10, factor: x }), 0.9, 1.2, /wort factor/],
  [
    'finalGravityTerrill2011, before',
    (x) => finalGravityTerrill2011({ originalBrix: x, brix: 6, factor: 1 }),
    0,
    30,
    /original refractometer reading/,
  ],
  [
    'finalGravityTerrill2011, now',
    (x) => finalGravityTerrill2011({ originalBrix: 12, brix: x, factor: 1 }),
    0,
    30,
    /refractometer reading/,
  ],
  [
    'finalGravityTerrill2011, factor',
    (x) => finalGravityTerrill2011({ originalBrix: 12, brix: 6, factor: x }),
    0.9,
    1.2,
    /wort factor/,
  ],
  [
    'realExtractBalling, original',
    (x) => realExtractBalling({ original_P: x, apparent_P: 3 }),
    -8,
    85,
    /original extract/,
  ],
  [
    'realExtractBalling, apparent',
    (x) => realExtractBalling({ original_P: 12, apparent_P: x }),
    -8,
    85,
    /apparent extract/,
  ],
  [
    'apparentExtractBalling, real',
    (x) => apparentExtractBalling({ original_P: 12, real_P: x }),
    -8,
    85,
    /real extract/,
  ],
  [
    'apparentAttenuation, original',
    (x) => apparentAttenuation({ original_P: x, apparent_P: 3 }),
    1e-6,
    85,
    /original extract/,
  ],
  [
    'realAttenuation, original',
    (x) => realAttenuation({ original_P: x, real_P: 3 }),
    1e-6,
    85,
    /original extract/,
  ],
  [
    'alcoholByMassBalling_percent, original',
    (x) => alcoholByMassBalling_percent({ original_P: x, real_P: 3 }),
    0,
    85,
    /original extract/,
  ],
  [
    'alcoholByVolume_percent, mass',
    (x) => alcoholByVolume_percent({ alcoholByMass_percent: x, gravity_SG: 1 }),
    -5,
    100,
    /alcohol by mass/,
  ],
  [
    'alcoholByVolume_percent, gravity',
    (x) => alcoholByVolume_percent({ alcoholByMass_percent: 4, gravity_SG: x }),
    0.78,
    1.5,
    /specific gravity/,
  ],
  [
    'energyAsbc_kcal_per_L, alcohol',
    (x) => energyAsbc_kcal_per_L({ alcoholByMass_percent: x, real_P: 4, gravity_SG: 1.01 }),
    -5,
    30,
    /alcohol by mass/,
  ],
  [
    'energyAsbc_kcal_per_L, extract',
    (x) => energyAsbc_kcal_per_L({ alcoholByMass_percent: 4, real_P: x, gravity_SG: 1.01 }),
    -8,
    85,
    /real extract/,
  ],
  ['utilisationTinseth1997, gravity', (x) => utilisationTinseth1997(x, 60), 0.97, 1.3, /gravity/],
  ['utilisationTinseth1997, minutes', (x) => utilisationTinseth1997(1.05, x), 0, 1000, /minutes/],
  ['isomerisationRate_per_min', isomerisationRate_per_min, 0, 130, /temperature in °C/],
  ['degradationRate_per_min', degradationRate_per_min, 0, 130, /temperature in °C/],
  ['isomerisationRatio', isomerisationRatio, 0, 130, /temperature in °C/],
  ['alphaShareLeft, minutes', (x) => alphaShareLeft({ t_C: 100, minutes: x }), 0, 10_000, /minutes/],
  ['isoAlphaShare, temperature', (x) => isoAlphaShare({ t_C: x, minutes: 60 }), 0, 130, /temperature in °C/],
  [
    'isoAlphaShareAlong, temperature',
    (x) => isoAlphaShareAlong({ temperature_C: () => x, minutes: 1 }),
    0,
    130,
    /temperature in °C/,
  ],
  [
    'equivalentBoilMinutesAlong, minutes',
    (x) => equivalentBoilMinutesAlong({ temperature_C: () => 90, minutes: x }),
    0,
    10_000,
    /minutes/,
  ],
  ['srmMorey', srmMorey, 0, 5000, /malt colour units/],
  ['ebcFromSrm', ebcFromSrm, 0, 5000, /SRM/],
  ['srmFromEbc', srmFromEbc, 0, 5000, /EBC/],
  ['lovibondFromEbcMalt', lovibondFromEbcMalt, 0, 5000, /EBC/],
  ['ebcFromLovibondMalt', ebcFromLovibondMalt, 0, 2000, /°L/],
  ['mcu, weight', (x) => mcu({ weight_g: x, colour_EBC: 10, volume_L: 10 }), 0, 1e9, /weight in g/],
  ['mcu, volume', (x) => mcu({ weight_g: 100, colour_EBC: 10, volume_L: x }), 1e-6, 1e9, /volume in L/],
  ['mcuSugar, colour', (x) => mcuSugar({ weight_g: 100, colour_EBC: x, volume_L: 10 }), 0, 5000, /EBC/],
  ['beerSwatch, colour', (x) => beerSwatch(x, 5), 0, 200, /SRM/],
  ['beerTristimulus, path', (x) => beerTristimulus(10, x), 0, 50, /path in cm/],
  ['airPressure_kPa', airPressure_kPa, -500, 11_000, /altitude in m/],
  ['boilingPoint_C', boilingPoint_C, -500, 11_000, /altitude in m/],
  ['boilingElevation_K', boilingElevation_K, 0, 40, /extract in °P/],
  ['waterVapourPressure_kPa', waterVapourPressure_kPa, 0, 150, /temperature in °C/],
  ['saturationTemperature_C', saturationTemperature_C, 0.62, 470, /pressure in kPa/],
  [
    'wortHeatCapacity_kJ_per_kgK, extract',
    (x) => wortHeatCapacity_kJ_per_kgK(x, 20),
    -8,
    85,
    /extract in °P/,
  ],
  [
    'wortHeatCapacity_kJ_per_kgK, temperature',
    (x) => wortHeatCapacity_kJ_per_kgK(10, x),
    -5,
    110,
    /temperature in °C/,
  ],
  ['wortHeat_kJ_per_kg, temperature', (x) => wortHeat_kJ_per_kg(10, x), -5, 110, /temperature in °C/],
  ['heatingTime_min, energy', (x) => heatingTime_min({ energy_kJ: x, power_kW: 2 }), 0, 1e6, /energy in kJ/],
  [
    'heatingTime_min, power',
    (x) => heatingTime_min({ energy_kJ: 100, power_kW: x }),
    0.001,
    1000,
    /power in kW/,
  ],
  ['boilOffPower_kW', boilOffPower_kW, 0, 1000, /kg\/h/],
  [
    'mixPlato_P, mass',
    (x) =>
      mixPlato_P([
        { mass_kg: 1, plato_P: 5 },
        { mass_kg: x, plato_P: 10 },
      ]),
    0,
    1e6,
    /mass in kg/,
  ],
  [
    'platoAfterEvaporation_P, water',
    (x) => platoAfterEvaporation_P({ mass_kg: 10, plato_P: 10, water_kg: x }),
    0,
    8.8,
    /water boiled away|extract after evaporation/,
  ],
  [
    'mixTemperature_C, temperature',
    (x) => mixTemperature_C([{ mass_kg: 1, plato_P: 10, t_C: x }]),
    -5,
    110,
    /temperature in °C/,
  ],
  [
    'grainMixTemperature, water',
    (x) => grainMixTemperature({ water_kg: 4, water_C: x, grain_kg: 1, grain_C: 20 }),
    0,
    110,
    /water temperature/,
  ],
  [
    'grainMixTemperature, grain',
    (x) => grainMixTemperature({ water_kg: 4, water_C: 70, grain_kg: x, grain_C: 20 }),
    0,
    1e6,
    /grain in kg/,
  ],
  [
    'waterTemperatureForGrain, target',
    (x) => waterTemperatureForGrain({ water_kg: 4, grain_kg: 1, grain_C: 20, target_C: x }),
    0,
    100,
    /target temperature/,
  ],
  [
    'waterTemperatureForGrain, water',
    (x) => waterTemperatureForGrain({ water_kg: x, grain_kg: 1, grain_C: 20, target_C: 65 }),
    0.001,
    1e6,
    /water in kg/,
  ],
  [
    'iceMass_kg, ice',
    (x) => iceMass_kg({ wort_kg: 10, plato_P: 12, from_C: 70, to_C: 20, ice_C: x }),
    -40,
    0,
    /ice temperature/,
  ],
  [
    'iceMass_kg, target',
    (x) => iceMass_kg({ wort_kg: 10, plato_P: 12, from_C: 70, to_C: x, ice_C: 0 }),
    0,
    70,
    /temperature after the ice/,
  ],
  [
    'thermalVolumeRatio, from',
    (x) => thermalVolumeRatio({ plato_P: 12, from_C: x, to_C: 20 }),
    0,
    105,
    /temperature in °C/,
  ],
  ['co2Solubility_mol_per_L_atm', co2Solubility_mol_per_L_atm, 0, 40, /beer temperature/],
  [
    'residualCo2_vol, temperature',
    (x) => residualCo2_vol({ t_C: x, ambient_kPa: 101.325 }),
    0,
    40,
    /beer temperature/,
  ],
  ['residualCo2_vol, air', (x) => residualCo2_vol({ t_C: 20, ambient_kPa: x }), 30, 110, /air pressure/],
  [
    'co2VolumesAt, gauge',
    (x) => co2VolumesAt({ gauge_kPa: x, t_C: 20, ambient_kPa: 100 }),
    -90,
    5000,
    /gauge pressure/,
  ],
  [
    'co2Pressure_kPa_gauge, volumes',
    (x) => co2Pressure_kPa_gauge({ volumes: x, t_C: 20, ambient_kPa: 100 }),
    0,
    20,
    /carbonation in volumes/,
  ],
  [
    'primingSugar_g, volume',
    (x) => primingSugar_g({ volume_L: x, missing_vol: 1, co2_g_per_g: 0.5 }),
    0,
    1e6,
    /beer in L/,
  ],
  [
    'primingSugar_g, missing',
    (x) => primingSugar_g({ volume_L: 10, missing_vol: x, co2_g_per_g: 0.5 }),
    -20,
    20,
    /missing carbonation/,
  ],
  [
    'primingSugar_g, yield',
    (x) => primingSugar_g({ volume_L: 10, missing_vol: 1, co2_g_per_g: x }),
    0.01,
    1,
    /carbon dioxide of the sugar/,
  ],
  ['co2FromExtract_vol, now', (x) => co2FromExtract_vol({ from_SG: x, to_SG: 1 }), 0.97, 1.3, /gravity now/],
  [
    'co2FromExtract_vol, end',
    (x) => co2FromExtract_vol({ from_SG: 1.05, to_SG: x }),
    0.97,
    1.3,
    /gravity at the end/,
  ],
  [
    'cellsWanted_billion, volume',
    (x) => cellsWanted_billion({ volume_L: x, plato_P: 12, rate_million_per_mL_P: 1 }),
    0,
    1e6,
    /wort in L/,
  ],
];

function allNumbersFinite(value: unknown): boolean {
  if (typeof value === 'number') return Number.isFinite(value);
  if (typeof value === 'string') return true;
  return value !== null && typeof value === 'object' && Object.values(value).every(allNumbersFinite);
}

describe.each(USES)('%s', (_, call, low, high, quantity) => {
  test('is finite at both bounds and between', () => {
    for (const share of [0, 0.001, 0.25, 0.5, 0.75, 0.999, 1]) {
      const x = share === 1 ? high : low + share * (high - low);
      expect(allNumbersFinite(call(x)), `at ${x}`).toBe(true);
    }
  });

  test('outside, or for what is no number, throws a RangeError that names the quantity', () => {
    const beyond = Math.max(1e-3, (high - low) / 50);
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
