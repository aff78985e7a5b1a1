import { airPressure_kPa } from '../../lib/formulas/air.ts';
import { boilingElevation_K, boilingPoint_C } from '../../lib/formulas/boiling-point.ts';
import { bottlePressure_kPa_gauge } from '../../lib/formulas/bottle.ts';
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
import { dayOfShareLeftSpeers2003, shareLeftSpeers2003 } from '../../lib/formulas/fermentation-curve.ts';
import { cellsHaemocytometer_million_per_mL } from '../../lib/formulas/haemocytometer.ts';
import {
  boilOffPower_kW,
  heatingTime_min,
  wortHeat_kJ_per_kg,
  wortHeatCapacity_kJ_per_kgK,
} from '../../lib/formulas/heat.ts';
import { iceMass_kg } from '../../lib/formulas/ice.ts';
import {
  grainMixTemperature,
  mixPlato_P,
  mixTemperature_C,
  platoAfterEvaporation_P,
  waterTemperatureForGrain,
} from '../../lib/formulas/mixing.ts';
import { co2FromExtract_vol, primingSugar_g } from '../../lib/formulas/priming.ts';
import { thermalVolumeRatio } from '../../lib/formulas/shrinkage.ts';
import { beerSwatch, beerTristimulus } from '../../lib/formulas/swatch.ts';
import { saturationTemperature_C, waterVapourPressure_kPa } from '../../lib/formulas/water-vapour.ts';
import { cellsWanted_billion } from '../../lib/formulas/yeast.ts';
import type { Use } from './uses-of-wort.ts';

/** Colour, air, heat, mixing, gas, yeast. */
export const USES_OF_THE_REST: readonly Use[] = [
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
    8.82,
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
    'bottlePressure_kPa_gauge, volumes',
    (x) =>
      bottlePressure_kPa_gauge({
        volumes: x,
        t_C: 30,
        ambient_kPa: 100,
        headSpace_L_per_L: 0.04,
        filled_C: 20,
      }),
    0,
    20,
    /carbonation in volumes/,
  ],
  [
    'bottlePressure_kPa_gauge, head space',
    (x) =>
      bottlePressure_kPa_gauge({ volumes: 2, t_C: 30, ambient_kPa: 100, headSpace_L_per_L: x, filled_C: 20 }),
    0.005,
    1,
    /head space/,
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
  [
    'shareLeftSpeers2003, inflection',
    (x) => shareLeftSpeers2003({ inflection_d: x, rate_per_d: 1, shape: 1 })(0),
    -1e4,
    1e4,
    /inflection in days/,
  ],
  [
    'shareLeftSpeers2003, rate',
    (x) => shareLeftSpeers2003({ inflection_d: 2, rate_per_d: x, shape: 1 })(3),
    1e-4,
    1e4,
    /rate per day/,
  ],
  [
    'dayOfShareLeftSpeers2003, shape',
    (x) => dayOfShareLeftSpeers2003({ inflection_d: 2, rate_per_d: 1, shape: x, share: 0.1 }),
    0.01,
    100,
    /shape/,
  ],
  [
    'dayOfShareLeftSpeers2003, share',
    (x) => dayOfShareLeftSpeers2003({ inflection_d: 2, rate_per_d: 1, shape: 1, share: x }),
    1e-9,
    1 - 1e-9,
    /share of the fall/,
  ],
  [
    'cellsHaemocytometer_million_per_mL, count',
    (x) => cellsHaemocytometer_million_per_mL({ count: x, squares: 5, square_mm2: 0.04, dilution: 10 }),
    0,
    1e5,
    /cells counted/,
  ],
  [
    'cellsHaemocytometer_million_per_mL, squares',
    (x) => cellsHaemocytometer_million_per_mL({ count: 100, squares: x, square_mm2: 0.04, dilution: 10 }),
    1,
    1000,
    /squares counted/,
  ],
  [
    'cellsHaemocytometer_million_per_mL, area',
    (x) => cellsHaemocytometer_million_per_mL({ count: 100, squares: 5, square_mm2: x, dilution: 10 }),
    0.001,
    10,
    /area of a square/,
  ],
  [
    'cellsHaemocytometer_million_per_mL, dilution',
    (x) => cellsHaemocytometer_million_per_mL({ count: 100, squares: 5, square_mm2: 0.04, dilution: x }),
    1,
    1e6,
    /dilution/,
  ],
];
