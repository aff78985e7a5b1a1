import { specificGravityFromPlato } from '../../lib/formulas/gravity.ts';
import { extractIn_kg, platoOf, volumeOf, type Wort, waterForVolume } from '../../lib/formulas/wort.ts';
import { type CaseTable, rows, table } from './case.ts';

const SOURCE = {
  source: 'conservation of mass and of extract with ICUMSA SPS-4, worked apart from this program',
  provenance: 'derived',
} as const;
const ABOUT = { publication: 'conservation of mass and of extract', range: '−8 to 85 °P' } as const;

interface Litres {
  readonly wort_L: number;
  readonly plato_P: number;
  /** Poured in, or below 0 boiled away. */
  readonly water_L: number;
}

function mixed({ wort_L, plato_P, water_L }: Litres): Wort {
  const extract_kg = extractIn_kg(wort_L, specificGravityFromPlato(plato_P));
  return { extract_kg, water_kg: waterForVolume(extract_kg, wort_L) + waterForVolume(0, water_L) };
}

const TOP_UP: Litres = { wort_L: 6, plato_P: 20, water_L: 13 };
const BOIL: Litres = { wort_L: 10, plato_P: 10, water_L: -2 };
const TO_0_001 = { tolerance: 0.0006, reason: 'rounded to 0.001' } as const;
const TO_0_00001 = { tolerance: 0.000006, reason: 'rounded to 0.00001' } as const;

export const tables: readonly CaseTable[] = [
  table({
    ...ABOUT,
    name: 'Extract after topping up',
    formula: 'platoOf',
    unit: '°P',
    compute: (mix: Litres) => platoOf(mixed(mix)),
    cases: rows({ ...SOURCE, ...TO_0_001 }, [[TOP_UP, 6.665]]),
  }),
  table({
    ...ABOUT,
    name: 'Gravity after topping up',
    formula: 'platoOf, specificGravityFromPlato',
    unit: 'SG',
    practice: 'as good as the volumes and weights',
    compute: (mix: Litres) => specificGravityFromPlato(platoOf(mixed(mix))),
    cases: rows({ ...SOURCE, ...TO_0_00001 }, [[TOP_UP, 1.02633]]),
  }),
  table({
    ...ABOUT,
    name: 'Volume after topping up',
    formula: 'volumeOf',
    unit: 'L',
    compute: (mix: Litres) => volumeOf(mixed(mix)),
    cases: rows({ ...SOURCE, ...TO_0_001 }, [[TOP_UP, 18.997]]),
  }),
  table({
    ...ABOUT,
    name: 'Extract after boiling down',
    formula: 'platoOf',
    unit: '°P',
    compute: (boil: Litres) => platoOf(mixed(boil)),
    cases: rows({ ...SOURCE, ...TO_0_001 }, [[BOIL, 12.381]]),
  }),
  table({
    ...ABOUT,
    name: 'Gravity after boiling down',
    formula: 'platoOf, specificGravityFromPlato',
    unit: 'SG',
    compute: (boil: Litres) => specificGravityFromPlato(platoOf(mixed(boil))),
    cases: rows({ ...SOURCE, ...TO_0_00001 }, [[BOIL, 1.04993]]),
  }),
];
