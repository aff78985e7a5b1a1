/** What can be measured with one unit alone; the others are quotients of these. */
export type BaseDimension =
  | 'mass'
  | 'volume'
  | 'temperature'
  | 'temperatureDifference'
  | 'time'
  | 'percent'
  | 'maltColour'
  | 'sugarColour'
  | 'bitterness'
  | 'power'
  | 'carbonation'
  | 'pressure'
  | 'altitude';

/** value in the internal unit = number × factor + offset. */
export interface UnitRow {
  readonly symbol: string;
  /** Lower case, without spaces and full stops, `deg` written `°`. */
  readonly names: readonly string[];
  readonly factor: number;
  readonly offset?: number;
  readonly source: string;
}

const SI = 'SI prefix, or an SI-accepted unit (BIPM, The International System of Units, 9th ed. 2019)';
const POUND_SOURCE = '1 lb = 0.45359237 kg exactly (NIST SP 811, 2008, App. B.8); 16 oz to the pound';
const US_SOURCE = '1 US gal = 231 cubic inches, 1 inch = 2.54 cm (NIST Handbook 44, App. C)';
const IMP_SOURCE = '1 gal = 4.54609 dm³ (UK Weights and Measures Act 1985, Sch. 1)';
const SPOON_SOURCE =
  'teaspoon 5 ml, tablespoon 15 ml (US 21 CFR 101.9(b)(5)(viii), from memory; kitchen spoons elsewhere differ)';

export const GRAMS_PER_POUND = 453.59237;
export const GRAMS_PER_OUNCE = GRAMS_PER_POUND / 16;
/** 231 in³ in litres. */
export const LITRES_PER_US_GALLON = (231 * 2.54 ** 3) / 1000;
export const LITRES_PER_US_QUART = LITRES_PER_US_GALLON / 4;
export const LITRES_PER_IMPERIAL_GALLON = 4.54609;
export const METRES_PER_FOOT = 0.3048;
/** lbf/in² = 0.45359237 kg × 9.80665 m/s² / (0.0254 m)², in kPa. */
export const KILOPASCALS_PER_PSI = (0.45359237 * 9.80665) / 0.0254 ** 2 / 1000;
/** International Table British thermal unit, 1055.05585262 J, per hour. */
export const KILOWATTS_PER_BTU_PER_HOUR = 1055.05585262 / 3600 / 1000;
/** Mass of a litre of carbon dioxide at 0 °C and 1 atm, real gas, 22.263 L/mol. */
export const CO2_GRAMS_PER_VOLUME_LITRE = 1.9768;
/** SRM = 12.7 · A430 and EBC = 25 · A430, both in a 1 cm cell. */
export const EBC_PER_SRM = 25 / 12.7;
/** °L = (EBC + 1.2) / 2.65, from memory. */
export const MALT_EBC_SLOPE = 2.65;
export const MALT_EBC_SHIFT = 1.2;

export const UNIT_TABLE: Readonly<Record<BaseDimension, readonly UnitRow[]>> = {
  mass: [
    { symbol: 'g', names: ['g', 'gm', 'gram', 'grams', 'gramme', 'grammes'], factor: 1, source: SI },
    {
      symbol: 'kg',
      names: ['kg', 'kgs', 'kilo', 'kilos', 'kilogram', 'kilograms'],
      factor: 1000,
      source: SI,
    },
    { symbol: 'mg', names: ['mg', 'milligram', 'milligrams'], factor: 0.001, source: SI },
    { symbol: 'oz', names: ['oz', 'ozs', 'ounce', 'ounces'], factor: GRAMS_PER_OUNCE, source: POUND_SOURCE },
    { symbol: 'lb', names: ['lb', 'lbs', 'pound', 'pounds'], factor: GRAMS_PER_POUND, source: POUND_SOURCE },
  ],
  volume: [
    { symbol: 'L', names: ['l', 'lt', 'ltr', 'litre', 'litres', 'liter', 'liters'], factor: 1, source: SI },
    {
      symbol: 'dl',
      names: ['dl', 'decilitre', 'decilitres', 'deciliter', 'deciliters'],
      factor: 0.1,
      source: SI,
    },
    { symbol: 'cl', names: ['cl', 'centilitre', 'centilitres'], factor: 0.01, source: SI },
    {
      symbol: 'ml',
      names: ['ml', 'mls', 'cc', 'millilitre', 'millilitres', 'milliliter', 'milliliters'],
      factor: 0.001,
      source: SI,
    },
    { symbol: 'hl', names: ['hl', 'hectolitre', 'hectolitres'], factor: 100, source: SI },
    { symbol: 'tsp', names: ['tsp', 'tsps', 'teaspoon', 'teaspoons'], factor: 0.005, source: SPOON_SOURCE },
    {
      symbol: 'tbsp',
      names: ['tbsp', 'tbsps', 'tablespoon', 'tablespoons'],
      factor: 0.015,
      source: SPOON_SOURCE,
    },
  ],
  temperature: [
    { symbol: '°C', names: ['°c', 'c', '°celsius', 'celsius', 'centigrade'], factor: 1, source: SI },
    {
      symbol: '°F',
      names: ['°f', 'f', '°fahrenheit', 'fahrenheit'],
      factor: 5 / 9,
      offset: -160 / 9,
      source: 't/°C = (t/°F − 32)/1.8 (NIST SP 811, 2008, App. B.8)',
    },
  ],
  temperatureDifference: [
    {
      symbol: '°C',
      names: ['°c', 'c', '°celsius', 'celsius', 'k', 'kelvin', 'kelvins'],
      factor: 1,
      source: SI,
    },
    {
      symbol: '°F',
      names: ['°f', 'f', '°fahrenheit', 'fahrenheit'],
      factor: 5 / 9,
      source: 'NIST SP 811, 2008, App. B.8',
    },
  ],
  time: [
    { symbol: 'min', names: ['min', 'mins', 'minute', 'minutes'], factor: 1, source: SI },
    { symbol: 's', names: ['s', 'sec', 'secs', 'second', 'seconds'], factor: 1 / 60, source: SI },
    { symbol: 'h', names: ['h', 'hr', 'hrs', 'hour', 'hours'], factor: 60, source: SI },
    { symbol: 'days', names: ['d', 'day', 'days'], factor: 1440, source: SI },
    { symbol: 'weeks', names: ['wk', 'wks', 'week', 'weeks'], factor: 10080, source: '7 days' },
  ],
  percent: [{ symbol: '%', names: ['%', 'percent', 'pct'], factor: 0.01, source: SI }],
  maltColour: [
    { symbol: 'EBC', names: ['ebc', '°ebc'], factor: 1, source: 'the internal unit' },
    {
      symbol: '°L',
      names: ['°l', 'lovibond', '°lovibond', 'srm', '°srm'],
      factor: MALT_EBC_SLOPE,
      offset: -MALT_EBC_SHIFT,
      source: '°L = (EBC + 1.2)/2.65 (from memory); SRM of a malt is read as °L (common practice, no source)',
    },
  ],
  sugarColour: [
    { symbol: 'EBC', names: ['ebc', '°ebc'], factor: 1, source: 'the internal unit' },
    {
      symbol: 'SRM',
      names: ['srm', '°srm', '°l', 'lovibond', '°lovibond'],
      factor: EBC_PER_SRM,
      source: 'SRM = 12.7 · A430, EBC = 25 · A430; °L of a syrup is read as SRM (common practice, no source)',
    },
  ],
  bitterness: [{ symbol: 'IBU', names: ['ibu', 'ibus', 'ebu'], factor: 1, source: 'the internal unit' }],
  power: [
    { symbol: 'kW', names: ['kw', 'kilowatt', 'kilowatts'], factor: 1, source: SI },
    { symbol: 'W', names: ['w', 'watt', 'watts'], factor: 0.001, source: SI },
    {
      symbol: 'BTU/h',
      names: ['btu/h', 'btu/hr', 'btu/hour', 'btuh'],
      factor: KILOWATTS_PER_BTU_PER_HOUR,
      source: '1 Btu(IT) = 1055.05585262 J (NIST SP 811, 2008, App. B.8 and footnote)',
    },
  ],
  carbonation: [
    { symbol: 'vol', names: ['vol', 'vols', 'volume', 'volumes'], factor: 1, source: 'the internal unit' },
    {
      symbol: 'g/L',
      names: ['g/l', 'g/litre', 'g/liter', 'gram/litre', 'grams/litre', 'grams/liter', 'gco2/l'],
      factor: 1 / CO2_GRAMS_PER_VOLUME_LITRE,
      source: 'CO2 at 0 °C and 1 atm, 1.9768 g/L (44.0095 g/mol over the real-gas 22.263 L/mol)',
    },
  ],
  pressure: [
    { symbol: 'kPa', names: ['kpa', 'kilopascal', 'kilopascals'], factor: 1, source: SI },
    { symbol: 'bar', names: ['bar', 'bars', 'barg'], factor: 100, source: '1 bar = 100 kPa (NIST SP 811)' },
    {
      symbol: 'mbar',
      names: ['mbar', 'millibar', 'hpa'],
      factor: 0.1,
      source: '1 bar = 100 kPa (NIST SP 811)',
    },
    {
      symbol: 'psi',
      names: ['psi', 'psig'],
      factor: KILOPASCALS_PER_PSI,
      source: 'from the pound, standard gravity 9.80665 m/s² and the inch (NIST SP 811, 2008, App. B)',
    },
  ],
  altitude: [
    { symbol: 'm', names: ['m', 'metre', 'metres', 'meter', 'meters'], factor: 1, source: SI },
    { symbol: 'km', names: ['km', 'kilometre', 'kilometres'], factor: 1000, source: SI },
    {
      symbol: 'ft',
      names: ['ft', 'foot', 'feet'],
      factor: METRES_PER_FOOT,
      source: '1 ft = 0.3048 m exactly (NIST SP 811, 2008, App. B.8)',
    },
  ],
};

export type GallonSystem = 'us' | 'imp';

/** Measures of the gallon family: the same word, two sizes. */
export interface GallonRow {
  readonly symbol: string;
  readonly names: readonly string[];
  /** Litres. */
  readonly us: number;
  readonly imp: number;
  readonly source: string;
}

const GALLON_SOURCE = `${US_SOURCE}; ${IMP_SOURCE}`;

export const GALLON_TABLE: readonly GallonRow[] = [
  {
    symbol: 'gal',
    names: ['gal', 'gals', 'gallon', 'gallons'],
    us: LITRES_PER_US_GALLON,
    imp: LITRES_PER_IMPERIAL_GALLON,
    source: GALLON_SOURCE,
  },
  {
    symbol: 'qt',
    names: ['qt', 'qts', 'quart', 'quarts'],
    us: LITRES_PER_US_GALLON / 4,
    imp: LITRES_PER_IMPERIAL_GALLON / 4,
    source: GALLON_SOURCE,
  },
  {
    symbol: 'pint',
    names: ['pt', 'pts', 'pint', 'pints'],
    us: LITRES_PER_US_GALLON / 8,
    imp: LITRES_PER_IMPERIAL_GALLON / 8,
    source: GALLON_SOURCE,
  },
  {
    symbol: 'cup',
    names: ['cup', 'cups'],
    us: LITRES_PER_US_GALLON / 16,
    imp: LITRES_PER_IMPERIAL_GALLON / 16,
    source: `${US_SOURCE}; an imperial cup is half a pint (common practice, no source)`,
  },
  {
    symbol: 'fl oz',
    names: ['floz', 'flozs', 'fluidoz', 'fluidounce', 'fluidounces', 'flounce', 'flounces'],
    us: LITRES_PER_US_GALLON / 128,
    imp: LITRES_PER_IMPERIAL_GALLON / 160,
    source: GALLON_SOURCE,
  },
];
