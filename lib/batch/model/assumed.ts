/** Which figures of the kit are defaults: the sheet marks them, and says why they are what they are. */
import type { Dimension, Units } from '../../units/dimension.ts';
import { formatGravity, formatQuantity } from '../../units/format/format.ts';
import type { Brewery } from '../types/brewery.ts';
import type { Plan } from '../types/plan.ts';
import type { Setup, SetupFigure } from '../types/setup.ts';
import { SETUP_DEFAULTS, type SetupDefaultKey } from './defaults.ts';

type Soak = 'steep' | 'mash';

/** Figures that matter only where grain is soaked in one of these ways. */
const ONLY_WITH: Partial<Readonly<Record<SetupDefaultKey, readonly Soak[]>>> = {
  grain_absorption: ['steep', 'mash'],
  steep_efficiency: ['steep'],
  mash_efficiency: ['mash'],
};

/** Figures whose default matters to this batch, by their key in `setups.yaml`. */
export function assumedFigures(
  setup: Setup,
  uses: Readonly<Record<Soak, boolean>>,
  units: Brewery['units'],
): Plan['assumed'] {
  const matters = (key: SetupDefaultKey) => ONLY_WITH[key]?.some((soak) => uses[soak]) ?? true;
  const figures: readonly (readonly [SetupDefaultKey, SetupFigure])[] = [
    // First of all to measure: it moves the gravity and nobody knows it before a brew.
    ['kettle_loss', setup.kettleLoss_L],
    ['heat', setup.heat_kW],
    ['boil_off', setup.boilOff_L_per_h],
    ['hop_absorption', setup.hopAbsorption_L_per_kg],
    ['grain_absorption', setup.grainAbsorption_L_per_kg],
    ['fermenter_loss', setup.fermenterLoss_L],
    ['steep_efficiency', setup.steepEfficiency],
    ['mash_efficiency', setup.mashEfficiency],
    ['chill.to', setup.chill.to_C],
    ['chill.in', setup.chill.in_min],
    ['water_temperature', setup.waterTemperature_C],
    ['top_up_temperature', setup.topUpTemperature_C],
    ['room_temperature', setup.roomTemperature_C],
    ['altitude', setup.altitude_m],
    ['hydrometer.at', setup.hydrometer.at_C],
  ];
  const known = figures
    .filter(([key, figure]) => figure.assumed && matters(key))
    .map(([key, { value }]) => ({
      key,
      value: writtenAs(key, value, units),
      reason: SETUP_DEFAULTS[key].reason,
    }));
  return setup.chill.assumed ? [...known, { key: 'chill.with', ...ASSUMED_CHILL(setup.chill.with) }] : known;
}

const ASSUMED_CHILL = (value: string) => ({ value, reason: 'what most kitchens can do with what they have' });

type Unit = (typeof SETUP_DEFAULTS)[SetupDefaultKey]['unit'];

/** What a default measures, by the unit that it is kept in. */
const DIMENSION_OF: { readonly [U in Exclude<Unit, 'SG'>]: Dimension } = {
  kW: 'power',
  L: 'volume',
  'L/h': 'volumeRate',
  'L/kg': 'absorption',
  '°C': 'temperature',
  min: 'time',
  m: 'altitude',
  K: 'temperatureDifference',
  '1': 'percent',
};

/** A figure of the kit in the brewer's units. */
export function writtenAs(key: SetupDefaultKey, value: number, units: Units): string {
  const { unit } = SETUP_DEFAULTS[key];
  return unit === 'SG' ? formatGravity(value) : formatQuantity(value, DIMENSION_OF[unit], units);
}
