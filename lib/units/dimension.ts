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

export type UnitSystem = 'metric' | 'us';

export interface DimensionFacts {
  /** As in "a weight such as 30 g". */
  readonly noun: string;
  readonly likely: { readonly metric: readonly string[]; readonly us: readonly string[] };
  readonly example: { readonly metric: string; readonly us: string };
  readonly internal: string;
  /** In the internal unit; beyond these a figure is a slip of the pen, not a brewery. */
  readonly min: number;
  readonly max: number;
  /** Units of a quotient such as litres an hour; null for a dimension with units of its own. */
  readonly quotient: {
    readonly above: BaseDimension;
    readonly below: BaseDimension;
    readonly scale: number;
  } | null;
}

const perKilogram = { above: 'volume', below: 'mass', scale: 1000 } as const;

export const DIMENSIONS: Readonly<Record<Dimension, DimensionFacts>> = {
  mass: {
    noun: 'a weight',
    likely: { metric: ['g', 'kg'], us: ['oz', 'lb'] },
    example: { metric: '30 g', us: '1 lb 4 oz' },
    internal: 'g',
    min: 0,
    max: 1e6,
    quotient: null,
  },
  volume: {
    noun: 'a volume',
    likely: { metric: ['L', 'ml'], us: ['gal', 'qt', 'fl oz'] },
    example: { metric: '9.5 L', us: '2 1/2 gal' },
    internal: 'L',
    min: 0,
    max: 1e4,
    quotient: null,
  },
  temperature: {
    noun: 'a temperature',
    likely: { metric: ['°C', '°F'], us: ['°F', '°C'] },
    example: { metric: '68 °C', us: '154 °F' },
    internal: '°C',
    min: -40,
    max: 150,
    quotient: null,
  },
  temperatureDifference: {
    noun: 'a difference of temperatures',
    likely: { metric: ['°C', '°F'], us: ['°F', '°C'] },
    example: { metric: '2 °C', us: '4 °F' },
    internal: '°C',
    min: -150,
    max: 150,
    quotient: null,
  },
  time: {
    noun: 'a length of time',
    likely: { metric: ['min', 'h', 'days'], us: ['min', 'h', 'days'] },
    example: { metric: '60 min', us: '60 min' },
    internal: 'min',
    min: 0,
    max: 10 * 366 * 1440,
    quotient: null,
  },
  percent: {
    noun: 'a percentage',
    likely: { metric: ['%'], us: ['%'] },
    example: { metric: '4.6 %', us: '4.6 %' },
    internal: '',
    min: 0,
    max: 1,
    quotient: null,
  },
  colour: {
    noun: 'a colour',
    likely: { metric: ['EBC', '°L', 'SRM'], us: ['°L', 'SRM', 'EBC'] },
    example: { metric: '8 EBC', us: '4 °L' },
    internal: 'EBC',
    min: 0,
    max: 1e5,
    quotient: null,
  },
  bitterness: {
    noun: 'a bitterness',
    likely: { metric: ['IBU'], us: ['IBU'] },
    example: { metric: '25 IBU', us: '25 IBU' },
    internal: 'IBU',
    min: 0,
    max: 1e5,
    quotient: null,
  },
  power: {
    noun: 'a heating power',
    likely: { metric: ['kW', 'W'], us: ['kW', 'W', 'BTU/h'] },
    example: { metric: '1.5 kW', us: '1.5 kW' },
    internal: 'kW',
    min: 0,
    max: 1000,
    quotient: null,
  },
  volumeRate: {
    noun: 'a volume in a time',
    likely: { metric: ['L/h'], us: ['gal/h', 'qt/h'] },
    example: { metric: '2.2 L/h', us: '0.6 gal/h' },
    internal: 'L/h',
    min: 0,
    max: 1000,
    quotient: { above: 'volume', below: 'time', scale: 60 },
  },
  absorption: {
    noun: 'a volume for a weight',
    likely: { metric: ['L/kg', 'ml/g'], us: ['qt/lb', 'fl oz/oz'] },
    example: { metric: '0.9 L/kg', us: '0.4 qt/lb' },
    internal: 'L/kg',
    min: 0,
    max: 1000,
    quotient: perKilogram,
  },
  carbonation: {
    noun: 'a carbonation',
    likely: { metric: ['vol', 'g/L'], us: ['vol'] },
    example: { metric: '2.3 vol', us: '2.3 vol' },
    internal: 'vol',
    min: 0,
    max: 20,
    quotient: null,
  },
  pressure: {
    noun: 'a pressure',
    likely: { metric: ['bar', 'kPa'], us: ['psi'] },
    example: { metric: '0.8 bar', us: '12 psi' },
    internal: 'kPa',
    min: 0,
    max: 1e4,
    quotient: null,
  },
  altitude: {
    noun: 'a height above the sea',
    likely: { metric: ['m', 'ft'], us: ['ft', 'm'] },
    example: { metric: '150 m', us: '500 ft' },
    internal: 'm',
    min: -450,
    max: 9000,
    quotient: null,
  },
  dose: {
    noun: 'a dose',
    likely: { metric: ['ml/L'], us: ['fl oz/gal'] },
    example: { metric: '1.5 ml/L', us: '1 fl oz/5 gal' },
    internal: 'ml/L',
    min: 0,
    max: 1000,
    quotient: { above: 'volume', below: 'volume', scale: 1000 },
  },
  ratio: {
    noun: 'water for a weight of grain',
    likely: { metric: ['L/kg'], us: ['qt/lb'] },
    example: { metric: '3 L/kg', us: '1.5 qt/lb' },
    internal: 'L/kg',
    min: 0,
    max: 1000,
    quotient: perKilogram,
  },
};
