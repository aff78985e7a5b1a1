import { finalGravityTerrill2011, wortPlatoFromBrix } from '../../lib/formulas/refractometer.ts';
import { type CaseTable, rows, table } from './case.ts';

export const tables: readonly CaseTable[] = [
  table({
    name: 'Unfermented wort by refractometer',
    formula: 'wortPlatoFromBrix',
    publication: 'common practice, no source',
    range: '0 to 40 °Bx',
    unit: '°P',
    compute: wortPlatoFromBrix,
    cases: rows(
      {
        source: 'wort factor 1.04 by hand: 10.4 / 1.04',
        provenance: 'common practice, no source',
        tolerance: 1e-9,
        reason: 'a division; the factor itself is met from 1.00 to 1.06',
      },
      [
        [{ brix: 10.4, factor: 1.04 }, 10],
        [{ brix: 15.6, factor: 1.04 }, 15],
        [{ brix: 12, factor: 1 }, 12],
      ],
    ),
  }),
  table({
    name: 'Fermented beer by refractometer',
    formula: 'finalGravityTerrill2011',
    publication: 'Terrill 2011, cubic (from memory)',
    range: '0 to 30 °Bx',
    unit: 'SG',
    practice: '± 0.003, and high in dry beers',
    compute: finalGravityTerrill2011,
    cases: rows(
      {
        source: 'Terrill 2011, cubic, evaluated apart from this program',
        provenance: 'from memory',
        tolerance: 0.000006,
        reason: 'rounded to 0.00001; the regression itself is good to 0.003 only',
      },
      [
        [{ originalBrix: 12, brix: 6, factor: 1 }, 1.01168],
        [{ originalBrix: 15, brix: 7.5, factor: 1 }, 1.01347],
        [{ originalBrix: 18, brix: 9, factor: 1 }, 1.01502],
        [{ originalBrix: 12.48, brix: 6.24, factor: 1.04 }, 1.01168],
      ],
    ),
  }),
];
