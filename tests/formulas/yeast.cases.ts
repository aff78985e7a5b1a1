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
];
