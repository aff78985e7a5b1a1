import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../../lib/formulas/alcohol.ts';
import {
  apparentAttenuation,
  apparentExtractBalling,
  realAttenuation,
  realExtractBalling,
} from '../../lib/formulas/attenuation.ts';
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
import { correctHydrometer, hydrometerReading } from '../../lib/formulas/hydrometer.ts';
import {
  alphaShareLeft,
  degradationRate_per_min,
  isoAlphaShare,
  isomerisationRate_per_min,
  isomerisationRatio,
} from '../../lib/formulas/isomerisation.ts';
import { equivalentBoilMinutesAlong, isoAlphaShareAlong } from '../../lib/formulas/isomerisation-along.ts';
import {
  brixFromRefractiveIndex,
  finalGravityTerrill2011,
  refractiveIndexFromBrix,
  wortPlatoFromBrix,
} from '../../lib/formulas/refractometer.ts';
import { utilisationTinseth1997 } from '../../lib/formulas/tinseth.ts';

/** One quantity of one formula: how it is passed, its bounds, and how the message must call it. */
export type Use = readonly [
  name: string,
  call: (x: number) => unknown,
  low: number,
  high: number,
  quantity: RegExp,
];

/** Density, gravity, instruments, fermentation, hops. */
export const USES_OF_WORT: readonly Use[] = [
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
    1.4483,
    /hydrometer reading|density/,
  ],
  [
    'hydrometerReading, gravity',
    (x) => hydrometerReading({ sg_2020: x, sample_C: 20, calibrated_C: 20 }),
    0.97,
    1.4483,
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
];
