import { STANDARD_ATMOSPHERE_kPa } from '../../lib/formulas/air.ts';
import {
  CO2_DENSITY_g_per_L_vol,
  co2Pressure_kPa_gauge,
  co2Solubility_mol_per_L_atm,
  residualCo2_vol,
} from '../../lib/formulas/co2.ts';
import { co2FromExtract_vol, co2FromSugar_vol, primingSugar_g } from '../../lib/formulas/priming.ts';
import { type CaseTable, rows, table } from './case.ts';

const ambient_kPa = STANDARD_ATMOSPHERE_kPa;
const WEISS = 'Weiss 1974, Mar. Chem. 2:203';
const WEISS_SOURCE = {
  source: `${WEISS}, evaluated apart from this program`,
  provenance: 'coefficients seen in two transcriptions',
} as const;
const PRESSURE_SOURCE = {
  source: `${WEISS} with its virial equation, and IAPWS vapour pressure, solved apart from this program`,
  provenance: 'derived',
} as const;
const PSI_kPa = 6.894757293;

/** °C, K0 by Weiss, K0 by Carroll, residual volumes under 1 atm in all. */
const SOLUBILITY: readonly (readonly [number, number, number, number])[] = [
  [0, 0.07758, 0.07569, 1.705],
  [5, 0.06408, 0.06346, 1.405],
  [10, 0.05366, 0.05375, 1.173],
  [15, 0.04553, 0.04598, 0.991],
  [20, 0.0391, 0.03972, 0.846],
  [25, 0.03397, 0.03462, 0.729],
  [30, 0.02983, 0.03045, 0.633],
  [35, 0.02646, 0.02702, 0.554],
];

/** Volumes, and gauge bar at 20, 25, 30 and 40 °C. */
const BOTTLES: readonly (readonly [number, readonly number[]])[] = [
  [2, [1.37, 1.73, 2.13, 2.96]],
  [2.5, [1.97, 2.43, 2.91, 3.96]],
  [3, [2.57, 3.12, 3.71, 4.97]],
  [3.5, [3.17, 3.82, 4.51, 5.98]],
  [4, [3.78, 4.53, 5.32, 7.0]],
];
const BOTTLE_C = [20, 25, 30, 40];

/** °C, volumes, gauge psi by water and by a fit for beer (from memory). */
const KEGS: readonly (readonly [number, number, number, number])[] = [
  [4, 2.5, 10.5, 11.5],
  [7, 2.5, 13.5, 14.2],
  [10, 2.0, 10.3, 10.9],
  [20, 2.5, 28.5, 29.1],
  [25, 3.5, 55.4, 56.5],
];

interface Held {
  readonly volumes: number;
  readonly t_C: number;
}

const SOLUBILITY_TABLE = {
  name: 'Solubility of carbon dioxide in water',
  formula: 'co2Solubility_mol_per_L_atm',
  publication: WEISS,
  range: '0 to 40 °C',
  unit: 'mol/(L atm)',
  compute: co2Solubility_mol_per_L_atm,
} as const;
const KEG_TABLE = {
  name: 'Pressure of a keg',
  formula: 'co2Pressure_kPa_gauge',
  publication: WEISS,
  range: '0 to 20 volumes, 0 to 40 °C',
  unit: 'psi',
  practice: '± 1 psi below 12 °C',
  compute: ({ volumes, t_C }: Held) => co2Pressure_kPa_gauge({ volumes, t_C, ambient_kPa }) / PSI_kPa,
} as const;

type Sugar = 'sucrose' | 'glucose' | 'glucose monohydrate';
interface Priming {
  readonly wanted_vol: number;
  readonly sugar: Sugar;
}
/** Four molecules of carbon dioxide (44.0095 g/mol) from one of sucrose, two from one of glucose; molar masses of IUPAC. */
const YIELD_g_per_g: Readonly<Record<Sugar, number>> = {
  sucrose: (4 * 44.0095) / 342.2965,
  glucose: (2 * 44.0095) / 180.1559,
  'glucose monohydrate': (2 * 44.0095) / 198.1712,
};
const STOICHIOMETRY = {
  source: 'molar masses, worked apart from this program',
  provenance: 'derived',
} as const;

export const tables: readonly CaseTable[] = [
  table({
    ...SOLUBILITY_TABLE,
    cases: rows(
      { ...WEISS_SOURCE, tolerance: 0.000006, reason: 'rounded to 0.00001' },
      SOLUBILITY.map(([t_C, weiss]) => [t_C, weiss] as const),
    ),
  }),
  table({
    ...SOLUBILITY_TABLE,
    cases: rows(
      {
        source: 'Carroll 1991 (a review of all measurements)',
        provenance: 'opened',
        tolerance: 0.002,
        reason: 'two correlations, 2.5 % apart at 0 °C and 2 % at 35 °C',
      },
      SOLUBILITY.map(([t_C, , carroll]) => [t_C, carroll] as const),
    ),
  }),
  table({
    name: 'Carbonation left after fermentation',
    formula: 'residualCo2_vol',
    publication: WEISS,
    range: '0 to 40 °C',
    unit: 'volumes',
    practice: '1 to 5 % high: beer is taken as water',
    compute: (t_C: number) => residualCo2_vol({ t_C, ambient_kPa }),
    cases: rows(
      { ...PRESSURE_SOURCE, tolerance: 0.0006, reason: 'rounded to 0.001; beer holds 1 to 5 % less' },
      SOLUBILITY.map(([t_C, , , residual]) => [t_C, residual] as const),
    ),
  }),
  table({
    name: 'Pressure of a full bottle',
    formula: 'co2Pressure_kPa_gauge',
    publication: WEISS,
    range: '0 to 20 volumes, 0 to 40 °C',
    unit: 'bar',
    practice: '± 8 %',
    compute: ({ volumes, t_C }: Held) => co2Pressure_kPa_gauge({ volumes, t_C, ambient_kPa }) / 100,
    cases: rows(
      { ...PRESSURE_SOURCE, tolerance: 0.01, reason: 'rounded to 0.01 bar; in bottles ± 8 %' },
      BOTTLES.flatMap(([volumes, bars]) =>
        bars.map((bar, i) => [{ volumes, t_C: BOTTLE_C[i]! }, bar] as const),
      ),
    ),
  }),
  table({
    ...KEG_TABLE,
    cases: rows(
      { ...PRESSURE_SOURCE, tolerance: 0.06, reason: 'rounded to 0.1 psi' },
      KEGS.map(([t_C, volumes, water]) => [{ volumes, t_C }, water] as const),
    ),
  }),
  table({
    ...KEG_TABLE,
    cases: rows(
      {
        source: 'a fit for beer, 10 p e^(−10.73797 + 2617.25/T) g/L',
        provenance: 'from memory',
        tolerance: 1.2,
        reason: 'beer holds less than water: about 1 psi',
      },
      KEGS.map(([t_C, volumes, , beer]) => [{ volumes, t_C }, beer] as const),
    ),
  }),
  table({
    name: 'Sugar for a volume of gas in a litre',
    formula: 'primingSugar_g',
    publication: 'stoichiometry',
    range: '0 to 20 volumes',
    unit: 'g',
    compute: (sugar: Sugar) =>
      primingSugar_g({ volume_L: 1, missing_vol: 1, co2_g_per_g: YIELD_g_per_g[sugar] }),
    cases: rows<Sugar>({ ...STOICHIOMETRY, tolerance: 0.0006, reason: 'rounded to 0.001 g' }, [
      ['sucrose', 3.844],
      ['glucose', 4.046],
      ['glucose monohydrate', 4.451],
    ]),
  }),
  table({
    name: 'Gas from a weight of sugar in a litre',
    formula: 'co2FromSugar_vol',
    publication: 'stoichiometry',
    range: 'any weight',
    unit: 'volumes',
    compute: ({ sugar, sugar_g }: { sugar: Sugar; sugar_g: number }) =>
      co2FromSugar_vol({ sugar_g, volume_L: 1, co2_g_per_g: YIELD_g_per_g[sugar] }),
    cases: rows<{ sugar: Sugar; sugar_g: number }>(
      { ...STOICHIOMETRY, tolerance: 0.0003, reason: 'the weights are rounded to 0.001 g' },
      [
        [{ sugar: 'sucrose', sugar_g: 3.844 }, 1],
        [{ sugar: 'glucose', sugar_g: 2 * 4.046 }, 2],
        [{ sugar: 'glucose monohydrate', sugar_g: 4.451 }, 1],
      ],
    ),
  }),
  table({
    name: 'Priming sugar for 20 L fermented at 20 °C',
    formula: 'primingSugar_g, residualCo2_vol',
    publication: `stoichiometry; ${WEISS}`,
    range: '0 to 20 volumes, 0 to 40 °C',
    unit: 'g',
    practice: '± 8 %',
    compute: ({ wanted_vol, sugar }: Priming) =>
      primingSugar_g({
        volume_L: 20,
        missing_vol: wanted_vol - residualCo2_vol({ t_C: 20, ambient_kPa }),
        co2_g_per_g: YIELD_g_per_g[sugar],
      }),
    cases: rows<Priming>(
      {
        source: 'stoichiometry and Weiss 1974, worked apart from this program',
        provenance: 'derived',
        tolerance: 0.06,
        reason: 'rounded to 0.1 g; in practice ± 8 %',
      },
      [
        [{ wanted_vol: 2, sugar: 'sucrose' }, 88.7],
        [{ wanted_vol: 2.5, sugar: 'sucrose' }, 127.2],
        [{ wanted_vol: 3, sugar: 'sucrose' }, 165.6],
        [{ wanted_vol: 2, sugar: 'glucose monohydrate' }, 102.7],
        [{ wanted_vol: 2.5, sugar: 'glucose monohydrate' }, 147.2],
        [{ wanted_vol: 3, sugar: 'glucose monohydrate' }, 191.7],
      ],
    ),
  }),
  table({
    name: 'Gas still to come from a point of gravity',
    formula: 'co2FromExtract_vol',
    publication: 'Balling (from memory)',
    range: 'SG 0.97 to 1.3',
    unit: 'volumes',
    practice: '± 8 %',
    compute: co2FromExtract_vol,
    cases: [
      ...rows(
        {
          source: "Balling's stoichiometry, worked apart from this program: about half a volume a point",
          provenance: 'derived',
          tolerance: 0.03,
          reason: 'the figure is rounded to 0.5',
        },
        [
          [{ from_SG: 1.011, to_SG: 1.01 }, 0.5],
          [{ from_SG: 1.015, to_SG: 1.014 }, 0.5],
          [{ from_SG: 0.999, to_SG: 0.998 }, 0.5],
          [{ from_SG: 1.01, to_SG: 1.012 }, 0],
        ],
      ),
      ...rows(
        {
          source:
            'by hand with °P 10.004 and 2.568: 7.436 × 0.8192 / 100 × 1038.13 g/L × 0.9565 / 2.0665 / 1.9768 g/L',
          provenance: 'derived',
          tolerance: 0.005,
          reason: 'the two °P are rounded to 0.001, which is 0.002 volumes',
        },
        [[{ from_SG: 1.04, to_SG: 1.01 }, 14.807]],
      ),
    ],
  }),
  table({
    name: 'Weight of a volume of carbon dioxide',
    formula: 'CO2_DENSITY_g_per_L_vol',
    publication: 'density of the real gas at 0 °C and 1 atm',
    range: 'a constant',
    unit: 'L/mol',
    compute: (molarMass: number) => molarMass / CO2_DENSITY_g_per_L_vol,
    cases: rows(
      {
        source: 'molar volume of real carbon dioxide, 22.263 L/mol',
        provenance: 'from memory',
        tolerance: 0.0006,
        reason: 'rounded to 0.001',
      },
      [[44.0095, 22.263]],
    ),
  }),
];
