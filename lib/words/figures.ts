import type { Figure, TargetKey } from '../batch/types/plan.ts';
import {
  iceScale,
  massScale,
  pressureScale,
  type Scale,
  temperatureScale,
  US_GALLON_L,
  volumeScale,
  volumeText,
} from './measures.ts';
import { amountNumber, fixedNumber, outward, type Units } from './numbers.ts';

/** A target in the brewer's units, rounded to its printed step. */
export interface FigureText {
  readonly key: TargetKey;
  readonly label: string;
  readonly number: string;
  /** Empty where the figure has none (gravity, counts). */
  readonly unit: string;
  /** The two ends of *fine between*, in the same unit as the number. */
  readonly low: string;
  readonly high: string;
}

/** The word for every target, as page, sheet and chart print it. */
export const FIGURE_LABELS: { readonly [K in TargetKey]: string } = {
  original_gravity: 'Original gravity',
  final_gravity: 'Final gravity',
  original_extract_plato: 'Original extract',
  alcohol_volume_percent: 'Alcohol by volume',
  alcohol_mass_percent: 'Alcohol by mass',
  bitterness_ibu: 'Bitterness',
  colour_ebc: 'Colour',
  colour_srm: 'Colour',
  energy_kcal_per_litre: 'Energy',
  apparent_attenuation_percent: 'Apparent attenuation',
  water_to_heat_l: 'Water to heat',
  boil_start_volume_l: 'Wort at the start of the boil, at room temperature',
  boil_start_gravity: 'Gravity at the start of the boil',
  boil_end_volume_l: 'Wort at the end of the boil, at room temperature',
  boil_end_gravity: 'Gravity at the end of the boil',
  boil_start_volume_hot_l: 'Wort at the start of the boil, hot',
  boil_end_volume_hot_l: 'Wort at the end of the boil, hot',
  kettle_fill_percent: 'Kettle at its fullest',
  top_up_l: 'Top-up water',
  top_up_c: 'Top-up water no warmer than',
  chill_to_c: 'Chill the wort to',
  steep_water_c: 'Steeping water before the grain',
  strike_water_c: 'Mash water before the grain',
  minutes_to_steep: 'Heating to the steep',
  minutes_to_boil: 'Heating to the boil',
  minutes_back_to_boil: 'Back to the boil after the extract',
  ice_kg: 'Ice for the bath',
  yeast_cells_billion: 'Yeast cells wanted',
  yeast_packs: 'Yeast packs',
  packaged_volume_l: 'Beer to package',
  bottles: 'Bottles',
  priming_sugar_g: 'Priming sugar',
  residual_co2_vol: 'Carbon dioxide still in the beer',
  bottle_pressure_20c_kpa: 'Bottle pressure, cool room',
  bottle_pressure_30c_kpa: 'Bottle pressure, hot day',
  keg_pressure_kpa: 'Keg pressure',
};

const US_BOTTLE_L = 0.3548823549;

const plain = (unit: string, step: number): Scale => ({ unit, step, of: (value) => value });

const energy = (units: Units): Scale =>
  units === 'metric'
    ? plain('kcal per litre', 10)
    : { unit: 'kcal per 12 fl oz', step: 5, of: (kcal) => kcal * US_BOTTLE_L };

const GRAVITIES: readonly TargetKey[] = [
  'original_gravity',
  'final_gravity',
  'boil_start_gravity',
  'boil_end_gravity',
];

/** The unit and printed step of a target; `value` decides between a unit and its multiple. */
function scaleOf(key: TargetKey, value: number, units: Units): Scale {
  if (GRAVITIES.includes(key)) return plain('', 0.001);
  if (key.endsWith('_l')) return volumeScale(value, units);
  if (key.endsWith('_c')) return temperatureScale(units);
  if (key.endsWith('_kpa')) return pressureScale(units);
  if (key.startsWith('minutes_')) return plain('min', 1);
  switch (key) {
    case 'original_extract_plato':
      return plain('°P', 0.1);
    case 'alcohol_volume_percent':
    case 'alcohol_mass_percent':
      return plain('%', 0.1);
    case 'apparent_attenuation_percent':
    case 'kettle_fill_percent':
      return plain('%', 1);
    case 'bitterness_ibu':
      return plain('IBU', 1);
    case 'colour_ebc':
      return plain('EBC', 1);
    case 'colour_srm':
      return plain('SRM', 1);
    case 'energy_kcal_per_litre':
      return energy(units);
    case 'ice_kg':
      return iceScale(units);
    case 'yeast_cells_billion':
      return plain('billion', 10);
    case 'priming_sugar_g':
      return massScale(value, units);
    case 'residual_co2_vol':
      return plain('vol', 0.1);
    default:
      return plain('', 1);
  }
}

/**
 * Puts a target into the brewer's units, value and range in the same unit.
 *
 * The range is the figure's printed one; where it has to be converted it is rounded outward once more to the
 * step of the new unit, so that it never becomes narrower than the range that verdicts are given by.
 * `given` stands in place of the target's usual unit.
 */
export function figureText(key: TargetKey, figure: Figure, units: Units, given?: Scale): FigureText {
  if (units === 'us' && key.endsWith('_l') && given === undefined) return quartsText(key, figure);
  const scale = given ?? scaleOf(key, figure.value, units);
  const range = outward(scale.of(figure.printed.low), scale.of(figure.printed.high), scale.step);
  const digits = (value: number): string =>
    GRAVITIES.includes(key) ? fixedNumber(value, 3) : amountNumber(value, scale.step);
  return {
    key,
    label: FIGURE_LABELS[key],
    number: digits(scale.of(figure.value)),
    unit: scale.unit,
    low: digits(range.low),
    high: digits(range.high),
  };
}

/** Gallons and quarts to the quarter quart, each end with its units. */
function quartsText(key: TargetKey, { value, printed }: Figure): FigureText {
  const step_L = US_GALLON_L / 16;
  const range = outward(printed.low, printed.high, step_L);
  const text = (litres: number): string => volumeText(litres, 'us');
  return {
    key,
    label: FIGURE_LABELS[key],
    number: text(value),
    unit: '',
    low: text(range.low),
    high: text(range.high),
  };
}

/** One line of a figure: `1.044`, `9.5 L`. */
export function figureLine(key: TargetKey, figure: Figure, units: Units): string {
  const text = figureText(key, figure, units);
  return text.unit === '' ? text.number : `${text.number}\u00a0${text.unit}`;
}
