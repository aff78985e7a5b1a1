import { heatingTime_min, wortHeat_kJ_per_kg, wortHeatCapacity_kJ_per_kgK } from '../../lib/formulas/heat.ts';
import { iceMass_kg } from '../../lib/formulas/ice.ts';
import {
  mixTemperature_C,
  temperatureForMix_C,
  type WortPart,
  waterTemperatureForGrain,
} from '../../lib/formulas/mixing.ts';
import { type CaseTable, rows, table } from './case.ts';

interface Wort {
  readonly plato_P: number;
  readonly t_C: number;
}
interface Heating {
  readonly mass_kg: number;
  readonly from_C: number;
  readonly to_C: number;
  readonly power_kW: number;
}
interface Steep {
  readonly water_kg: number;
  readonly water_C: number;
  readonly grain_kg: number;
  readonly grain_C: number;
}

const CAPACITY = {
  name: 'Heat capacity of wort',
  formula: 'wortHeatCapacity_kJ_per_kgK',
  publication: 'a formula of sugar technology (one transcription seen, from memory)',
  range: '−8 to 85 °P, −5 to 110 °C',
  unit: 'kJ/(kg K)',
  compute: ({ plato_P, t_C }: Wort) => wortHeatCapacity_kJ_per_kgK(plato_P, t_C),
} as const;

/** Wort, and what the formula and what Choi & Okos 1986 give. */
const CAPACITIES: readonly (readonly [Wort, number, number])[] = [
  [{ plato_P: 5, t_C: 20 }, 4.069, 4.047],
  [{ plato_P: 10, t_C: 20 }, 3.951, 3.917],
  [{ plato_P: 12, t_C: 60 }, 3.94, 3.885],
  [{ plato_P: 20, t_C: 20 }, 3.715, 3.658],
];

const BALANCE = { source: 'energy balance, worked apart from this program', provenance: 'derived' } as const;

const STEEPS: readonly (readonly [Steep, number])[] = [
  [{ water_kg: 10, water_C: 70, grain_kg: 0.5, grain_C: 20 }, 69.0],
  [{ water_kg: 4, water_C: 70, grain_kg: 0.5, grain_C: 20 }, 67.6],
  [{ water_kg: 12.5, water_C: 72, grain_kg: 5, grain_C: 20 }, 64.7],
];

export const tables: readonly CaseTable[] = [
  table({
    ...CAPACITY,
    cases: rows(
      {
        source: 'the same formula, evaluated apart from this program',
        provenance: 'from memory',
        tolerance: 0.0006,
        reason: 'rounded to 0.001',
      },
      CAPACITIES.map(([wort, formula]) => [wort, formula] as const),
    ),
  }),
  table({
    ...CAPACITY,
    cases: rows(
      {
        source: 'Choi & Okos 1986, from the composition',
        provenance: 'opened',
        tolerance: 0.11,
        reason: '3 %: two models of the heat capacity of a solution',
      },
      CAPACITIES.map(([wort, , choiOkos]) => [wort, choiOkos] as const),
    ),
  }),
  table({
    name: 'Time to heat water',
    formula: 'heatingTime_min',
    publication: 'energy over power, heat capacity of water 4.1868 kJ/(kg K)',
    range: '0 to 1e6 kJ',
    unit: 'min',
    practice: 'as good as the known power',
    compute: ({ mass_kg, from_C, to_C, power_kW }: Heating) =>
      heatingTime_min({
        energy_kJ: mass_kg * (wortHeat_kJ_per_kg(0, to_C) - wortHeat_kJ_per_kg(0, from_C)),
        power_kW,
      }),
    cases: rows(
      {
        source: 'enthalpies of IAPWS-IF97, by an independent implementation',
        provenance: 'derived',
        tolerance: 0.02,
        reason: 'a constant heat capacity is within 0.15 % of the enthalpies over such a range',
      },
      [
        [{ mass_kg: 10, from_C: 20, to_C: 99, power_kW: 2 }, 27.57],
        [{ mass_kg: 5, from_C: 18, to_C: 70, power_kW: 1.5 }, 12.08],
      ],
    ),
  }),
  table({
    name: 'Temperature of the water for grain',
    formula: 'waterTemperatureForGrain',
    publication: 'conservation of energy, dry malt 1.7 ± 0.1 kJ/(kg K)',
    range: '0 to 100 °C',
    unit: '°C',
    practice: '± 0.4 °C, besides losses to the pot',
    compute: waterTemperatureForGrain,
    cases: rows(
      { ...BALANCE, tolerance: 0.1, reason: 'the mix is rounded to 0.1 °C' },
      STEEPS.map(
        ([{ water_kg, water_C, grain_kg, grain_C }, target_C]) =>
          [{ water_kg, grain_kg, grain_C, target_C, grainHeatCapacity_kJ_per_kgK: 1.7 }, water_C] as const,
      ),
    ),
  }),
  table({
    name: 'Ice to chill wort',
    formula: 'iceMass_kg',
    publication: 'conservation of energy, IAPWS-06',
    range: '0 to 110 °C',
    unit: 'kg',
    practice: '± 5 %, before the share of the cold that a bath wastes',
    compute: iceMass_kg,
    cases: rows(
      { ...BALANCE, tolerance: 0.02, reason: 'rounded to 0.01 kg; heat capacities of wort differ by 2 %' },
      [
        [{ wort_kg: 10, plato_P: 12, from_C: 70, to_C: 20, ice_C: 0 }, 4.71],
        [{ wort_kg: 10, plato_P: 12, from_C: 70, to_C: 20, ice_C: -18 }, 4.33],
        [{ wort_kg: 5, plato_P: 15, from_C: 95, to_C: 30, ice_C: 0 }, 2.75],
      ],
    ),
  }),
  table({
    name: 'Temperature of wort topped up with water',
    formula: 'mixTemperature_C',
    publication: 'conservation of energy',
    range: '−5 to 110 °C',
    unit: '°C',
    practice: '± 0.6 °C',
    compute: (parts: readonly WortPart[]) => mixTemperature_C(parts),
    cases: rows(
      { ...BALANCE, tolerance: 0.1, reason: 'rounded to 0.1; heat capacities of wort move it by 0.6' },
      [
        [
          [
            { mass_kg: 6, plato_P: 15, t_C: 90 },
            { mass_kg: 13, plato_P: 0, t_C: 10 },
          ],
          34.0,
        ],
      ],
    ),
  }),
  table({
    name: 'Temperature of the top-up water for a mix',
    formula: 'temperatureForMix_C',
    publication: 'conservation of energy',
    range: '−5 to 110 °C',
    unit: '°C',
    compute: (target_C: number) =>
      temperatureForMix_C({
        mass_kg: 13,
        plato_P: 0,
        target_C,
        other: { mass_kg: 6, plato_P: 15, t_C: 90 },
      }),
    cases: rows(
      { ...BALANCE, tolerance: 0.15, reason: 'the mix is rounded to 0.1 °C, times 19 kg over 13' },
      [[34.0, 10]],
    ),
  }),
];
