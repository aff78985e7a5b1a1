import { coolingNewton } from '../../lib/formulas/cooling.ts';
import {
  equivalentBoilMinutesAlong,
  isoAlphaShare,
  isomerisationRatio,
} from '../../lib/formulas/isomerisation.ts';
import { minutesAt100C, utilisationTinseth1997 } from '../../lib/formulas/tinseth.ts';
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

/** Temperature, minutes, iso-alpha acids. */
const STAYS: readonly (readonly [number, number, number])[] = [
  [100, 15, 0.1668],
  [100, 30, 0.2976],
  [100, 60, 0.4759],
  [100, 90, 0.5745],
  [98, 60, 0.4305],
  [95, 60, 0.3623],
  [90, 60, 0.2585],
  [90, 20, 0.0977],
  [80, 20, 0.0403],
  [70, 30, 0.023],
];

const SLOWLY = (minute: number) => 20 + 80 * Math.exp(-minute / 30);

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
    name: 'Hop utilisation at another boiling point, over that at 100 °C',
    formula: 'minutesAt100C, utilisationTinseth1997',
    publication: `Tinseth 1997 (from memory); ${KINETICS}`,
    range: '60 to 130 °C, 0 to 1000 min',
    unit: 'ratio',
    compute: ({ t_C, minutes }: Stay) =>
      utilisationTinseth1997(1.05, minutesAt100C({ t_C, minutes })) / utilisationTinseth1997(1.05, minutes),
    cases: rows({ ...KINETICS_SOURCE, tolerance: 0.0003, reason: 'quotients of shares rounded to 0.0001' }, [
      [{ t_C: 98, minutes: 60 }, 0.4305 / 0.4759],
      [{ t_C: 95, minutes: 60 }, 0.3623 / 0.4759],
      [{ t_C: 90, minutes: 60 }, 0.2585 / 0.4759],
    ]),
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
        STAYS.map(([t_C, minutes, iso]) => [{ t_C, minutes }, iso] as const),
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
    name: 'Minutes at 100 °C that equal a slow cooling',
    formula: 'equivalentBoilMinutesAlong',
    publication: KINETICS,
    range: KINETICS_RANGE,
    unit: 'min',
    compute: (minutes: number) => equivalentBoilMinutesAlong({ temperature_C: SLOWLY, minutes }),
    cases: rows({ ...KINETICS_SOURCE, tolerance: 0.06, reason: 'rounded to 0.1 minute' }, [[60, 4.9]]),
  }),
  table({
    name: 'Minutes at 100 °C that a chill of 40 minutes to 22 °C is worth',
    formula: 'equivalentBoilMinutesAlong, coolingNewton',
    publication: `${KINETICS}; Newton's law of cooling`,
    range: KINETICS_RANGE,
    unit: 'min',
    compute: (cold_C: number) =>
      equivalentBoilMinutesAlong({
        temperature_C: coolingNewton({ from_C: 99.97, to_C: 22, cold_C, minutes: 40 }),
        minutes: 40,
      }),
    cases: rows({ ...KINETICS_SOURCE, tolerance: 0.06, reason: 'rounded to 0.1 minute' }, [
      [12, 2.7],
      [4, 3.1],
    ]),
  }),
];
