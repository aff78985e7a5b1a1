import { ebcFromSrm, lovibondFromEbcMalt, mcu, srmFromEbc, srmMorey } from '../../lib/formulas/colour.ts';
import { beerSwatch, beerTristimulus } from '../../lib/formulas/swatch.ts';
import { type CaseTable, rows, table } from './case.ts';

interface Channel {
  readonly srm: number;
  readonly path_cm: number;
  readonly channel: 'r' | 'g' | 'b';
}
interface Axis {
  readonly srm: number;
  readonly axis: 'x' | 'y' | 'z';
}

const SPECTRUM = {
  source:
    'the same spectrum summed from 380 to 780 nm in steps of 5 nm over the tables of CIE 015, apart from this program',
  provenance: 'from memory',
} as const;
const PUBLICATION = 'deLange (average spectrum, from memory), CIE 015, IEC 61966-2-1';
const RANGE = '0 to 200 SRM, 0 to 50 cm';

/** SRM, path in cm, red, green, blue. */
const SWATCHES: readonly (readonly [number, number, number, number, number])[] = [
  [2, 5, 244, 209, 128],
  [4, 5, 231, 170, 49],
  [6, 5, 217, 138, 0],
  [10, 5, 186, 91, 0],
  [15, 5, 153, 52, 0],
  [20, 5, 125, 25, 0],
  [30, 5, 84, 0, 0],
  [40, 5, 57, 0, 0],
  [4, 1, 251, 236, 195],
  [10, 1, 244, 209, 128],
  [20, 1, 231, 170, 49],
  [40, 1, 201, 112, 0],
];

/** SRM at 5 cm, X, Y, Z. */
const TRISTIMULUS: readonly (readonly [number, number, number, number])[] = [
  [2, 0.6419, 0.6666, 0.2979],
  [4, 0.4804, 0.4615, 0.0924],
  [6, 0.3739, 0.3288, 0.032],
  [10, 0.2376, 0.1783, 0.0051],
  [15, 0.1412, 0.0911, 0.0008],
  [20, 0.0871, 0.0502, 0.0002],
  [30, 0.036, 0.0178, 0],
  [40, 0.0162, 0.0073, 0],
];

export const tables: readonly CaseTable[] = [
  table({
    name: 'Colour of beer from its malts',
    formula: 'srmMorey',
    publication: 'Morey (from memory)',
    range: '0 to 5000 MCU',
    unit: 'SRM',
    practice: '± 20 %, not less than 2 SRM',
    compute: srmMorey,
    cases: rows(
      {
        source: 'Morey, evaluated apart from this program',
        provenance: 'from memory',
        tolerance: 0.0006,
        reason: 'rounded to 0.001; the fit itself is good to about 20 %',
      },
      [
        [2, 2.401],
        [5, 4.5],
        [10, 7.24],
        [20, 11.647],
        [40, 18.736],
      ],
    ),
  }),
  table({
    name: 'EBC from SRM',
    formula: 'ebcFromSrm',
    publication: 'SRM = 12.7 A430, EBC = 25 A430',
    range: '0 to 5000',
    unit: 'EBC',
    compute: ebcFromSrm,
    cases: rows(
      {
        source: 'ASBC and EBC definitions of colour: 25/12.7',
        provenance: 'opened',
        tolerance: 0.00006,
        reason: 'the ratio is rounded to 0.0001',
      },
      [[1, 1.9685]],
    ),
  }),
  table({
    name: 'SRM from EBC',
    formula: 'srmFromEbc',
    publication: 'SRM = 12.7 A430, EBC = 25 A430',
    range: '0 to 5000',
    unit: 'SRM',
    compute: srmFromEbc,
    cases: rows(
      {
        source: 'ASBC and EBC definitions of colour: an absorbance of 1 is 25 EBC and 12.7 SRM',
        provenance: 'opened',
        tolerance: 1e-12,
        reason: 'exact by definition',
      },
      [[25, 12.7]],
    ),
  }),
  table({
    name: 'Malt colour in °L from EBC',
    formula: 'lovibondFromEbcMalt',
    publication: 'common practice, no source',
    range: '0 to 5000 EBC',
    unit: '°L',
    compute: lovibondFromEbcMalt,
    cases: rows(
      {
        source: 'EBC = 2.65 °L − 1.2, by hand: 40 °L is 104.8 EBC',
        provenance: 'common practice, no source',
        tolerance: 1e-9,
        reason: 'a straight line',
      },
      [
        [104.8, 40],
        [0, 1.2 / 2.65],
      ],
    ),
  }),
  table({
    name: 'Malt colour units',
    formula: 'mcu',
    publication: 'pounds × °L per US gallon: common practice, no source',
    range: 'any weight, any volume above 0',
    unit: 'MCU',
    compute: mcu,
    cases: rows(
      {
        source:
          'definition of the unit: 1 lb (0.45359237 kg) of 10 °L in 1 US gal (3.785411784 L); 5 lb in 5 gal',
        provenance: 'common practice, no source',
        tolerance: 1e-9,
        reason: 'exact units',
      },
      [
        [{ weight_kg: 0.45359237, colour_L: 10, volume_L: 3.785411784 }, 10],
        [{ weight_kg: 5 * 0.45359237, colour_L: 10, volume_L: 5 * 3.785411784 }, 10],
      ],
    ),
  }),
  table({
    name: 'Colour on the screen',
    formula: 'beerSwatch',
    publication: PUBLICATION,
    range: RANGE,
    unit: 'steps of 255',
    practice: 'a hint: screens, glasses and beers differ more',
    compute: ({ srm, path_cm, channel }: Channel) => beerSwatch(srm, path_cm)[channel],
    cases: rows(
      {
        ...SPECTRUM,
        tolerance: 3,
        reason: 'half a percent of the scale, unseen; sums in other steps differ by 1',
      },
      SWATCHES.flatMap<readonly [Channel, number]>(([srm, path_cm, r, g, b]) => [
        [{ srm, path_cm, channel: 'r' }, r],
        [{ srm, path_cm, channel: 'g' }, g],
        [{ srm, path_cm, channel: 'b' }, b],
      ]),
    ),
  }),
  table({
    name: 'Tristimulus values of beer in a glass',
    formula: 'beerTristimulus',
    publication: PUBLICATION,
    range: RANGE,
    unit: 'Y of water = 1',
    compute: ({ srm, axis }: Axis) => beerTristimulus(srm, 5)[axis],
    cases: rows(
      {
        ...SPECTRUM,
        tolerance: 0.0003,
        reason: 'rounded to 0.0001; steps of 10 nm against 5 nm differ by 0.0002',
      },
      TRISTIMULUS.flatMap<readonly [Axis, number]>(([srm, x, y, z]) => [
        [{ srm, axis: 'x' }, x],
        [{ srm, axis: 'y' }, y],
        [{ srm, axis: 'z' }, z],
      ]),
    ),
  }),
];
