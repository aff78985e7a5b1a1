import {
  alphaShareLeft,
  degradationRate_per_min,
  isoAlphaShare,
  isomerisationRate_per_min,
  isomerisationRatio,
} from '../../lib/formulas/isomerisation.ts';
import { equivalentBoilMinutesAlong, isoAlphaShareAlong } from '../../lib/formulas/isomerisation-along.ts';
import { utilisationTinseth1997 } from '../../lib/formulas/tinseth.ts';
import { type CaseTable, rows, table } from './case.ts';

const GRAVITIES = [1.03, 1.04, 1.05, 1.06, 1.08, 1.1];
const UTILISATION: readonly (readonly [number, readonly number[]])[] = [
  [5, [0.055, 0.05, 0.046, 0.042, 0.035, 0.029]],
  [10, [0.1, 0.091, 0.084, 0.076, 0.064, 0.053]],
  [15, [0.137, 0.125, 0.114, 0.105, 0.087, 0.073]],
  [30, [0.212, 0.194, 0.177, 0.162, 0.135, 0.113]],
  [60, [0.276, 0.252, 0.231, 0.211, 0.176, 0.147]],
  [90, [0.295, 0.27, 0.247, 0.226, 0.188, 0.157]],
];

const KINETICS = 'Malowicki & Shellhammer 2005, J. Agric. Food Chem. 53:4434';
const KINETICS_RANGE = '90 to 130 °C measured, 0 to 130 °C taken';
const KINETICS_SOURCE = {
  source: `${KINETICS}, rates of the abstract solved apart from this program`,
  provenance: 'opened',
} as const;
const LAST_DIGIT = { tolerance: 0.00006, reason: 'the figures are rounded to 0.0001' } as const;

interface Stay {
  readonly t_C: number;
  readonly minutes: number;
}

/** Temperature, minutes, alpha acids left, iso-alpha acids. */
const STAYS: readonly (readonly [number, number, number, number])[] = [
  [100, 15, 0.8292, 0.1668],
  [100, 30, 0.6875, 0.2976],
  [100, 60, 0.4726, 0.4759],
  [100, 90, 0.3249, 0.5745],
  [98, 60, 0.5318, 0.4305],
  [95, 60, 0.6146, 0.3623],
  [90, 60, 0.7317, 0.2585],
  [90, 20, 0.9011, 0.0977],
  [80, 20, 0.9595, 0.0403],
  [70, 30, 0.977, 0.023],
];

interface Cooling {
  readonly course: 'exponential' | 'linear';
  readonly minutes: number;
  /** Time constant of the exponential course, min. */
  readonly τ_min: number;
}

function temperature({ course, minutes, τ_min }: Cooling): (minute: number) => number {
  if (course === 'exponential') return (minute) => 20 + 80 * Math.exp(-minute / τ_min);
  return (minute) => 100 - (40 * minute) / minutes;
}

const SLOW: Cooling = { course: 'exponential', minutes: 60, τ_min: 30 };

export const tables: readonly CaseTable[] = [
  table({
    name: 'Hop utilisation in the boil',
    formula: 'utilisationTinseth1997',
    publication: 'Tinseth 1997 (from memory)',
    range: 'SG 0.97 to 1.3, 0 to 1000 min',
    unit: 'share',
    practice: '± 20 %',
    compute: ({ gravity, minutes }: { gravity: number; minutes: number }) =>
      utilisationTinseth1997(gravity, minutes),
    cases: rows(
      {
        source: 'Tinseth 1997, evaluated apart from this program',
        provenance: 'from memory',
        tolerance: 0.0006,
        reason: 'the figures are rounded to 0.001; real bitterness is within 20 % of the curve',
      },
      UTILISATION.flatMap(([minutes, shares]) =>
        shares.map((share, i) => [{ gravity: GRAVITIES[i]!, minutes }, share] as const),
      ),
    ),
  }),
  table({
    name: 'Shape of the curve of utilisation: 30 minutes over 60',
    formula: 'utilisationTinseth1997',
    publication: 'Tinseth 1997 (from memory)',
    range: 'SG 0.97 to 1.3, 0 to 1000 min',
    unit: 'ratio',
    compute: (gravity: number) => utilisationTinseth1997(gravity, 30) / utilisationTinseth1997(gravity, 60),
    cases: rows(
      {
        source: 'Tinseth 1997, (1 − e^−1.2)/(1 − e^−2.4)',
        provenance: 'derived',
        tolerance: 0.0006,
        reason: 'rounded to 0.001',
      },
      [[1.05, 0.769]],
    ),
  }),
  table({
    name: 'Alpha acids left in hot wort',
    formula: 'alphaShareLeft',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'share',
    compute: (stay: Stay) => alphaShareLeft(stay),
    cases: rows(
      { ...KINETICS_SOURCE, ...LAST_DIGIT },
      STAYS.map(([t_C, minutes, left]) => [{ t_C, minutes }, left] as const),
    ),
  }),
  table({
    name: 'Iso-alpha acids at a steady temperature',
    formula: 'isoAlphaShare',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'share',
    practice: 'extrapolated below 90 °C',
    compute: (stay: Stay) => isoAlphaShare(stay),
    cases: [
      ...rows(
        { ...KINETICS_SOURCE, ...LAST_DIGIT },
        STAYS.map(([t_C, minutes, , iso]) => [{ t_C, minutes }, iso] as const),
      ),
      ...rows(
        {
          ...KINETICS_SOURCE,
          tolerance: 0.0006,
          reason: 'the largest share there is, reached at 149 minutes, rounded to 0.001',
        },
        [[{ t_C: 100, minutes: 149 }, 0.632]],
      ),
    ],
  }),
  table({
    name: 'Half-life of alpha acids at 100 °C',
    formula: 'isomerisationRate_per_min',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'min',
    compute: (t_C: number) => Math.LN2 / isomerisationRate_per_min(t_C),
    cases: rows({ ...KINETICS_SOURCE, tolerance: 0.06, reason: 'rounded to 0.1 minute' }, [[100, 55.5]]),
  }),
  table({
    name: 'Rate of isomerisation',
    formula: 'isomerisationRate_per_min',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: '1/min',
    compute: isomerisationRate_per_min,
    cases: rows({ ...KINETICS_SOURCE, tolerance: 0.000006, reason: 'rounded to 0.00001' }, [
      [80, 0.00207],
      [90, 0.00521],
      [100, 0.01249],
    ]),
  }),
  table({
    name: 'Rate of isomerisation over that at 100 °C',
    formula: 'isomerisationRatio',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'ratio',
    compute: isomerisationRatio,
    cases: rows(
      { ...KINETICS_SOURCE, tolerance: 0.0008, reason: 'quotients of rates rounded to 0.00001 per minute' },
      [
        [80, 0.00207 / 0.01249],
        [90, 0.00521 / 0.01249],
        [100, 1],
      ],
    ),
  }),
  table({
    name: 'Activation energies, from the rates at 90 and 130 °C',
    formula: 'isomerisationRate_per_min, degradationRate_per_min',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'kJ/mol',
    compute: (reaction: 'isomerisation' | 'degradation') => {
      const rate = reaction === 'isomerisation' ? isomerisationRate_per_min : degradationRate_per_min;
      const gas_kJ_per_molK = 8.314462618e-3;
      return (gas_kJ_per_molK * Math.log(rate(130) / rate(90))) / (1 / 363.15 - 1 / 403.15);
    },
    cases: rows<'isomerisation' | 'degradation'>(
      { source: KINETICS, provenance: 'opened', tolerance: 0.06, reason: 'the paper rounds to 0.1 kJ/mol' },
      [
        ['isomerisation', 98.6],
        ['degradation', 108.0],
      ],
    ),
  }),
  table({
    name: 'Iso-alpha acids while the wort cools',
    formula: 'isoAlphaShareAlong',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'share',
    compute: (cooling: Cooling) =>
      isoAlphaShareAlong({ temperature_C: temperature(cooling), minutes: cooling.minutes }),
    cases: rows<Cooling>({ ...KINETICS_SOURCE, tolerance: 0.000006, reason: 'rounded to 0.00001' }, [
      [SLOW, 0.05917],
      [{ course: 'exponential', minutes: 30, τ_min: 10 }, 0.02027],
      [{ course: 'linear', minutes: 20, τ_min: 0 }, 0.06514],
    ]),
  }),
  table({
    name: 'Minutes at 100 °C that equal a slow cooling',
    formula: 'equivalentBoilMinutesAlong',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'min',
    compute: (cooling: Cooling) =>
      equivalentBoilMinutesAlong({ temperature_C: temperature(cooling), minutes: cooling.minutes }),
    cases: rows({ ...KINETICS_SOURCE, tolerance: 0.06, reason: 'rounded to 0.1 minute' }, [[SLOW, 4.9]]),
  }),
];
