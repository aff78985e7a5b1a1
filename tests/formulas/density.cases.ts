import { sucroseDensity_kgm3, sucroseDensity20_kgm3, waterDensity_kgm3 } from '../../lib/formulas/density.ts';
import { type CaseTable, rows, table } from './case.ts';

const SPS_4 = 'ICUMSA SPS-4 (density of aqueous sucrose), summed up apart from this program';

export const tables: readonly CaseTable[] = [
  table({
    name: 'Density of water',
    formula: 'waterDensity_kgm3',
    publication: 'Kell 1975, J. Chem. Eng. Data 20:97, with the coefficients of ICUMSA SPS-4',
    range: '0 to 105 °C',
    unit: 'kg/m³',
    practice: 'nothing a brewer could see',
    compute: waterDensity_kgm3,
    cases: rows(
      {
        source: 'IAPWS-95 at 1 atm, by an independent implementation',
        provenance: 'derived',
        tolerance: 0.02,
        reason:
          'Kell 1975 and IAPWS-95 agree to 0.015; the set keeps the older absolute density, 0.005 lower',
      },
      [
        [4, 999.975],
        [15.556, 999.017],
        [20, 998.207],
        [25, 997.048],
        [40, 992.216],
        [60, 983.196],
        [80, 971.79],
      ],
    ),
  }),
  table({
    name: 'Density of wort at 20 °C',
    formula: 'sucroseDensity20_kgm3',
    publication: 'ICUMSA SPS-4',
    range: '−8 to 85 °P',
    unit: 'kg/m³',
    compute: sucroseDensity20_kgm3,
    cases: rows(
      {
        source: SPS_4,
        provenance: 'coefficients seen in two transcriptions',
        tolerance: 0.0006,
        reason: 'the figures are rounded to 0.001',
      },
      [
        [1, 1002.068],
        [5, 1017.805],
        [10, 1038.115],
        [12, 1046.444],
        [15, 1059.162],
        [20, 1080.977],
        [25, 1103.591],
        [30, 1127.032],
      ],
    ),
  }),
  table({
    name: 'Density of wort, hot or cold',
    formula: 'sucroseDensity_kgm3',
    publication: 'ICUMSA SPS-4; above 80 °C in the ratio in which water expands',
    range: '−8 to 85 °P, 0 to 105 °C',
    unit: 'kg/m³',
    compute: ({ plato_P, t_C }: { plato_P: number; t_C: number }) => sucroseDensity_kgm3(plato_P, t_C),
    cases: rows(
      {
        source: SPS_4,
        provenance: 'coefficients seen in two transcriptions',
        tolerance: 0.0006,
        reason: 'at 20 °C both paths must give the figure of the fast one, rounded to 0.001',
      },
      [
        [{ plato_P: 1, t_C: 20 }, 1002.068],
        [{ plato_P: 12, t_C: 20 }, 1046.444],
        [{ plato_P: 30, t_C: 20 }, 1127.032],
      ],
    ),
  }),
];
