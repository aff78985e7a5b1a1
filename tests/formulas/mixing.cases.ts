import { sucroseDensity20_kgm3 } from '../../lib/formulas/density.ts';
import { specificGravityFromPlato } from '../../lib/formulas/gravity.ts';
import { mixPlato_P, platoAfterEvaporation_P } from '../../lib/formulas/mixing.ts';
import { type CaseTable, rows, table } from './case.ts';

const SOURCE = {
  source: 'conservation of mass and of extract with ICUMSA SPS-4, worked apart from this program',
  provenance: 'derived',
} as const;
const ABOUT = { publication: 'conservation of mass and of extract', range: '−8 to 85 °P' } as const;

interface Litres {
  readonly wort_L: number;
  readonly plato_P: number;
  readonly water_L: number;
}

const massOf = (volume_L: number, plato_P: number): number =>
  (volume_L * sucroseDensity20_kgm3(plato_P)) / 1000;

function diluted({ wort_L, plato_P, water_L }: Litres): number {
  return mixPlato_P([
    { mass_kg: massOf(wort_L, plato_P), plato_P },
    { mass_kg: massOf(water_L, 0), plato_P: 0 },
  ]);
}

function boiledDown({ wort_L, plato_P, water_L }: Litres): number {
  return platoAfterEvaporation_P({
    mass_kg: massOf(wort_L, plato_P),
    plato_P,
    water_kg: massOf(water_L, 0),
  });
}

function dilutedVolume_L(mix: Litres): number {
  const mass_kg = massOf(mix.wort_L, mix.plato_P) + massOf(mix.water_L, 0);
  return (1000 * mass_kg) / sucroseDensity20_kgm3(diluted(mix));
}

const TOP_UP: Litres = { wort_L: 6, plato_P: 20, water_L: 13 };
const BOIL: Litres = { wort_L: 10, plato_P: 10, water_L: 2 };
const TO_0_001 = { tolerance: 0.0006, reason: 'rounded to 0.001' } as const;
const TO_0_00001 = { tolerance: 0.000006, reason: 'rounded to 0.00001' } as const;

export const tables: readonly CaseTable[] = [
  table({
    ...ABOUT,
    name: 'Extract after topping up',
    formula: 'mixPlato_P',
    unit: '°P',
    compute: diluted,
    cases: rows({ ...SOURCE, ...TO_0_001 }, [[TOP_UP, 6.665]]),
  }),
  table({
    ...ABOUT,
    name: 'Gravity after topping up',
    formula: 'mixPlato_P, specificGravityFromPlato',
    unit: 'SG',
    practice: 'as good as the volumes and weights',
    compute: (mix: Litres) => specificGravityFromPlato(diluted(mix)),
    cases: rows({ ...SOURCE, ...TO_0_00001 }, [[TOP_UP, 1.02633]]),
  }),
  table({
    ...ABOUT,
    name: 'Volume after topping up',
    formula: 'mixPlato_P, sucroseDensity20_kgm3',
    unit: 'L',
    compute: dilutedVolume_L,
    cases: rows({ ...SOURCE, ...TO_0_001 }, [[TOP_UP, 18.997]]),
  }),
  table({
    ...ABOUT,
    name: 'Extract after boiling down',
    formula: 'platoAfterEvaporation_P',
    unit: '°P',
    compute: boiledDown,
    cases: rows({ ...SOURCE, ...TO_0_001 }, [[BOIL, 12.381]]),
  }),
  table({
    ...ABOUT,
    name: 'Gravity after boiling down',
    formula: 'platoAfterEvaporation_P, specificGravityFromPlato',
    unit: 'SG',
    compute: (boil: Litres) => specificGravityFromPlato(boiledDown(boil)),
    cases: rows({ ...SOURCE, ...TO_0_00001 }, [[BOIL, 1.04993]]),
  }),
];
