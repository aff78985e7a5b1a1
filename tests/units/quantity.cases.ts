import type { Units } from '../../lib/units/dimension.ts';
import type { Dimension } from '../../lib/units/parse/parse.ts';

export interface QuantityRow {
  readonly text: string;
  readonly dimension: Dimension;
  readonly units: Units;
  readonly colourOf?: 'malt' | 'sugar';
  readonly value: number;
  readonly u?: number;
  /** Where the expected value comes from. */
  readonly source: string;
}

const POUND = 'NIST SP 811: 1 lb = 453.59237 g, 1 oz = 28.349523125 g';
const US = 'NIST Handbook 44, App. C: 1 gal = 3.785411784 L';
const IMP = 'UK Weights and Measures Act 1985: 1 gal = 4.54609 L';
const SAME = 'same unit';
const LOVIBOND = '°L = (EBC + 1.2)/2.65 (from memory)';
const SRM = 'EBC = 25/12.7 · SRM';

export const QUANTITY_CASES: readonly QuantityRow[] = [
  { text: '30 g', dimension: 'mass', units: 'metric', value: 30, source: SAME },
  { text: '30g', dimension: 'mass', units: 'metric', value: 30, source: SAME },
  { text: '1.5 Kg', dimension: 'mass', units: 'metric', value: 1500, source: 'SI' },
  { text: '1,5 kg', dimension: 'mass', units: 'metric', value: 1500, source: 'SI' },
  { text: '0,500 kg', dimension: 'mass', units: 'metric', value: 500, source: 'SI' },
  { text: '1.500 kg', dimension: 'mass', units: 'metric', value: 1500, source: 'SI' },
  { text: '.5 kg', dimension: 'mass', units: 'metric', value: 500, source: 'SI' },
  { text: '11 grams', dimension: 'mass', units: 'metric', value: 11, source: SAME },
  { text: '350\u00a0g', dimension: 'mass', units: 'metric', value: 350, source: SAME },
  { text: '350\u202fg.', dimension: 'mass', units: 'metric', value: 350, source: SAME },
  { text: '\uff13\uff10 g', dimension: 'mass', units: 'metric', value: 30, source: SAME },
  { text: '1 lb 4 oz', dimension: 'mass', units: 'metric', value: 566.9904625, source: POUND },
  { text: '1 lb, 4 oz', dimension: 'mass', units: 'us', value: 566.9904625, source: POUND },
  { text: '1lb4oz', dimension: 'mass', units: 'us', value: 566.9904625, source: POUND },
  { text: '1 1/2 lb', dimension: 'mass', units: 'us', value: 680.388555, source: POUND },
  { text: '1½ lb', dimension: 'mass', units: 'us', value: 680.388555, source: POUND },
  { text: '1 1⁄2 lb', dimension: 'mass', units: 'us', value: 680.388555, source: POUND },
  { text: '3/4 oz', dimension: 'mass', units: 'us', value: 21.26214234375, source: POUND },
  { text: '1.5 ± 0.05 kg', dimension: 'mass', units: 'metric', value: 1500, u: 50, source: 'SI' },
  { text: '1.5 kg ± 50 g', dimension: 'mass', units: 'metric', value: 1500, u: 50, source: 'SI' },
  {
    text: '1 lb 4 oz ± 1',
    dimension: 'mass',
    units: 'us',
    value: 566.9904625,
    u: 28.349523125,
    source: POUND,
  },
  { text: '9.5 L', dimension: 'volume', units: 'metric', value: 9.5, source: SAME },
  { text: '9.5 litres', dimension: 'volume', units: 'metric', value: 9.5, source: SAME },
  { text: '500 mL', dimension: 'volume', units: 'metric', value: 0.5, source: 'SI' },
  { text: '2 1/2 gal', dimension: 'volume', units: 'us', value: 9.46352946, source: US },
  { text: '2 gal 2 qt', dimension: 'volume', units: 'us', value: 9.46352946, source: US },
  { text: '1 us gal', dimension: 'volume', units: 'metric', value: 3.785411784, source: US },
  { text: '1 U.S. gallon', dimension: 'volume', units: 'metric', value: 3.785411784, source: US },
  { text: '1 imp gal', dimension: 'volume', units: 'us', value: 4.54609, source: IMP },
  { text: '1 imperial pint', dimension: 'volume', units: 'metric', value: 0.56826125, source: IMP },
  { text: '1 uk quart', dimension: 'volume', units: 'metric', value: 1.1365225, source: IMP },
  { text: '1 imp fl oz', dimension: 'volume', units: 'metric', value: 0.0284130625, source: IMP },
  { text: '2 cups', dimension: 'volume', units: 'us', value: 0.473176473, source: US },
  { text: '16 fl. oz.', dimension: 'volume', units: 'us', value: 0.473176473, source: US },
  { text: '68 °C', dimension: 'temperature', units: 'metric', value: 68, source: SAME },
  { text: '68℃', dimension: 'temperature', units: 'metric', value: 68, source: SAME },
  { text: '68 º C', dimension: 'temperature', units: 'metric', value: 68, source: SAME },
  { text: '68 deg C', dimension: 'temperature', units: 'metric', value: 68, source: SAME },
  { text: '20 degrees Celsius', dimension: 'temperature', units: 'metric', value: 20, source: SAME },
  { text: '−18 °C', dimension: 'temperature', units: 'metric', value: -18, source: SAME },
  { text: '–18 °C', dimension: 'temperature', units: 'metric', value: -18, source: SAME },
  {
    text: '212 F',
    dimension: 'temperature',
    units: 'us',
    value: 100,
    source: 'NIST SP 811: t/°C = (t/°F − 32)/1.8',
  },
  { text: '68 ± 2 °F', dimension: 'temperature', units: 'us', value: 20, u: 10 / 9, source: 'NIST SP 811' },
  {
    text: '68 °F ± 2 °F',
    dimension: 'temperature',
    units: 'us',
    value: 20,
    u: 10 / 9,
    source: 'NIST SP 811',
  },
  { text: '20 °C +/- 0.5', dimension: 'temperature', units: 'us', value: 20, u: 0.5, source: SAME },
  { text: '20 °C ± 1 K', dimension: 'temperature', units: 'metric', value: 20, u: 1, source: SAME },
  {
    text: '9 °F',
    dimension: 'temperatureDifference',
    units: 'us',
    value: 5,
    source: 'NIST SP 811: 1 °F step = 5/9 K',
  },
  { text: '60 min', dimension: 'time', units: 'metric', value: 60, source: SAME },
  { text: '0 min', dimension: 'time', units: 'metric', value: 0, source: SAME },
  { text: '1 h 30 min', dimension: 'time', units: 'metric', value: 90, source: '60 min to the hour' },
  { text: '1h30min', dimension: 'time', units: 'metric', value: 90, source: '60 min to the hour' },
  { text: '14 days', dimension: 'time', units: 'metric', value: 20160, source: '24 h to the day' },
  { text: '2 weeks 1 day', dimension: 'time', units: 'us', value: 21600, source: '7 days to the week' },
  { text: '4.6 %', dimension: 'percent', units: 'metric', value: 0.046, source: 'per cent' },
  { text: '75%', dimension: 'percent', units: 'metric', value: 0.75, source: 'per cent' },
  { text: '50 ± 5 %', dimension: 'percent', units: 'metric', value: 0.5, u: 0.05, source: 'per cent' },
  { text: '8 EBC', dimension: 'colour', units: 'metric', value: 8, source: SAME },
  { text: '4 °L', dimension: 'colour', units: 'metric', value: 9.4, source: LOVIBOND },
  { text: '4 Lovibond', dimension: 'colour', units: 'us', value: 9.4, source: LOVIBOND },
  {
    text: '4 SRM',
    dimension: 'colour',
    units: 'us',
    value: 9.4,
    source: `${LOVIBOND}; a malt's SRM is its °L`,
  },
  { text: '4 ± 1 °L', dimension: 'colour', units: 'us', value: 9.4, u: 2.65, source: LOVIBOND },
  { text: '0 °L', dimension: 'colour', units: 'us', value: 0, source: 'no colour is below none' },
  { text: '12.7 SRM', dimension: 'colour', units: 'us', colourOf: 'sugar', value: 25, source: SRM },
  { text: '254 °L', dimension: 'colour', units: 'us', colourOf: 'sugar', value: 500, source: SRM },
  { text: '25 IBU', dimension: 'bitterness', units: 'metric', value: 25, source: SAME },
  { text: '1.5 kW', dimension: 'power', units: 'metric', value: 1.5, source: SAME },
  { text: '2.2 L/h', dimension: 'volumeRate', units: 'metric', value: 2.2, source: SAME },
  { text: '2.2 ± 0.3 L/h', dimension: 'volumeRate', units: 'metric', value: 2.2, u: 0.3, source: SAME },
  {
    text: '2.2 +- 0.3 litres per hour',
    dimension: 'volumeRate',
    units: 'metric',
    value: 2.2,
    u: 0.3,
    source: SAME,
  },
  { text: '1 gal/h', dimension: 'volumeRate', units: 'us', value: 3.785411784, source: US },
  { text: '6 L/kg', dimension: 'absorption', units: 'metric', value: 6, source: SAME },
  { text: '2.3 vol', dimension: 'carbonation', units: 'metric', value: 2.3, source: SAME },
  {
    text: '1.9768 g/L',
    dimension: 'carbonation',
    units: 'metric',
    value: 1,
    source: 'CO2 at 0 °C, 1 atm: 1.9768 g/L',
  },
  {
    text: '4.9420 g per litre',
    dimension: 'carbonation',
    units: 'metric',
    value: 2.5,
    source: '2.5 × 1.9768 g/L',
  },
  { text: '150 m', dimension: 'altitude', units: 'metric', value: 150, source: SAME },
  { text: '-3 m', dimension: 'altitude', units: 'metric', value: -3, source: SAME },
  { text: '1.5 ml/L', dimension: 'dose', units: 'metric', value: 1.5, source: SAME },
  { text: '15 ml per 10 L', dimension: 'dose', units: 'metric', value: 1.5, source: SAME },
  { text: '1 oz/gal', dimension: 'dose', units: 'us', value: 7.8125, source: '128 fl oz to the US gallon' },
  {
    text: '1 fl oz per 5 gal',
    dimension: 'dose',
    units: 'us',
    value: 1.5625,
    source: '128 fl oz to the US gallon',
  },
  { text: '3 L/kg', dimension: 'ratio', units: 'metric', value: 3, source: SAME },
];

export interface RangeRow {
  readonly text: string;
  readonly low: number;
  readonly high: number;
}

/** Temperatures; °F by t/°C = (t/°F − 32)/1.8 (NIST SP 811). */
export const RANGE_CASES: readonly RangeRow[] = [
  { text: '17-21 °C', low: 17, high: 21 },
  { text: '17–21°C', low: 17, high: 21 },
  { text: '17 °C – 21 °C', low: 17, high: 21 },
  { text: '17 to 21 °C', low: 17, high: 21 },
  { text: '59–68 F', low: 15, high: 20 },
  { text: '59 F - 25 °C', low: 15, high: 25 },
  { text: '-2-4 °C', low: -2, high: 4 },
  { text: '-2--1 °C', low: -2, high: -1 },
  { text: '−2 to −1 °C', low: -2, high: -1 },
  { text: '17 1/2-21 °C', low: 17.5, high: 21 },
  { text: '19 °C', low: 19, high: 19 },
];
