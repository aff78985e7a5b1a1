/** What is read as what: the text, its reader, the value, and where that comes from. */
import type { Units } from '../../lib/units/dimension.ts';
import {
  type Dimension,
  parseAmount,
  parseCells,
  parseClock,
  parseDate,
  parseGravity,
  parseKitBitterness,
  parseMoment,
  parseQuantity,
  parseRange,
  parseVolumeReading,
} from '../../lib/units/parse/parse.ts';

/** Readers of one kind of text each; the others are dimensions. */
const SPECIAL = {
  syrup: (text: string, units: Units) => parseQuantity(text, 'colour', { units }, { colourOf: 'sugar' }),
  range: (text: string, units: Units) => parseRange(text, 'temperature', { units }),
  gravity: parseGravity,
  'volume reading': (text: string, units: Units) => parseVolumeReading(text, { units }),
  amount: (text: string, units: Units) => parseAmount(text, { units }),
  cells: parseCells,
  kit: (text: string, units: Units) => parseKitBitterness(text, { units }),
  clock: (text: string) => parseClock(text),
  date: parseDate,
  /** Of a batch that was brewed on 8 November 2026. */
  moment: (text: string) => parseMoment(text, '2026-11-08'),
};

export type Reader = Dimension | keyof typeof SPECIAL;
export const read = (text: string, by: Reader, units: Units) =>
  by in SPECIAL
    ? SPECIAL[by as keyof typeof SPECIAL](text, units)
    : parseQuantity(text, by as Dimension, { units });

const POUND = 'NIST SP 811: 1 lb = 453.59237 g, 1 oz = 28.349523125 g';
const US = 'NIST Handbook 44, App. C: 1 gal = 3.785411784 L';
const IMP = 'UK Weights and Measures Act 1985: 1 gal = 4.54609 L';
const SAME = 'same unit';
const LOVIBOND = '°L = (EBC + 1.2)/2.65 (from memory)';
const SRM = 'EBC = 25/12.7 · SRM';
const FAHRENHEIT = 'NIST SP 811: t/°C = (t/°F − 32)/1.8';

type Quantity = readonly [text: string, by: Reader, units: Units, value: number, source: string, u?: number];

export const QUANTITIES: readonly Quantity[] = [
  ['30 g', 'mass', 'metric', 30, SAME],
  ['30g', 'mass', 'metric', 30, SAME],
  ['1.5 Kg', 'mass', 'metric', 1500, 'SI'],
  ['1,5 kg', 'mass', 'metric', 1500, 'SI'],
  ['0,500 kg', 'mass', 'metric', 500, 'SI'],
  ['1.500 kg', 'mass', 'metric', 1500, 'SI'],
  ['.5 kg', 'mass', 'metric', 500, 'SI'],
  ['11 grams', 'mass', 'metric', 11, SAME],
  ['350\u00a0g', 'mass', 'metric', 350, SAME],
  ['350\u202fg.', 'mass', 'metric', 350, SAME],
  ['\uff13\uff10 g', 'mass', 'metric', 30, SAME],
  ['1 lb 4 oz', 'mass', 'metric', 566.9904625, POUND],
  ['1 lb, 4 oz', 'mass', 'us', 566.9904625, POUND],
  ['1lb4oz', 'mass', 'us', 566.9904625, POUND],
  ['1 1/2 lb', 'mass', 'us', 680.388555, POUND],
  ['1½ lb', 'mass', 'us', 680.388555, POUND],
  ['1 1⁄2 lb', 'mass', 'us', 680.388555, POUND],
  ['3/4 oz', 'mass', 'us', 21.26214234375, POUND],
  ['1.5 ± 0.05 kg', 'mass', 'metric', 1500, 'SI', 50],
  ['1.5 kg ± 50 g', 'mass', 'metric', 1500, 'SI', 50],
  ['1 lb 4 oz ± 1', 'mass', 'us', 566.9904625, POUND, 28.349523125],
  ['9.5 L', 'volume', 'metric', 9.5, SAME],
  ['9.5 litres', 'volume', 'metric', 9.5, SAME],
  ['500 mL', 'volume', 'metric', 0.5, 'SI'],
  ['2 1/2 gal', 'volume', 'us', 9.46352946, US],
  ['2 gal 2 qt', 'volume', 'us', 9.46352946, US],
  ['1 us gal', 'volume', 'metric', 3.785411784, US],
  ['1 U.S. gallon', 'volume', 'metric', 3.785411784, US],
  ['1 imp gal', 'volume', 'us', 4.54609, IMP],
  ['1 imperial pint', 'volume', 'metric', 0.56826125, IMP],
  ['1 uk quart', 'volume', 'metric', 1.1365225, IMP],
  ['1 imp fl oz', 'volume', 'metric', 0.0284130625, IMP],
  ['2 cups', 'volume', 'us', 0.473176473, US],
  ['16 fl. oz.', 'volume', 'us', 0.473176473, US],
  ['68 °C', 'temperature', 'metric', 68, SAME],
  ['68℃', 'temperature', 'metric', 68, SAME],
  ['68 º C', 'temperature', 'metric', 68, SAME],
  ['68 deg C', 'temperature', 'metric', 68, SAME],
  ['20 degrees Celsius', 'temperature', 'metric', 20, SAME],
  ['−18 °C', 'temperature', 'metric', -18, SAME],
  ['–18 °C', 'temperature', 'metric', -18, SAME],
  ['212 F', 'temperature', 'us', 100, FAHRENHEIT],
  ['68 ± 2 °F', 'temperature', 'us', 20, FAHRENHEIT, 10 / 9],
  ['68 °F ± 2 °F', 'temperature', 'us', 20, FAHRENHEIT, 10 / 9],
  ['20 °C +/- 0.5', 'temperature', 'us', 20, SAME, 0.5],
  ['20 °C ± 1 K', 'temperature', 'metric', 20, SAME, 1],
  ['9 °F', 'temperatureDifference', 'us', 5, 'NIST SP 811: 1 °F step = 5/9 K'],
  ['60 min', 'time', 'metric', 60, SAME],
  ['0 min', 'time', 'metric', 0, SAME],
  ['1 h 30 min', 'time', 'metric', 90, '60 min to the hour'],
  ['1h30min', 'time', 'metric', 90, '60 min to the hour'],
  ['14 days', 'time', 'metric', 20160, '24 h to the day'],
  ['2 weeks 1 day', 'time', 'us', 21600, '7 days to the week'],
  ['4.6 %', 'percent', 'metric', 0.046, 'per cent'],
  ['75%', 'percent', 'metric', 0.75, 'per cent'],
  ['50 ± 5 %', 'percent', 'metric', 0.5, 'per cent', 0.05],
  ['8 EBC', 'colour', 'metric', 8, SAME],
  ['4 °L', 'colour', 'metric', 9.4, LOVIBOND],
  ['4 Lovibond', 'colour', 'us', 9.4, LOVIBOND],
  ['4 SRM', 'colour', 'us', 9.4, `${LOVIBOND}; a malt's SRM is its °L`],
  ['4 ± 1 °L', 'colour', 'us', 9.4, LOVIBOND, 2.65],
  ['0 °L', 'colour', 'us', 0, 'no colour is below none'],
  ['12.7 SRM', 'syrup', 'us', 25, SRM],
  ['254 °L', 'syrup', 'us', 500, SRM],
  ['25 IBU', 'bitterness', 'metric', 25, SAME],
  ['1.5 kW', 'power', 'metric', 1.5, SAME],
  ['2.2 L/h', 'volumeRate', 'metric', 2.2, SAME],
  ['2.2 ± 0.3 L/h', 'volumeRate', 'metric', 2.2, SAME, 0.3],
  ['2.2 +- 0.3 litres per hour', 'volumeRate', 'metric', 2.2, SAME, 0.3],
  ['1 gal/h', 'volumeRate', 'us', 3.785411784, US],
  ['6 L/kg', 'absorption', 'metric', 6, SAME],
  ['2.3 vol', 'carbonation', 'metric', 2.3, SAME],
  ['1.9768 g/L', 'carbonation', 'metric', 1, 'CO2 at 0 °C, 1 atm: 1.9768 g/L'],
  ['4.9420 g per litre', 'carbonation', 'metric', 2.5, '2.5 × 1.9768 g/L'],
  ['150 m', 'altitude', 'metric', 150, SAME],
  ['-3 m', 'altitude', 'metric', -3, SAME],
  ['1.5 ml/L', 'dose', 'metric', 1.5, SAME],
  ['15 ml per 10 L', 'dose', 'metric', 1.5, SAME],
  ['1 oz/gal', 'dose', 'us', 7.8125, '128 fl oz to the US gallon'],
  ['1 fl oz per 5 gal', 'dose', 'us', 1.5625, '128 fl oz to the US gallon'],
  ['3 L/kg', 'ratio', 'metric', 3, SAME],
];

/** mathjs knows these units as well: its own name for the unit, and for our internal one. */
export const FACTORS: readonly (readonly [text: string, by: Dimension, theirs: string, to: string])[] = [
  ['1 kg', 'mass', '1 kg', 'g'],
  ['250 mg', 'mass', '250 mg', 'g'],
  ['1 oz', 'mass', '1 oz', 'g'],
  ['1 lb', 'mass', '1 lbm', 'g'],
  ['3 lbs', 'mass', '3 lbm', 'g'],
  ['1 ml', 'volume', '1 ml', 'litre'],
  ['7 cl', 'volume', '7 cl', 'litre'],
  ['2 hl', 'volume', '2 hl', 'litre'],
  ['1 us gal', 'volume', '1 gallon', 'litre'],
  ['1 us qt', 'volume', '1 quart', 'litre'],
  ['1 us pint', 'volume', '1 pint', 'litre'],
  ['1 us cup', 'volume', '1 cup', 'litre'],
  ['1 us fl oz', 'volume', '1 fluidounce', 'litre'],
  ['154 °F', 'temperature', '154 degF', 'degC'],
  ['-40 F', 'temperature', '-40 degF', 'degC'],
  ['90 s', 'time', '90 s', 'minute'],
  ['3 h', 'time', '3 h', 'minute'],
  ['14 days', 'time', '14 day', 'minute'],
  ['2 weeks', 'time', '2 week', 'minute'],
  ['1800 W', 'power', '1800 W', 'kW'],
  ['10000 BTU/h', 'power', '10000 BTU/h', 'kW'],
  ['12 psi', 'pressure', '12 psi', 'kPa'],
  ['0.8 bar', 'pressure', '0.8 bar', 'kPa'],
  ['500 ft', 'altitude', '500 ft', 'm'],
  ['0.6 us gal/h', 'volumeRate', '0.6 gallon/h', 'litre/h'],
  ['40 ml/min', 'volumeRate', '40 ml/minute', 'litre/h'],
  ['1.5 us qt/lb', 'ratio', '1.5 quart/lbm', 'litre/kg'],
  ['0.9 ml/g', 'absorption', '0.9 ml/g', 'litre/kg'],
];

/** Temperatures, by the same formula. */
export const RANGES: readonly (readonly [text: string, low: number, high: number])[] = [
  ['17-21 °C', 17, 21],
  ['17–21°C', 17, 21],
  ['17 °C – 21 °C', 17, 21],
  ['17 to 21 °C', 17, 21],
  ['59–68 F', 15, 20],
  ['59 F - 25 °C', 15, 25],
  ['-2-4 °C', -2, 4],
  ['-2--1 °C', -2, -1],
  ['−2 to −1 °C', -2, -1],
  ['17 1/2-21 °C', 17.5, 21],
  ['19 °C', 19, 19],
];

/** The values are the figures as written; nothing is computed. */
export const GRAVITIES: readonly (readonly [
  text: string,
  scale: 'sg' | 'plato' | 'brix',
  value: number,
  u?: number | null,
  sample_C?: number,
])[] = [
  ['1.048', 'sg', 1.048],
  ['1.050', 'sg', 1.05],
  ['1,048', 'sg', 1.048],
  ['1.048 SG', 'sg', 1.048],
  ['0.998', 'sg', 0.998],
  ['1.048 @ 24 °C', 'sg', 1.048, null, 24],
  ['1.048@68F', 'sg', 1.048, null, 20],
  ['1.048 ± 0.001', 'sg', 1.048, 0.001],
  ['1.048 ± 0.001 @ 24 °C', 'sg', 1.048, 0.001, 24],
  ['13.2 °P', 'plato', 13.2],
  ['13.2 P', 'plato', 13.2],
  ['13.2 Plato @ 24 °C', 'plato', 13.2, null, 24],
  ['13,2 deg P', 'plato', 13.2],
  ['-0.5 °P', 'plato', -0.5],
  ['3.1 ± 0.2 °P', 'plato', 3.1, 0.2],
  ['11.8 Bx', 'brix', 11.8],
  ['11.8 ± 0.2 °Brix', 'brix', 11.8, 0.2],
];

/** Weights, volumes and counts; a US kitchen's where the row says so. */
export const AMOUNTS: readonly (readonly [
  text: string,
  value: number,
  unit: 'g' | 'L' | 'count',
  units?: 'us',
])[] = [
  ['1', 1, 'count'],
  ['½', 0.5, 'count'],
  ['1 tsp', 1, 'count'],
  ['½ tsp', 0.5, 'count'],
  ['1 1/2 tbsp.', 1.5, 'count'],
  ['2 packs', 2, 'count'],
  ['1/2 tablet', 0.5, 'count'],
  ['2 vanilla pods', 2, 'count'],
  ['3 bay-leaves', 3, 'count'],
  ['2 caps', 2, 'count'],
  ['15 g', 15, 'g'],
  ['11.5g', 11.5, 'g'],
  ['1 lb 4 oz', 566.9904625, 'g'],
  ['125 ml', 0.125, 'L'],
  ['2 cups', 0.473176473, 'L', 'us'],
  ['2 oz', 56.69904625, 'g', 'us'],
];

export const CELLS: readonly (readonly [
  text: string,
  billion: number,
  per: 'g' | 'ml' | 'pack',
  u?: number,
])[] = [
  ['10 billion/g', 10, 'g'],
  ['100 billion/pack', 100, 'pack'],
  ['100 billion cells per sachet', 100, 'pack'],
  ['10 ± 2 billion/g', 10, 'g', 2],
  ['1,2 billion / ml', 1.2, 'ml'],
  ['500 million/ml', 0.5, 'ml'],
];

export const CLOCKS: readonly (readonly [text: string, clock: string])[] = [
  ['13:35', '13:35'],
  ['8:05', '08:05'],
  ['00:00', '00:00'],
  ['23:59', '23:59'],
  ['1335', '13:35'],
  ['905', '09:05'],
  ['9.05', '09:05'],
  ['13h35', '13:35'],
  ['1:35 pm', '13:35'],
  ['1:35PM', '13:35'],
  ['12:10 a.m.', '00:10'],
  ['12 PM', '12:00'],
  ['12:30 PM', '12:30'],
  ['11 am', '11:00'],
  ['13:30 PM', '13:30'],
];

/** Days, and days with times, of a batch that was brewed on 8 November 2026. */
export const MOMENTS: readonly (readonly [text: string, date: string, clock?: string])[] = [
  ['2026-11-09', '2026-11-09'],
  ['2026-11-9T17:20', '2026-11-09', '17:20'],
  ['14.2.2027', '2027-02-14'],
  ['12/25/2026', '2026-12-25'],
  ['25/12/2026 18:00', '2026-12-25', '18:00'],
  ['5/5/2027', '2027-05-05'],
  ['Nov 9 18:00', '2026-11-09', '18:00'],
  ['Nov 9 6:00 PM', '2026-11-09', '18:00'],
  ['Nov. 9, 2026, 6 pm', '2026-11-09', '18:00'],
  ['9 November 2026 at 18:00', '2026-11-09', '18:00'],
  ['Mon 9th Nov 0:05', '2026-11-09', '00:05'],
  ['8 Nov', '2026-11-08'],
  ['7 Nov', '2027-11-07'],
  ['Sept 3', '2027-09-03'],
  ['MAY 12', '2027-05-12'],
  ['2026-02-14T17:20', '2026-02-14', '17:20'],
  [' 2026-02-14  17:20 ', '2026-02-14', '17:20'],
];

/** Leap years by the Gregorian rule: 2000 and 2028 have a 29 February. */
export const DATES = ['2026-02-14', '2000-02-29', '2028-02-29', '2026-12-31'];
