/** What is possible for a figure: in the internal unit, and in words. */
export interface Bounds {
  readonly low: number;
  readonly high: number;
  readonly text: { readonly metric: string; readonly us: string };
}

const bounds = (low: number, high: number, metric: string, us = metric): Bounds => ({
  low,
  high,
  text: { metric, us },
});

/** More than nothing. */
const SOME = 1e-9;

/** Outside these a figure is a slip of the pen, not a brew. */
export const POSSIBLE = {
  mass: bounds(SOME, 1e6, 'more than 0 g and at most 1000 kg', 'more than 0 oz and at most 2200 lb'),
  massOrNone: bounds(0, 1e6, '0 g to 1000 kg', '0 oz to 2200 lb'),
  volume: bounds(SOME, 10_000, 'more than 0 L and at most 10000 L', 'more than 0 gal and at most 2600 gal'),
  volumeOrNone: bounds(0, 10_000, '0 L to 10000 L', '0 gal to 2600 gal'),
  beer: bounds(-5, 60, 'a temperature from -5 °C to 60 °C', 'a temperature from 23 °F to 140 °F'),
  liquor: bounds(0, 100, 'a temperature from 0 °C to 100 °C', 'a temperature from 32 °F to 212 °F'),
  time: bounds(0, 5 * 366 * 1440, '0 min to five years'),
  heating: bounds(0.5, 1440, '30 s to 24 h'),
  percent: bounds(0, 1, '0 % to 100 %'),
  // Extracts of hops hold twice what any crop does. Common practice, no source.
  alpha: bounds(0, 0.7, '0 % to 70 %'),
  carbonation: bounds(0, 6, '0 vol to 6 vol'),
  // A colour above any malt in the trade by a factor of two.
  colour: bounds(0, 5000, '0 EBC to 5000 EBC', '0 SRM to 2500 SRM'),
  altitude: bounds(-450, 6000, '-450 m to 6000 m', '-1400 ft to 19000 ft'),
  power: bounds(0.05, 50, '0.05 kW to 50 kW'),
  boilOff: bounds(0, 100, '0 L/h to 100 L/h', '0 gal/h to 26 gal/h'),
  absorption: bounds(0, 50, '0 L/kg to 50 L/kg', '0 qt/lb to 24 qt/lb'),
  mashRatio: bounds(1, 20, '1 L/kg to 20 L/kg', '0.5 qt/lb to 9 qt/lb'),
  dose: bounds(0, 1000, '0 ml/L to 1000 ml/L', '0 fl oz/gal to 128 fl oz/gal'),
  factor: bounds(0.5, 2, '0.5 to 2'),
  step: bounds(0.01, 20, 'more than 0 °C and at most 20 °C', 'more than 0 °F and at most 36 °F'),
  bottlePressure: bounds(
    1,
    5000,
    'a gauge pressure from 0.01 bar to 50 bar',
    'a gauge pressure from 0.2 psi to 700 psi',
  ),
  bottleGas: bounds(SOME, 20, 'more than 0 vol and at most 20 vol'),
} as const;

/** Outside these a figure is possible and most unlikely: warnings. Common practice, no source. */
export const USUAL = {
  // No crop of hops holds more alpha acids. Common practice, no source.
  alpha: bounds(0, 0.3, 'at most 30 % in hops; extracts of hops hold more'),
  bottle: bounds(0.05, 10, 'a bottle of 50 ml to 10 L', 'a bottle of 1.7 fl oz to 2.6 gal'),
  steep: bounds(40, 85, 'a steep from 40 °C to 85 °C', 'a steep from 104 °F to 185 °F'),
  steepTime: bounds(0, 180, 'a steep of at most 3 h'),
} as const;

export const AMOUNT: Bounds = bounds(SOME, 1e6, 'more than nothing');
