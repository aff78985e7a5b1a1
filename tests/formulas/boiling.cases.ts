import { airPressure_kPa } from '../../lib/formulas/air.ts';
import { boilingPoint_C } from '../../lib/formulas/boiling-point.ts';
import { saturationTemperature_C, waterVapourPressure_kPa } from '../../lib/formulas/water-vapour.ts';
import { type CaseTable, rows, table } from './case.ts';

const PSYCHROLIB = {
  source: 'psychrolib 1.1.1 (npm), run apart from this program',
  provenance: 'derived',
} as const;

export const tables: readonly CaseTable[] = [
  table({
    name: 'Air pressure at an altitude',
    formula: 'airPressure_kPa',
    publication: 'ISA, ISO 2533:1975 (from memory)',
    range: '−500 to 11,000 m',
    unit: 'kPa',
    compute: airPressure_kPa,
    cases: rows(
      {
        ...PSYCHROLIB,
        tolerance: 0.001,
        reason: 'psychrolib rounds the exponent and the ratio of constants; they differ in the sixth digit',
      },
      [
        [0, 101.325],
        [1600, 83.52346],
      ],
    ),
  }),
  table({
    name: 'Boiling point of water at an altitude',
    formula: 'boilingPoint_C',
    publication: 'ISA and IAPWS-IF97, region 4',
    range: '−500 to 11,000 m',
    unit: '°C',
    practice: '± 0.5 °C with the weather',
    compute: boilingPoint_C,
    cases: rows(
      {
        source: 'ISA pressure into IAPWS-IF97 saturation, by an independent implementation',
        provenance: 'derived',
        tolerance: 0.0006,
        reason: 'rounded to 0.001 °C; the weather moves the boiling point by 0.5 °C',
      },
      [
        [0, 99.974],
        [500, 98.312],
        [1000, 96.649],
        [1500, 94.983],
        [2000, 93.315],
        [2500, 91.645],
        [3000, 89.972],
      ],
    ),
  }),
  table({
    name: 'Vapour pressure of water',
    formula: 'waterVapourPressure_kPa',
    publication: 'IAPWS-IF97 (2007), equation 30',
    range: '0 to 150 °C',
    unit: 'kPa',
    compute: waterVapourPressure_kPa,
    cases: [
      ...rows(
        {
          source: 'IAPWS-IF97 (2007), table 35, at 300 K',
          provenance: 'from memory',
          tolerance: 1e-8,
          reason: 'the table prints nine digits',
        },
        [[26.85, 3.53658941]],
      ),
      ...rows({ ...PSYCHROLIB, tolerance: 0.05, reason: 'psychrolib uses another equation, to 0.05 %' }, [
        [94.65, 83.5235],
      ]),
    ],
  }),
  table({
    name: 'Boiling temperature of water under a pressure',
    formula: 'saturationTemperature_C',
    publication: 'IAPWS-IF97 (2007), equation 31',
    range: '0.62 to 470 kPa',
    unit: '°C',
    compute: saturationTemperature_C,
    cases: rows(
      {
        source: 'IAPWS-IF97 (2007), table 36, at 0.1 MPa: 372.755919 K',
        provenance: 'from memory',
        tolerance: 2e-6,
        reason: 'the table prints nine digits',
      },
      [[100, 99.605919]],
    ),
  }),
];
