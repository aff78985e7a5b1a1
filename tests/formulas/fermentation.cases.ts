import { alcoholByMassBalling_percent, alcoholByVolume_percent } from '../../lib/formulas/alcohol.ts';
import {
  apparentAttenuation,
  apparentExtractBalling,
  realAttenuation,
  realExtractBalling,
} from '../../lib/formulas/attenuation.ts';
import { energyAsbc_kcal_per_L } from '../../lib/formulas/energy.ts';
import { platoFromSpecificGravity } from '../../lib/formulas/gravity.ts';
import { type Case, type CaseTable, rows, table } from './case.ts';

interface Beer {
  readonly OG: number;
  readonly FG: number;
}

/** OG, FG; real extract in °P, alcohol by mass and by volume, kcal per 100 mL, apparent and real attenuation in %. */
const BEERS = [
  [1.04, 1.01, 3.913, 3.108, 3.97, 37.06, 74.3, 60.9],
  [1.05, 1.01, 4.345, 4.163, 5.318, 46.16, 79.3, 65.0],
  [1.065, 1.015, 6.019, 5.216, 6.696, 60.56, 75.9, 62.2],
  [1.09, 1.02, 8.072, 7.357, 9.49, 84.3, 76.4, 62.6],
] as const;
const COLUMNS = {
  real_P: 2,
  byMass: 3,
  byVolume: 4,
  kcal_per_100mL: 5,
  apparent_percent: 6,
  realAttenuation_percent: 7,
} as const;

const BALLING = {
  source:
    'Balling as in Cutaia, Reid & Speers 2009, J. Inst. Brew. 115:318, with °P of ICUMSA SPS-4, worked apart from this program',
  provenance: 'opened',
} as const;
const BALLING_PUBLICATION = 'Balling, in Cutaia, Reid & Speers 2009, J. Inst. Brew. 115:318';

const of = (key: keyof typeof COLUMNS): readonly (readonly [Beer, number])[] =>
  BEERS.map((beer) => [{ OG: beer[0], FG: beer[1] }, beer[COLUMNS[key]]]);

const original = (beer: Beer): number => platoFromSpecificGravity(beer.OG);
const apparent = (beer: Beer): number => platoFromSpecificGravity(beer.FG);
const real = (beer: Beer): number =>
  realExtractBalling({ original_P: original(beer), apparent_P: apparent(beer) });
const byMass = (beer: Beer): number =>
  alcoholByMassBalling_percent({ original_P: original(beer), real_P: real(beer) });

/** OIML R 22: percent by mass and density of the mixture at 20 °C; percent by volume follows from the definition. */
const OIML: readonly (readonly [number, number])[] = [
  [4, 991.025],
  [5, 989.378],
  [6, 987.782],
  [10, 981.848],
];
const oimlCases: readonly Case<{ mass_percent: number; density_kgm3: number }>[] = OIML.map(
  ([mass_percent, density_kgm3]) => ({
    input: { mass_percent, density_kgm3 },
    expected: (mass_percent * density_kgm3) / 789.24,
    tolerance: 0.001,
    source: 'OIML R 22, densities of ethanol and water at 20 °C',
    provenance: 'coefficients seen in two transcriptions',
    reason: '0.7907 is 789.24/998.20 rounded to four digits',
  }),
);

export const tables: readonly CaseTable[] = [
  table({
    name: 'Real extract',
    formula: 'realExtractBalling',
    publication: BALLING_PUBLICATION,
    range: '−8 to 85 °P',
    unit: '°P',
    compute: real,
    cases: rows({ ...BALLING, tolerance: 0.0007, reason: 'the figures are rounded to 0.001' }, of('real_P')),
  }),
  table({
    name: 'Apparent extract',
    formula: 'apparentExtractBalling',
    publication: `${BALLING_PUBLICATION}, solved backwards`,
    range: '−8 to 85 °P',
    unit: '°P',
    compute: apparentExtractBalling,
    cases: rows(
      { ...BALLING, tolerance: 0.0013, reason: 'rounding of the three figures to 0.001, divided by 0.8192' },
      [
        [{ original_P: 10.004, real_P: 3.913 }, 2.568],
        [{ original_P: 12.397, real_P: 4.345 }, 2.568],
        [{ original_P: 15.913, real_P: 6.019 }, 3.835],
        [{ original_P: 21.581, real_P: 8.072 }, 5.091],
      ],
    ),
  }),
  table({
    name: 'Apparent extract from gravity',
    formula: 'platoFromSpecificGravity',
    publication: 'ICUMSA SPS-4, solved backwards',
    range: 'SG 0.970 to 1.448',
    unit: '°P',
    compute: platoFromSpecificGravity,
    cases: rows(
      {
        source: 'ICUMSA SPS-4, summed up apart from this program',
        provenance: 'derived',
        tolerance: 0.0006,
        reason: 'the figures are rounded to 0.001',
      },
      [
        [1.015, 3.835],
        [1.02, 5.091],
      ],
    ),
  }),
  table({
    name: 'Alcohol by mass',
    formula: 'alcoholByMassBalling_percent',
    publication: BALLING_PUBLICATION,
    range: '0 to 85 °P',
    unit: '% by mass',
    compute: byMass,
    cases: rows({ ...BALLING, tolerance: 0.0007, reason: 'the figures are rounded to 0.001' }, of('byMass')),
  }),
  table({
    name: 'Alcohol by volume',
    formula: 'alcoholByVolume_percent',
    publication: 'OIML R 22 (density of ethanol), after Balling',
    range: '−5 to 100 % by mass',
    unit: '% by volume',
    practice: '± 0.12 % to 1.050, ± 0.25 % at 1.100',
    compute: (beer: Beer) =>
      alcoholByVolume_percent({ alcoholByMass_percent: byMass(beer), gravity_SG: beer.FG }),
    cases: rows(
      {
        ...BALLING,
        tolerance: 0.0012,
        reason: 'rounded to 0.001; 0.7907 or 789.24/998.207 differ by 0.0005',
      },
      of('byVolume'),
    ),
  }),
  table({
    name: 'Alcohol by volume of a plain mixture',
    formula: 'alcoholByVolume_percent',
    publication: 'OIML R 22 (density of ethanol)',
    range: '−5 to 100 % by mass',
    unit: '% by volume',
    compute: ({ mass_percent, density_kgm3 }: { mass_percent: number; density_kgm3: number }) =>
      alcoholByVolume_percent({ alcoholByMass_percent: mass_percent, gravity_SG: density_kgm3 / 998.207 }),
    cases: oimlCases,
  }),
  table({
    name: 'Food energy',
    formula: 'energyAsbc_kcal_per_L',
    publication: 'ASBC Methods of Analysis, Beer-33',
    range: 'beer to 30 % by mass',
    unit: 'kcal/L',
    practice: '± 3 %',
    compute: (beer: Beer) =>
      energyAsbc_kcal_per_L({
        alcoholByMass_percent: byMass(beer),
        real_P: real(beer),
        gravity_SG: beer.FG,
      }),
    cases: rows(
      {
        source: 'ASBC Beer-33 as given in the Oxford Companion to Beer, worked apart from this program',
        provenance: 'opened',
        tolerance: 0.1,
        reason: 'the figures are rounded to 0.01 kcal per 100 mL; the relation is good to 3 %',
      },
      of('kcal_per_100mL').map(([beer, kcal]) => [beer, kcal * 10] as const),
    ),
  }),
  table({
    name: 'Apparent attenuation',
    formula: 'apparentAttenuation',
    publication: 'definition',
    range: 'above 0 to 85 °P',
    unit: '%',
    compute: (beer: Beer) =>
      100 * apparentAttenuation({ original_P: original(beer), apparent_P: apparent(beer) }),
    cases: rows(
      { ...BALLING, tolerance: 0.06, reason: 'the figures are rounded to 0.1' },
      of('apparent_percent'),
    ),
  }),
  table({
    name: 'Real attenuation',
    formula: 'realAttenuation',
    publication: 'definition, after Balling',
    range: 'above 0 to 85 °P',
    unit: '%',
    compute: (beer: Beer) => 100 * realAttenuation({ original_P: original(beer), real_P: real(beer) }),
    cases: rows(
      { ...BALLING, tolerance: 0.06, reason: 'the figures are rounded to 0.1' },
      of('realAttenuation_percent'),
    ),
  }),
];
