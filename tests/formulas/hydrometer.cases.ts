import { correctHydrometer, hydrometerReading } from '../../lib/formulas/hydrometer.ts';
import { type CaseTable, rows, table } from './case.ts';

const PUBLICATION = "Archimedes' principle, ICUMSA SPS-4, glass of ISO 1768:1975";
const RANGE = '0 to 80 °C';
const SOURCE = {
  source:
    "Archimedes' principle with ICUMSA SPS-4 and glass of 25e-6 per K (ISO 1768:1975), solved apart from this program",
  provenance: 'derived',
  tolerance: 0.00001,
  reason:
    'the figures are rounded to 0.00001; what the physics leaves open is 0.0003 at room temperature, 0.001 at 60 °C',
} as const;

interface Sample {
  readonly SG: number;
  readonly sample_C: number;
  readonly calibrated_C: number;
}

/** Reading, temperature of the sample, temperature the hydrometer is made for, and the true gravity 20/20. */
const POINTS: readonly (readonly [number, number, number, number])[] = [
  [1.04, 10, 20, 1.03825],
  [1.04, 25, 20, 1.04126],
  [1.04, 30, 20, 1.04275],
  [1.04, 40, 20, 1.04633],
  [1.04, 60, 20, 1.05562],
  [1.07, 25, 20, 1.07142],
  [1.05, 20, 15.556, 1.05074],
  [1.05, 30, 15.556, 1.05359],
];

export const tables: readonly CaseTable[] = [
  table({
    name: 'Hydrometer reading, corrected for temperature',
    formula: 'correctHydrometer',
    publication: PUBLICATION,
    range: RANGE,
    unit: 'SG',
    practice: '± 0.0003 at 10 to 25 °C, ± 0.001 at 60 °C, besides the instrument itself',
    compute: ({ SG, sample_C, calibrated_C }: Sample) =>
      correctHydrometer({ reading_SG: SG, sample_C, calibrated_C }),
    cases: rows(
      SOURCE,
      POINTS.map(([SG, sample_C, calibrated_C, truth]) => [{ SG, sample_C, calibrated_C }, truth] as const),
    ),
  }),
  table({
    name: 'What a hydrometer will show',
    formula: 'hydrometerReading',
    publication: PUBLICATION,
    range: RANGE,
    unit: 'SG',
    compute: ({ SG, sample_C, calibrated_C }: Sample) =>
      hydrometerReading({ sg_2020: SG, sample_C, calibrated_C }),
    cases: rows(
      SOURCE,
      POINTS.map(
        ([SG, sample_C, calibrated_C, truth]) => [{ SG: truth, sample_C, calibrated_C }, SG] as const,
      ),
    ),
  }),
];
