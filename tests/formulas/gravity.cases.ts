import { WATER_20_KGM3 } from '../../lib/formulas/density.ts';
import { platoFromSpecificGravity, specificGravityFromPlato } from '../../lib/formulas/gravity.ts';
import { extractIn_kg, platoOf, waterForVolume } from '../../lib/formulas/wort.ts';
import { type CaseTable, rows, table } from './case.ts';

const SPS_4 = 'ICUMSA SPS-4, summed up apart from this program';
const TO_GRAVITY = {
  formula: 'specificGravityFromPlato',
  publication: 'ICUMSA SPS-4',
  range: '−8 to 85 °P',
  unit: 'SG',
};

/** Apparent gravity when weighed in air of 1.2 kg/m³, in which sample and water both float a little. */
function inAir(plato_P: number): number {
  const buoyancy_kgm3 = 1.2;
  const density_kgm3 = specificGravityFromPlato(plato_P) * WATER_20_KGM3;
  return (density_kgm3 - buoyancy_kgm3) / (WATER_20_KGM3 - buoyancy_kgm3);
}

/** Strength of a litre that holds some grams of extract. */
function litreOf(extract_g: number): number {
  return platoOf({ extract_kg: extract_g / 1000, water_kg: waterForVolume(extract_g / 1000, 1) });
}

export const tables: readonly CaseTable[] = [
  table({
    ...TO_GRAVITY,
    name: 'Specific gravity from °P',
    practice: '± 0.00015, sucrose standing for the sugars of wort',
    compute: specificGravityFromPlato,
    cases: [
      ...rows(
        {
          source: SPS_4,
          provenance: 'coefficients seen in two transcriptions',
          tolerance: 0.000006,
          reason: 'the figures are rounded to 0.00001',
        },
        [
          [1, 1.00387],
          [5, 1.01964],
          [10, 1.03998],
          [12, 1.04833],
          [15, 1.06107],
          [20, 1.08292],
          [25, 1.10558],
          [30, 1.12906],
        ],
      ),
      ...rows(
        {
          source: 'Asadi 2006, Beet-Sugar Handbook, table A.1 (printed)',
          provenance: 'opened',
          tolerance: 0.00006,
          reason: 'the printed table is an older determination, rounded to 0.00001; it agrees to 0.00005',
        },
        [
          [10, 1.03998],
          [12, 1.04831],
          [15, 1.06104],
          [20, 1.08287],
        ],
      ),
    ],
  }),
  table({
    ...TO_GRAVITY,
    name: 'Specific gravity from °P, weighed in air',
    compute: inAir,
    cases: rows(
      {
        source: `${SPS_4}, with the buoyancy of air`,
        provenance: 'derived',
        tolerance: 0.000015,
        reason: 'rounded to 0.00001, and the density of air is taken as 1.2 kg/m³',
      },
      [
        [1, 1.00388],
        [5, 1.01966],
        [10, 1.04003],
        [12, 1.04839],
        [15, 1.06114],
        [20, 1.08302],
        [25, 1.1057],
        [30, 1.12922],
      ],
    ),
  }),
  table({
    name: '°P from specific gravity',
    formula: 'platoFromSpecificGravity',
    publication: 'ICUMSA SPS-4, solved backwards',
    range: 'SG 0.970 to 1.448',
    unit: '°P',
    compute: platoFromSpecificGravity,
    cases: rows(
      {
        source: SPS_4,
        provenance: 'derived',
        tolerance: 0.0006,
        reason: 'the figures are rounded to 0.001; published fits differ by up to 0.04',
      },
      [
        [1.01, 2.568],
        [1.03, 7.569],
        [1.04, 10.004],
        [1.05, 12.397],
        [1.065, 15.913],
        [1.08, 19.341],
        [1.09, 21.581],
      ],
    ),
  }),
  table({
    name: '°P from extract per litre',
    formula: 'waterForVolume, platoOf',
    publication: 'ICUMSA SPS-4, solved for mass per volume',
    range: '0 to 1229 g/L',
    unit: '°P',
    compute: litreOf,
    cases: rows(
      { source: SPS_4, provenance: 'derived', tolerance: 0.0006, reason: 'the figures are rounded to 0.001' },
      [
        [100, 9.646],
        [200, 18.608],
      ],
    ),
  }),
  table({
    name: 'Specific gravity from extract per litre',
    formula: 'waterForVolume, specificGravityFromPlato',
    publication: 'ICUMSA SPS-4, solved for mass per volume',
    range: '0 to 1229 g/L',
    unit: 'SG',
    compute: (extract_g: number) => specificGravityFromPlato(litreOf(extract_g)),
    cases: rows(
      {
        source: `${SPS_4}; the last row is a pound in a US gallon`,
        provenance: 'derived',
        tolerance: 0.000006,
        reason: 'the figures are rounded to 0.00001',
      },
      [
        [100, 1.03852],
        [200, 1.07676],
        [119.826, 1.04613],
      ],
    ),
  }),
  table({
    name: 'Extract in a litre of a gravity',
    formula: 'extractIn_kg',
    publication: 'ICUMSA SPS-4',
    range: 'SG 0.970 to 1.448',
    unit: 'g',
    compute: (gravity: number) => 1000 * extractIn_kg(1, gravity),
    cases: rows(
      {
        source: `${SPS_4}; the last row is a pound in a US gallon`,
        provenance: 'derived',
        tolerance: 0.02,
        reason: 'the gravities are rounded to 0.00001, which is 0.013 g',
      },
      [
        [1.03852, 100],
        [1.07676, 200],
        [1.04613, 119.826],
      ],
    ),
  }),
];
