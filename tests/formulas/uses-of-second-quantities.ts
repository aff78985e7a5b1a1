import { alcoholByMassBalling_percent } from '../../lib/formulas/alcohol.ts';
import {
  apparentAttenuation,
  apparentExtractBalling,
  realAttenuation,
} from '../../lib/formulas/attenuation.ts';
import { bottlePressure_kPa_gauge } from '../../lib/formulas/bottle.ts';
import { co2Pressure_kPa_gauge, co2VolumesAt } from '../../lib/formulas/co2.ts';
import { mcu, mcuSugar } from '../../lib/formulas/colour.ts';
import { energyAsbc_kcal_per_L } from '../../lib/formulas/energy.ts';
import { wortHeat_kJ_per_kg } from '../../lib/formulas/heat.ts';
import { hydrometerReading } from '../../lib/formulas/hydrometer.ts';
import { iceMass_kg } from '../../lib/formulas/ice.ts';
import { alphaShareLeft, isoAlphaShare } from '../../lib/formulas/isomerisation.ts';
import { isoAlphaShareAlong } from '../../lib/formulas/isomerisation-along.ts';
import {
  grainMixTemperature,
  mixPlato_P,
  mixTemperature_C,
  platoAfterEvaporation_P,
  waterTemperatureForGrain,
} from '../../lib/formulas/mixing.ts';
import { beerSwatch, beerTristimulus } from '../../lib/formulas/swatch.ts';
import { cellsWanted_billion } from '../../lib/formulas/yeast.ts';
import type { Use } from './uses-of-wort.ts';

const bottle = { volumes: 2.5, t_C: 20, ambient_kPa: 100, headSpace_L_per_L: 0.04, filled_C: 20 };
const keg = { t_C: 10, ambient_kPa: 100 };
const ice = { wort_kg: 10, plato_P: 12, from_C: 70, to_C: 20, ice_C: 0 };
const soak = { water_kg: 4, water_C: 70, grain_kg: 1, grain_C: 20 };
const strike = { water_kg: 4, grain_kg: 1, grain_C: 20, target_C: 65 };
const cells = { volume_L: 20, plato_P: 12, rate_million_per_mL_P: 0.75 };
const malt = { weight_g: 100, colour_EBC: 10, volume_L: 10 };

/** The other quantities of formulas that take several: each has bounds and a name of its own. */
export const USES_OF_SECOND_QUANTITIES: readonly Use[] = [
  [
    'alcoholByMassBalling_percent, real',
    (x) => alcoholByMassBalling_percent({ original_P: 12, real_P: x }),
    -8,
    85,
    /real extract in °P/,
  ],
  [
    'apparentExtractBalling, original',
    (x) => apparentExtractBalling({ original_P: x, real_P: 4 }),
    -8,
    85,
    /original extract in °P/,
  ],
  [
    'apparentAttenuation, apparent',
    (x) => apparentAttenuation({ original_P: 12, apparent_P: x }),
    -8,
    85,
    /apparent extract in °P/,
  ],
  [
    'realAttenuation, real',
    (x) => realAttenuation({ original_P: 12, real_P: x }),
    -8,
    85,
    /real extract in °P/,
  ],
  [
    'bottlePressure_kPa_gauge, beer',
    (x) => bottlePressure_kPa_gauge({ ...bottle, t_C: x }),
    0,
    40,
    /beer temperature in °C/,
  ],
  [
    'bottlePressure_kPa_gauge, air',
    (x) => bottlePressure_kPa_gauge({ ...bottle, ambient_kPa: x }),
    30,
    110,
    /air pressure in kPa/,
  ],
  [
    'bottlePressure_kPa_gauge, filling',
    (x) => bottlePressure_kPa_gauge({ ...bottle, filled_C: x }),
    0,
    40,
    /temperature at filling in °C/,
  ],
  [
    'co2VolumesAt, temperature',
    (x) => co2VolumesAt({ ...keg, gauge_kPa: 100, t_C: x }),
    0,
    40,
    /beer temperature in °C/,
  ],
  [
    'co2VolumesAt, air',
    (x) => co2VolumesAt({ ...keg, gauge_kPa: 0, ambient_kPa: x }),
    30,
    110,
    /air pressure/,
  ],
  [
    'co2Pressure_kPa_gauge, temperature',
    (x) => co2Pressure_kPa_gauge({ ...keg, volumes: 2.5, t_C: x }),
    0,
    40,
    /beer temperature in °C/,
  ],
  [
    'co2Pressure_kPa_gauge, air',
    (x) => co2Pressure_kPa_gauge({ ...keg, volumes: 2.5, ambient_kPa: x }),
    30,
    110,
    /air pressure in kPa/,
  ],
  ['mcu, colour', (x) => mcu({ ...malt, colour_EBC: x }), 0, 5000, /EBC/],
  ['mcuSugar, weight', (x) => mcuSugar({ ...malt, weight_g: x }), 0, 1e9, /weight in g/],
  [
    'energyAsbc_kcal_per_L, gravity',
    (x) => energyAsbc_kcal_per_L({ alcoholByMass_percent: 4, real_P: 4, gravity_SG: x }),
    0.9,
    1.5,
    /specific gravity of the beer/,
  ],
  ['wortHeat_kJ_per_kg, extract', (x) => wortHeat_kJ_per_kg(x, 20), -8, 85, /extract in °P/],
  [
    'hydrometerReading, calibration',
    (x) => hydrometerReading({ sg_2020: 1.05, sample_C: 20, calibrated_C: x }),
    0,
    40,
    /calibration temperature in °C/,
  ],
  ['iceMass_kg, wort', (x) => iceMass_kg({ ...ice, wort_kg: x }), 0, 1e6, /wort in kg/],
  ['iceMass_kg, before', (x) => iceMass_kg({ ...ice, from_C: x, to_C: 0 }), 0, 110, /before the ice in °C/],
  [
    'alphaShareLeft, temperature',
    (x) => alphaShareLeft({ t_C: x, minutes: 60 }),
    0,
    130,
    /wort temperature in °C/,
  ],
  ['isoAlphaShare, minutes', (x) => isoAlphaShare({ t_C: 100, minutes: x }), 0, 10_000, /minutes/],
  [
    'isoAlphaShareAlong, minutes',
    (x) => isoAlphaShareAlong({ temperature_C: () => 90, minutes: x }),
    0,
    10_000,
    /minutes/,
  ],
  ['mixPlato_P, extract', (x) => mixPlato_P([{ mass_kg: 1, plato_P: x }]), -8, 85, /extract in °P/],
  [
    'platoAfterEvaporation_P, extract',
    (x) => platoAfterEvaporation_P({ mass_kg: 10, plato_P: x, water_kg: 0 }),
    -8,
    85,
    /extract in °P/,
  ],
  [
    'platoAfterEvaporation_P, wort',
    (x) => platoAfterEvaporation_P({ mass_kg: x, plato_P: 0, water_kg: 0 }),
    Number.MIN_VALUE,
    1e6,
    /mass in kg|less than the wort/,
  ],
  [
    'mixTemperature_C, mass',
    (x) =>
      mixTemperature_C([
        { mass_kg: 1, plato_P: 0, t_C: 20 },
        { mass_kg: x, plato_P: 10, t_C: 50 },
      ]),
    0,
    1e6,
    /mass in kg/,
  ],
  [
    'grainMixTemperature, mass of water',
    (x) => grainMixTemperature({ ...soak, water_kg: x }),
    0,
    1e6,
    /water/,
  ],
  [
    'grainMixTemperature, grain’s warmth',
    (x) => grainMixTemperature({ ...soak, grain_C: x }),
    -40,
    110,
    /grain temperature in °C/,
  ],
  [
    'waterTemperatureForGrain, grain',
    (x) => waterTemperatureForGrain({ ...strike, grain_kg: x }),
    0,
    1e6,
    /grain in kg/,
  ],
  [
    'waterTemperatureForGrain, grain’s warmth',
    (x) => waterTemperatureForGrain({ ...strike, grain_C: x }),
    -40,
    110,
    /grain temperature in °C/,
  ],
  ['beerTristimulus, colour', (x) => beerTristimulus(x, 5), 0, 200, /colour in SRM/],
  ['beerSwatch, path', (x) => beerSwatch(10, x), 0, 50, /light path in cm/],
  [
    'cellsWanted_billion, extract',
    (x) => cellsWanted_billion({ ...cells, plato_P: x }),
    0,
    85,
    /extract in °P/,
  ],
  [
    'cellsWanted_billion, rate',
    (x) => cellsWanted_billion({ ...cells, rate_million_per_mL_P: x }),
    0,
    20,
    /pitching rate in millions/,
  ],
];
