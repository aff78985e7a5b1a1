import type { Units } from '../dimension.ts';
import {
  EBC_PER_SRM,
  GRAMS_PER_OUNCE,
  GRAMS_PER_POUND,
  KILOPASCALS_PER_PSI,
  LITRES_PER_US_GALLON,
  LITRES_PER_US_QUART,
  MALT_EBC_SHIFT,
  MALT_EBC_SLOPE,
  METRES_PER_FOOT,
} from '../table.ts';
import { fixed, joined, mustBeFinite, type Parts, placesOf, trimmed } from './round.ts';

/** A unit that a quantity is shown in: how to convert to it, and the smallest step worth printing. */
export interface Scale {
  readonly unit: string;
  readonly step: number;
  of(value: number): number;
}

const scale = (unit: string, step: number, of = (value: number): number => value): Scale => ({
  unit,
  step,
  of,
});
const over = (size: number) => (value: number) => value / size;
/** Colours of a scale under 10 differ by their tenths. */
const colour = (unit: string, of: (ebc: number) => number) => (value: number) =>
  scale(unit, of(value) < 10 ? 0.1 : 1, of);
const lovibond = (ebc: number): number => (ebc + MALT_EBC_SHIFT) / MALT_EBC_SLOPE;

/** Quarts to their tenth, as boxes by the kettle have them. */
export const QUARTS: Scale = scale('qt', 0.1, over(LITRES_PER_US_QUART));
/** Gallons to their hundredth, as boxes on paper have them. */
export const GALLONS: Scale = scale('gal', 0.01, over(LITRES_PER_US_GALLON));

type Choice = Scale | ((value: number) => Scale);

const SCALES = {
  temperature: [scale('°C', 1), scale('°F', 1, (celsius) => celsius * 1.8 + 32)],
  /** As brewers say it: in °C or °F. */
  temperatureDifference: [scale('°C', 0.1), scale('°F', 0.1, (kelvin) => kelvin * 1.8)],
  /** Beer and wort in EBC; US: SRM = EBC · 12.7/25. */
  colour: [scale('EBC', 1), colour('SRM', over(EBC_PER_SRM))],
  /** US: °L = (EBC + 1.2)/2.65, from memory. */
  maltColour: [scale('EBC', 1), colour('°L', lovibond)],
  /** Gauge pressure in kPa. */
  pressure: [scale('bar', 0.1, over(100)), scale('psi', 1, over(KILOPASCALS_PER_PSI))],
  /** A share from 0 to 1. */
  percent: [scale('%', 0.1, over(0.01))],
  carbonation: [scale('vol', 0.1)],
  bitterness: [scale('IBU', 1)],
  power: [scale('kW', 0.1)],
  volumeRate: [scale('L/h', 0.1), scale('gal/h', 0.01, over(LITRES_PER_US_GALLON))],
  /** For absorption and for water to grain. */
  absorption: [
    scale('L/kg', 0.1),
    scale('qt/lb', 0.01, over(LITRES_PER_US_QUART / (GRAMS_PER_POUND / 1000))),
  ],
  altitude: [scale('m', 1), scale('ft', 1, over(METRES_PER_FOOT))],
  dose: [scale('ml/L', 0.01), scale('fl oz/gal', 0.01, over(1000 / 128))],
} as const satisfies Readonly<Record<string, readonly [Choice, Choice?]>>;

export type Scaled = keyof typeof SCALES;

/** The scale of a figure of so much. */
export function scaleOf(of: Scaled, value: number, units: Units): Scale {
  const [metric, us = metric]: readonly [Choice, Choice?] = SCALES[of];
  const choice = units === 'us' ? us : metric;
  return typeof choice === 'function' ? choice(value) : choice;
}

/** The scale for a volume in litres; US volumes below a gallon are in quarts. */
export function volumeScale(litres: number, units: Units): Scale {
  if (units === 'metric') return scale('L', 0.1);
  return Math.abs(litres) >= LITRES_PER_US_GALLON ? GALLONS : QUARTS;
}

/** The scale for a mass in grams, in one unit: g below 1 kg, kg above; ounces below 2 lb, pounds above. */
export function massScale(grams: number, units: Units): Scale {
  const size = Math.abs(grams);
  if (units === 'metric') return size >= 1000 ? scale('kg', 0.01, over(1000)) : scale('g', 1);
  if (size >= 2 * GRAMS_PER_POUND) return scale('lb', 0.05, over(GRAMS_PER_POUND));
  return scale('oz', size > 100 ? 0.1 : 0.01, over(GRAMS_PER_OUNCE));
}

/** A figure raised to its step, with room for binary fractions. */
const upTo = (step: number, size: number) => (value: number) => Math.ceil(value / size / step - 1e-9) * step;

/** The scale for ice in kilograms: nobody weighs it to the gram, and too little is worse than too much. */
export const iceScale = (units: Units): Scale =>
  units === 'metric' ? scale('kg', 0.1, upTo(0.1, 1)) : scale('lb', 1, upTo(1, GRAMS_PER_POUND / 1000));

/** Number and unit on the scale of a dimension. Throws RangeError where the value is not finite. */
export function scaledParts(of: Scaled, value: number, units: Units, decimals?: number): Parts {
  mustBeFinite(value, `a ${of}`);
  const { unit, step, of: convert } = scaleOf(of, value, units);
  return { number: trimmed(convert(value), decimals ?? placesOf(step)), unit };
}

const textOf = (of: Scaled) => (value: number, units: Units) => joined(scaledParts(of, value, units));
/** Of what has one unit in every kitchen. */
const oneUnit = (of: Scaled) => (value: number) => joined(scaledParts(of, value, 'metric'));

export const pressureParts = (kPa: number, units: Units): Parts => scaledParts('pressure', kPa, units);
export const temperatureParts = (celsius: number, units: Units, decimals?: number): Parts =>
  scaledParts('temperature', celsius, units, decimals);
export const formatTemperature = textOf('temperature');
export const formatMaltColour = textOf('maltColour');
export const formatVolumeRate = textOf('volumeRate');
export const formatAbsorption = textOf('absorption');
export const formatAltitude = textOf('altitude');
export const formatPercent = oneUnit('percent');
export const formatVolumes = oneUnit('carbonation');
export const formatPower = oneUnit('power');

/** A specific gravity with three decimals and no unit, `1.050`. Throws RangeError where it is not finite. */
export function formatGravity(sg: number): string {
  mustBeFinite(sg, 'a specific gravity');
  return fixed(sg, 3);
}
