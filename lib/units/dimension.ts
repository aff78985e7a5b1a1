import type {
  Celsius,
  Ebc,
  Fraction,
  Gram,
  Ibu,
  Kelvin,
  Kilopascal,
  Kilowatt,
  Litre,
  LitrePerHour,
  LitrePerKilogram,
  Metre,
  MillilitrePerLitre,
  Minute,
  Volumes,
} from './brands.ts';
import type { BaseDimension } from './table.ts';

/** The internal unit of each thing that can be asked for. */
export interface DimensionBrand {
  mass: Gram;
  volume: Litre;
  temperature: Celsius;
  temperatureDifference: Kelvin;
  time: Minute;
  percent: Fraction;
  colour: Ebc;
  bitterness: Ibu;
  power: Kilowatt;
  volumeRate: LitrePerHour;
  absorption: LitrePerKilogram;
  carbonation: Volumes;
  pressure: Kilopascal;
  altitude: Metre;
  dose: MillilitrePerLitre;
  ratio: LitrePerKilogram;
}

export type Dimension = keyof DimensionBrand;

/** Which units everything computed is shown in; what the brewer wrote stays as written. */
export type Units = 'metric' | 'us';

/** How a dimension is written in one kitchen: an example, and its units, likeliest first. */
interface Written {
  readonly example: string;
  readonly likely: readonly string[];
}

/** A unit made of two, such as litres an hour: their dimensions, and what one of the quotient is in the internal unit. */
type Quotient = readonly [above: BaseDimension, below: BaseDimension, scale: number];

export interface DimensionFacts {
  /** As in "a weight such as 30 g". */
  readonly noun: string;
  readonly internal: string;
  /** In the internal unit; beyond these a figure is a slip of the pen, not a brewery. */
  readonly min: number;
  readonly max: number;
  readonly written: { readonly [U in Units]: Written };
  readonly quotient: Quotient | null;
}

const facts = (
  noun: string,
  internal: string,
  [min, max]: readonly [number, number],
  metric: readonly [example: string, ...likely: string[]],
  us: readonly [example: string, ...likely: string[]] = metric,
  quotient: Quotient | null = null,
): DimensionFacts => {
  const written = ([example, ...likely]: readonly [string, ...string[]]): Written => ({ example, likely });
  return { noun, internal, min, max, written: { metric: written(metric), us: written(us) }, quotient };
};

const TEN_YEARS_MIN = 10 * 366 * 1440;
const PER_KILOGRAM: Quotient = ['volume', 'mass', 1000];

export const DIMENSIONS: Readonly<Record<Dimension, DimensionFacts>> = {
  mass: facts('a weight', 'g', [0, 1e6], ['30 g', 'g', 'kg'], ['1 lb 4 oz', 'oz', 'lb']),
  volume: facts('a volume', 'L', [0, 1e4], ['9.5 L', 'L', 'ml'], ['2 1/2 gal', 'gal', 'qt', 'fl oz']),
  temperature: facts('a temperature', '°C', [-40, 150], ['68 °C', '°C', '°F'], ['154 °F', '°F', '°C']),
  temperatureDifference: facts(
    'a difference of temperatures',
    '°C',
    [-150, 150],
    ['2 °C', '°C', '°F'],
    ['4 °F', '°F', '°C'],
  ),
  time: facts('a length of time', 'min', [0, TEN_YEARS_MIN], ['60 min', 'min', 'h', 'days']),
  percent: facts('a percentage', '', [0, 1], ['4.6 %', '%']),
  colour: facts('a colour', 'EBC', [0, 1e5], ['8 EBC', 'EBC', '°L', 'SRM'], ['4 °L', '°L', 'SRM', 'EBC']),
  bitterness: facts('a bitterness', 'IBU', [0, 1e5], ['25 IBU', 'IBU']),
  power: facts('a heating power', 'kW', [0, 1000], ['1.5 kW', 'kW', 'W'], ['1.5 kW', 'kW', 'W', 'BTU/h']),
  volumeRate: facts(
    'a volume in a time',
    'L/h',
    [0, 1000],
    ['2.2 L/h', 'L/h'],
    ['0.6 gal/h', 'gal/h', 'qt/h'],
    ['volume', 'time', 60],
  ),
  absorption: facts(
    'a volume for a weight',
    'L/kg',
    [0, 1000],
    ['0.9 L/kg', 'L/kg', 'ml/g'],
    ['0.4 qt/lb', 'qt/lb', 'fl oz/oz'],
    PER_KILOGRAM,
  ),
  carbonation: facts('a carbonation', 'vol', [0, 20], ['2.3 vol', 'vol', 'g/L'], ['2.3 vol', 'vol']),
  pressure: facts('a pressure', 'kPa', [0, 1e4], ['0.8 bar', 'bar', 'kPa'], ['12 psi', 'psi']),
  altitude: facts('a height above the sea', 'm', [-450, 9000], ['150 m', 'm', 'ft'], ['500 ft', 'ft', 'm']),
  dose: facts(
    'a dose',
    'ml/L',
    [0, 1000],
    ['1.5 ml/L', 'ml/L'],
    ['1 fl oz/5 gal', 'fl oz/gal'],
    ['volume', 'volume', 1000],
  ),
  ratio: facts(
    'water for a weight of grain',
    'L/kg',
    [0, 1000],
    ['3 L/kg', 'L/kg'],
    ['1.5 qt/lb', 'qt/lb'],
    PER_KILOGRAM,
  ),
};
