import type { Dimension } from '../../lib/units/parse/parse.ts';

/** Units that mathjs knows as well, with its own name for the unit and for our internal one. */
export interface FactorRow {
  readonly text: string;
  readonly dimension: Dimension;
  readonly theirs: string;
  readonly to: string;
}

export const FACTOR_CASES: readonly FactorRow[] = [
  { text: '1 kg', dimension: 'mass', theirs: '1 kg', to: 'g' },
  { text: '250 mg', dimension: 'mass', theirs: '250 mg', to: 'g' },
  { text: '1 oz', dimension: 'mass', theirs: '1 oz', to: 'g' },
  { text: '1 lb', dimension: 'mass', theirs: '1 lbm', to: 'g' },
  { text: '3 lbs', dimension: 'mass', theirs: '3 lbm', to: 'g' },
  { text: '1 ml', dimension: 'volume', theirs: '1 ml', to: 'litre' },
  { text: '7 cl', dimension: 'volume', theirs: '7 cl', to: 'litre' },
  { text: '2 hl', dimension: 'volume', theirs: '2 hl', to: 'litre' },
  { text: '1 us gal', dimension: 'volume', theirs: '1 gallon', to: 'litre' },
  { text: '1 us qt', dimension: 'volume', theirs: '1 quart', to: 'litre' },
  { text: '1 us pint', dimension: 'volume', theirs: '1 pint', to: 'litre' },
  { text: '1 us cup', dimension: 'volume', theirs: '1 cup', to: 'litre' },
  { text: '1 us fl oz', dimension: 'volume', theirs: '1 fluidounce', to: 'litre' },
  { text: '154 °F', dimension: 'temperature', theirs: '154 degF', to: 'degC' },
  { text: '-40 F', dimension: 'temperature', theirs: '-40 degF', to: 'degC' },
  { text: '90 s', dimension: 'time', theirs: '90 s', to: 'minute' },
  { text: '3 h', dimension: 'time', theirs: '3 h', to: 'minute' },
  { text: '14 days', dimension: 'time', theirs: '14 day', to: 'minute' },
  { text: '2 weeks', dimension: 'time', theirs: '2 week', to: 'minute' },
  { text: '1800 W', dimension: 'power', theirs: '1800 W', to: 'kW' },
  { text: '10000 BTU/h', dimension: 'power', theirs: '10000 BTU/h', to: 'kW' },
  { text: '12 psi', dimension: 'pressure', theirs: '12 psi', to: 'kPa' },
  { text: '0.8 bar', dimension: 'pressure', theirs: '0.8 bar', to: 'kPa' },
  { text: '500 ft', dimension: 'altitude', theirs: '500 ft', to: 'm' },
  { text: '0.6 us gal/h', dimension: 'volumeRate', theirs: '0.6 gallon/h', to: 'litre/h' },
  { text: '40 ml/min', dimension: 'volumeRate', theirs: '40 ml/minute', to: 'litre/h' },
  { text: '1.5 us qt/lb', dimension: 'ratio', theirs: '1.5 quart/lbm', to: 'litre/kg' },
  { text: '0.9 ml/g', dimension: 'absorption', theirs: '0.9 ml/g', to: 'litre/kg' },
];
