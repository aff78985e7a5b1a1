import { cellsHaemocytometer_million_per_mL } from '../../lib/formulas/haemocytometer.ts';
import { cellsWanted_billion, PITCHING_RATES } from '../../lib/formulas/yeast.ts';
import { type CaseTable, rows, table } from './case.ts';

export const tables: readonly CaseTable[] = [
  table({
    name: 'Yeast cells for a wort',
    formula: 'cellsWanted_billion, PITCHING_RATES',
    publication: 'common practice, no source',
    range: '0 to 85 °P',
    unit: 'billions',
    practice: 'a habit of the trade, not a measurement',
    compute: (kind: 'ale' | 'lager') =>
      cellsWanted_billion({ volume_L: 20, plato_P: 12, rate_million_per_mL_P: PITCHING_RATES[kind] }),
    cases: rows<'ale' | 'lager'>(
      {
        source: '20 L of 12 °P by hand: 0.75 and 1.5 million cells per mL and °P',
        provenance: 'common practice, no source',
        tolerance: 1e-9,
        reason: 'a product',
      },
      [
        ['ale', 180],
        ['lager', 360],
      ],
    ),
  }),
  table({
    name: 'Yeast counted under a microscope',
    formula: 'cellsHaemocytometer_million_per_mL',
    publication: 'common practice, no source',
    range: 'a chamber 0.1 mm deep',
    unit: 'millions per mL',
    compute: cellsHaemocytometer_million_per_mL,
    cases: rows(
      {
        source: 'a square of 1 mm² holds 1e-4 mL: the count × 10 000 × the dilution, by hand',
        provenance: 'common practice, no source',
        tolerance: 1e-9,
        reason: 'a product',
      },
      [
        [{ count: 1, squares: 1, square_mm2: 1, dilution: 1 }, 0.01],
        [{ count: 250, squares: 1, square_mm2: 1, dilution: 100 }, 250],
        // Five of the twenty-five middle squares, 0.2 mm wide.
        [{ count: 200, squares: 5, square_mm2: 0.04, dilution: 10 }, 100],
      ],
    ),
  }),
];
