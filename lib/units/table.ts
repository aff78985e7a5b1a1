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
  readonly offset: number;
  /** Of gallons and their parts, whose `factor` is the US one: the imperial measure of the same name. */
  readonly imperial: number | null;
  readonly source: string;
}

const SI = 'SI prefix, or an SI-accepted unit (BIPM, The International System of Units, 9th ed. 2019)';
const NIST = 'NIST SP 811, 2008, App. B.8';
const POUND = `1 lb = 0.45359237 kg exactly (${NIST}); 16 oz to the pound`;
const SPOON =
  'teaspoon 5 ml, tablespoon 15 ml (US 21 CFR 101.9(b)(5)(viii), from memory; kitchen spoons elsewhere differ)';
const GALLON =
  '1 US gal = 231 cubic inches, 1 inch = 2.54 cm (NIST Handbook 44, App. C); ' +
  '1 imperial gal = 4.54609 dm³ (UK Weights and Measures Act 1985, Sch. 1)';
const OWN = 'the internal unit';

export const GRAMS_PER_POUND = 453.59237;
export const GRAMS_PER_OUNCE = GRAMS_PER_POUND / 16;
/** 231 in³ in litres. */
export const LITRES_PER_US_GALLON = (231 * 2.54 ** 3) / 1000;
export const LITRES_PER_US_QUART = LITRES_PER_US_GALLON / 4;
const LITRES_PER_IMPERIAL_GALLON = 4.54609;
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

const unit = (symbol: string, names: string, factor: number, source: string, offset = 0): UnitRow => ({
  symbol,
  names: names.split(' '),
  factor,
  offset,
  imperial: null,
  source,
});
/** A part of a gallon: so many of it make a US gallon, and so many an imperial one. */
const gallon = (symbol: string, names: string, us: number, imperial: number, source = GALLON): UnitRow => ({
  ...unit(symbol, names, LITRES_PER_US_GALLON / us, source),
  imperial: LITRES_PER_IMPERIAL_GALLON / imperial,
});

export const UNIT_TABLE: Readonly<Record<BaseDimension, readonly UnitRow[]>> = {
  mass: [
    unit('g', 'g gm gram grams gramme grammes', 1, SI),
    unit('kg', 'kg kgs kilo kilos kilogram kilograms', 1000, SI),
    unit('mg', 'mg milligram milligrams', 0.001, SI),
    unit('oz', 'oz ozs ounce ounces', GRAMS_PER_OUNCE, POUND),
    unit('lb', 'lb lbs pound pounds', GRAMS_PER_POUND, POUND),
  ],
  volume: [
    unit('L', 'l lt ltr litre litres liter liters', 1, SI),
    unit('dl', 'dl decilitre decilitres deciliter deciliters', 0.1, SI),
    unit('cl', 'cl centilitre centilitres', 0.01, SI),
    unit('ml', 'ml mls cc millilitre millilitres milliliter milliliters', 0.001, SI),
    unit('hl', 'hl hectolitre hectolitres', 100, SI),
    unit('tsp', 'tsp tsps teaspoon teaspoons', 0.005, SPOON),
    unit('tbsp', 'tbsp tbsps tablespoon tablespoons', 0.015, SPOON),
    gallon('gal', 'gal gals gallon gallons', 1, 1),
    gallon('qt', 'qt qts quart quarts', 4, 4),
    gallon('pint', 'pt pts pint pints', 8, 8),
    gallon(
      'cup',
      'cup cups',
      16,
      16,
      `${GALLON}; an imperial cup is half a pint (common practice, no source)`,
    ),
    gallon('fl oz', 'floz flozs fluidoz fluidounce fluidounces flounce flounces', 128, 160),
  ],
  temperature: [
    unit('°C', '°c c °celsius celsius centigrade', 1, SI),
    unit('°F', '°f f °fahrenheit fahrenheit', 5 / 9, `t/°C = (t/°F − 32)/1.8 (${NIST})`, -160 / 9),
  ],
  temperatureDifference: [
    unit('°C', '°c c °celsius celsius k kelvin kelvins', 1, SI),
    unit('°F', '°f f °fahrenheit fahrenheit', 5 / 9, NIST),
  ],
  time: [
    unit('min', 'min mins minute minutes', 1, SI),
    unit('s', 's sec secs second seconds', 1 / 60, SI),
    unit('h', 'h hr hrs hour hours', 60, SI),
    unit('days', 'd day days', 1440, SI),
    unit('weeks', 'wk wks week weeks', 10080, '7 days'),
  ],
  percent: [unit('%', '% percent pct', 0.01, SI)],
  maltColour: [
    unit('EBC', 'ebc °ebc', 1, OWN),
    unit(
      '°L',
      '°l lovibond °lovibond srm °srm',
      MALT_EBC_SLOPE,
      '°L = (EBC + 1.2)/2.65 (from memory); SRM of a malt is read as °L (common practice, no source)',
      -MALT_EBC_SHIFT,
    ),
  ],
  sugarColour: [
    unit('EBC', 'ebc °ebc', 1, OWN),
    unit(
      'SRM',
      'srm °srm °l lovibond °lovibond',
      EBC_PER_SRM,
      'SRM = 12.7 · A430, EBC = 25 · A430; °L of a syrup is read as SRM (common practice, no source)',
    ),
  ],
  bitterness: [unit('IBU', 'ibu ibus ebu', 1, OWN)],
  power: [
    unit('kW', 'kw kilowatt kilowatts', 1, SI),
    unit('W', 'w watt watts', 0.001, SI),
    unit(
      'BTU/h',
      'btu/h btu/hr btu/hour btuh',
      KILOWATTS_PER_BTU_PER_HOUR,
      `1 Btu(IT) = 1055.05585262 J (${NIST})`,
    ),
  ],
  carbonation: [
    unit('vol', 'vol vols volume volumes', 1, OWN),
    unit(
      'g/L',
      'g/l g/litre g/liter gram/litre grams/litre grams/liter gco2/l',
      1 / CO2_GRAMS_PER_VOLUME_LITRE,
      'CO2 at 0 °C and 1 atm, 1.9768 g/L (44.0095 g/mol over the real-gas 22.263 L/mol)',
    ),
  ],
  pressure: [
    unit('kPa', 'kpa kilopascal kilopascals', 1, SI),
    unit('bar', 'bar bars barg', 100, '1 bar = 100 kPa (NIST SP 811)'),
    unit('mbar', 'mbar millibar hpa', 0.1, '1 bar = 100 kPa (NIST SP 811)'),
    unit('psi', 'psi psig', KILOPASCALS_PER_PSI, `from the pound, 9.80665 m/s² and the inch (${NIST})`),
  ],
  altitude: [
    unit('m', 'm metre metres meter meters', 1, SI),
    unit('km', 'km kilometre kilometres', 1000, SI),
    unit('ft', 'ft foot feet', METRES_PER_FOOT, `1 ft = 0.3048 m exactly (${NIST})`),
  ],
};
