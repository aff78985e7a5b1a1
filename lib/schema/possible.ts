/** What is possible for a figure: in the internal unit, and in words. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
  readonly text: string;
}

const bounds = (low: number, high: number, text: string): Bounds => ({ low, high, text });

/** More than nothing. */
const SOME = 1e-9;

/** Outside these a figure is a slip of the pen, not a brew. */
export const POSSIBLE = {
  mass: bounds(SOME, 1e6, 'more than 0 g and at most 1000 kg'),
  massOrNone: bounds(0, 1e6, '0 g to 1000 kg'),
  volume: bounds(SOME, 10_000, 'more than 0 L and at most 10000 L'),
  volumeOrNone: bounds(0, 10_000, '0 L to 10000 L'),
  beer: bounds(-5, 60, 'a temperature from -5 °C to 60 °C'),
  liquor: bounds(0, 100, 'a temperature from 0 °C to 100 °C'),
  time: bounds(0, 5 * 366 * 1440, '0 min to five years'),
  heating: bounds(0.5, 1440, '30 s to 24 h'),
  percent: bounds(0, 1, '0 % to 100 %'),
  carbonation: bounds(0, 6, '0 vol to 6 vol'),
  // A colour above any malt in the trade by a factor of two.
  colour: bounds(0, 5000, '0 EBC to 5000 EBC'),
  altitude: bounds(-450, 6000, '-450 m to 6000 m'),
  power: bounds(0.05, 50, '0.05 kW to 50 kW'),
  boilOff: bounds(0, 100, '0 L/h to 100 L/h'),
  absorption: bounds(0, 50, '0 L/kg to 50 L/kg'),
  mashRatio: bounds(1, 20, '1 L/kg to 20 L/kg'),
  dose: bounds(0, 1000, '0 ml/L to 1000 ml/L'),
  factor: bounds(0.5, 2, '0.5 to 2'),
  step: bounds(0.01, 20, 'more than 0 °C and at most 20 °C'),
  bottlePressure: bounds(1, 5000, 'a gauge pressure from 0.01 bar to 50 bar'),
  bottleGas: bounds(SOME, 20, 'more than 0 vol and at most 20 vol'),
} as const;

export const AMOUNT: Bounds = bounds(SOME, 1e6, 'more than nothing');
