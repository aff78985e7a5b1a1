/** A formula that is asked for what it cannot know says so; it never answers with a figure that means nothing. */
import { describe, expect, test } from 'vitest';
import { airPressure_kPa } from '../../lib/formulas/air.ts';
import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../../lib/formulas/alcohol.ts';
import * as attenuation from '../../lib/formulas/attenuation.ts';
import { boilingPoint_C } from '../../lib/formulas/boiling-point.ts';
import * as co2 from '../../lib/formulas/co2.ts';
import * as colour from '../../lib/formulas/colour.ts';
import { coolingNewton } from '../../lib/formulas/cooling.ts';
import { energyAsbc_kcal_per_L } from '../../lib/formulas/energy.ts';
import { dayOfShareLeftSpeers2003, shareLeftSpeers2003 } from '../../lib/formulas/fermentation-curve.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../../lib/formulas/gravity.ts';
import * as heat from '../../lib/formulas/heat.ts';
import { correctHydrometer, hydrometerReading } from '../../lib/formulas/hydrometer.ts';
import { iceMass_kg } from '../../lib/formulas/ice.ts';
import { isoAlphaShare, isomerisationRatio } from '../../lib/formulas/isomerisation.ts';
import {
  mixTemperature_C,
  temperatureForMix_C,
  waterTemperatureForGrain,
} from '../../lib/formulas/mixing.ts';
import * as priming from '../../lib/formulas/priming.ts';
import { finalGravityTerrill2011, wortPlatoFromBrix } from '../../lib/formulas/refractometer.ts';
import { thermalVolumeRatio } from '../../lib/formulas/shrinkage.ts';
import { beerSwatch } from '../../lib/formulas/swatch.ts';
import { minutesAt100C, utilisationTinseth1997 } from '../../lib/formulas/tinseth.ts';
import { combine } from '../../lib/formulas/uncertainty.ts';
import { saturationTemperature_C, waterVapourPressure_kPa } from '../../lib/formulas/water-vapour.ts';
import { extractIn_kg } from '../../lib/formulas/wort.ts';
import { cellsWanted_billion } from '../../lib/formulas/yeast.ts';

type Quantities = Readonly<Record<string, number>>;

/** A formula of one object of quantities, and a call that it answers. */
const named = <Q extends Quantities>(formula: (of: Q) => unknown, sound: Q) =>
  [formula.name, (of: Quantities) => formula(of as Q), sound as Quantities] as const;

/** A formula of one quantity or two, by their place. */
const placed = (formula: (...of: number[]) => unknown, ...sound: number[]) =>
  [
    formula.name,
    (of: Quantities) => formula(...Object.values(of)),
    Object.fromEntries(Object.entries(sound)) as Quantities,
  ] as const;

const ambient_kPa = 101.325;
const beer = { original_P: 12, real_P: 4 };
const curve = { inflection_d: 2, rate_per_d: 1, shape: 2 };

const CALLS = [
  placed(airPressure_kPa, 100),
  named(alcoholByMassBalling_percent, beer),
  named(alcoholByVolume_percent, { alcoholByMass_percent: 4, gravity_SG: 1.01 }),
  named(attenuation.realExtractBalling, { original_P: 12, apparent_P: 3 }),
  named(attenuation.apparentExtractBalling, beer),
  named(attenuation.apparentAttenuation, { original_P: 12, apparent_P: 3 }),
  named(attenuation.realAttenuation, beer),
  placed(boilingPoint_C, 100),
  named(co2.residualCo2_vol, { t_C: 20, ambient_kPa }),
  named(co2.co2Pressure_kPa_gauge, { volumes: 2.5, t_C: 20, ambient_kPa }),
  placed(colour.ebcFromSrm, 10),
  placed(colour.srmFromEbc, 10),
  placed(colour.lovibondFromEbcMalt, 10),
  placed(colour.srmMorey, 10),
  named(colour.mcu, { weight_kg: 1, colour_L: 10, volume_L: 10 }),
  named(energyAsbc_kcal_per_L, { alcoholByMass_percent: 4, real_P: 4, gravity_SG: 1.01 }),
  named((of: typeof curve) => shareLeftSpeers2003(of)(3), curve),
  named(dayOfShareLeftSpeers2003, { ...curve, share: 0.5 }),
  placed(platoFromSpecificGravity, 1.05),
  placed(specificGravityFromPlato, 12),
  placed(heat.wortHeatCapacity_kJ_per_kgK, 12, 60),
  placed(heat.wortHeat_kJ_per_kg, 12, 60),
  named(heat.heatingTime_min, { energy_kJ: 100, power_kW: 2 }),
  named(correctHydrometer, { reading_SG: 1.05, sample_C: 24, calibrated_C: 20 }),
  named(hydrometerReading, { sg_2020: 1.05, sample_C: 24, calibrated_C: 20 }),
  named(iceMass_kg, { wort_kg: 10, plato_P: 12, from_C: 70, to_C: 20, ice_C: 0 }),
  placed(isomerisationRatio, 95),
  named(isoAlphaShare, { t_C: 95, minutes: 60 }),
  named((part: { mass_kg: number; plato_P: number; t_C: number }) => mixTemperature_C([part]), {
    mass_kg: 6,
    plato_P: 12,
    t_C: 60,
  }),
  named(
    ({ t_C, ...rest }: { mass_kg: number; plato_P: number; target_C: number; t_C: number }) =>
      temperatureForMix_C({ ...rest, other: { mass_kg: 10, plato_P: 0, t_C } }),
    { mass_kg: 9, plato_P: 12, target_C: 20, t_C: 8 },
  ),
  named(waterTemperatureForGrain, {
    water_kg: 10,
    grain_kg: 1,
    grain_C: 20,
    target_C: 66,
    grainHeatCapacity_kJ_per_kgK: 1.7,
  }),
  named(priming.primingSugar_g, { volume_L: 20, missing_vol: 1.5, co2_g_per_g: 0.5 }),
  named(priming.co2FromSugar_vol, { sugar_g: 100, volume_L: 20, co2_g_per_g: 0.5 }),
  named(priming.co2FromExtract_vol, { from_SG: 1.012, to_SG: 1.01 }),
  named(wortPlatoFromBrix, { brix: 12, factor: 1.04 }),
  named(finalGravityTerrill2011, { originalBrix: 12, brix: 6, factor: 1.04 }),
  named(thermalVolumeRatio, { plato_P: 12, from_C: 100, to_C: 20 }),
  placed(beerSwatch, 10, 5),
  placed(utilisationTinseth1997, 1.05, 60),
  named(minutesAt100C, { t_C: 95, minutes: 60 }),
  named(coolingNewton, { from_C: 100, to_C: 22, cold_C: 12, minutes: 40 }),
  placed((a, b) => combine([a!, b!]), 1, 2),
  placed(waterVapourPressure_kPa, 20),
  placed(saturationTemperature_C, 101),
  placed((gravity) => extractIn_kg(20, gravity!), 1.05),
  named(cellsWanted_billion, { volume_L: 20, plato_P: 12, rate_million_per_mL_P: 0.75 }),
];

describe.each(CALLS)('%s', (_, formula, sound) => {
  test('answers a sound call', () => expect(formula(sound)).toBeDefined());

  test.each(Object.keys(sound))('refuses a quantity that is no number, %s', (name) => {
    for (const wrong of [Number.NaN, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY]) {
      expect(() => formula({ ...sound, [name]: wrong }), String(wrong)).toThrow(RangeError);
    }
  });
});

test('the message gives the bounds and what was found, and the bounds themselves are allowed', () => {
  expect(() => airPressure_kPa(11_001)).toThrow('altitude in m must be from -500 to 11000, not 11001');
  for (const altitude_m of [-500, 11_000]) expect(airPressure_kPa(altitude_m)).toBeGreaterThan(20);
});

test('a mix of nothing has no temperature', () => expect(() => mixTemperature_C([])).toThrow(RangeError));
