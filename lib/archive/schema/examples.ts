import type { Units } from '../../units/dimension.ts';
import {
  GRAMS_PER_OUNCE,
  GRAMS_PER_POUND,
  LITRES_PER_US_GALLON,
  METRES_PER_FOOT,
} from '../../units/table.ts';

const QUART = LITRES_PER_US_GALLON / 4;
const FLUID_OUNCE_ml = (LITRES_PER_US_GALLON * 1000) / 128;
/** 1 bar in pounds-force per square inch, for an example. */
const PSI_PER_BAR = 14.5;

type Turn = readonly [unit: string, turn: (n: number) => readonly [number, string]];

const TURNS: readonly Turn[] = [
  ['L/kg', (n) => [((n / QUART) * GRAMS_PER_POUND) / 1000, 'qt/lb']],
  ['L/h', (n) => [n / LITRES_PER_US_GALLON, 'gal/h']],
  ['ml/L', (n) => [(n * LITRES_PER_US_GALLON) / FLUID_OUNCE_ml, 'fl oz/gal']],
  ['°C', (n) => [n * 1.8 + 32, '°F']],
  ['kg', (n) => [(n * 1000) / GRAMS_PER_POUND, 'lb']],
  ['ml', (n) => [n / FLUID_OUNCE_ml, 'fl oz']],
  ['bar', (n) => [n * PSI_PER_BAR, 'psi']],
  ['EBC', (n) => [Math.max(0, (n + 1.2) / 2.65), '°L']],
  ['L', (n) => (n < 2 ? [n / QUART, 'qt'] : [n / LITRES_PER_US_GALLON, 'gal'])],
  ['g', (n) => [n / GRAMS_PER_OUNCE, 'oz']],
  ['m', (n) => [n / METRES_PER_FOOT, 'ft']],
];

/** The longer units first, so that `L/kg` is not taken for `L`; `g/L` of gas is written by everybody. */
const FIGURE = new RegExp(
  String.raw`([0-9]+(?:\.[0-9]+)?)(?:-([0-9]+))? (${TURNS.map(([unit]) => unit).join('|')})(?![A-Za-z/])`,
  'g',
);

/** An example of ours in the brewer's units, to two figures; for our own words only, never for the brewer's. */
export function example(units: Units, metric: string): string {
  if (units === 'metric') return metric;
  return metric.replaceAll(FIGURE, (_, low: string, high: string | undefined, unit: string) => {
    const turn = TURNS.find(([known]) => known === unit)?.[1];
    if (turn === undefined) return _;
    const [value, to] = turn(Number(low));
    return high === undefined
      ? `${short(value)} ${to}`
      : `${short(value)}-${short(turn(Number(high))[0])} ${to}`;
  });
}

function short(value: number): string {
  return value >= 10 ? String(Math.round(value)) : String(Number(value.toPrecision(2)));
}
