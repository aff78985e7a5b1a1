import { thermalVolumeRatio } from '../../lib/formulas/shrinkage.ts';
import { type CaseTable, rows, table } from './case.ts';

const WATER: readonly (readonly [number, number])[] = [
  [60, 1.5],
  [80, 2.65],
  [95, 3.64],
  [100, 3.99],
];

export const tables: readonly CaseTable[] = [
  table({
    name: 'Shrinkage on cooling to 20 °C',
    formula: 'thermalVolumeRatio',
    publication: 'ICUMSA SPS-4; above 80 °C in the ratio in which water expands',
    range: '−8 to 85 °P, 0 to 105 °C',
    unit: '%',
    practice: '± 0.1 % of the volume',
    compute: ({ plato_P, from_C }: { plato_P: number; from_C: number }) =>
      100 * (1 - thermalVolumeRatio({ plato_P, from_C, to_C: 20 })),
    cases: [
      ...rows(
        {
          source: 'IAPWS-95, water at 1 atm, by an independent implementation',
          provenance: 'derived',
          tolerance: 0.006,
          reason: 'rounded to 0.01 %',
        },
        WATER.map(([from_C, percent]) => [{ plato_P: 0, from_C }, percent] as const),
      ),
      ...rows(
        {
          source: 'IAPWS-95, water at 1 atm, which wort of 12 °P follows within 0.07 %',
          provenance: 'derived',
          tolerance: 0.075,
          reason: 'the 0.07 by which wort and water differ, and rounding to 0.01',
        },
        WATER.map(([from_C, percent]) => [{ plato_P: 12, from_C }, percent] as const),
      ),
    ],
  }),
];
