/** Which figures of the setup are defaults: the sheet marks them, and says why they are what they are. */
import type { Dimension, Units } from '../../units/dimension.ts';
import { formatGravity, formatQuantity } from '../../units/format/format.ts';
import type { Brewery } from '../types/brewery.ts';
import type { Plan } from '../types/plan.ts';
import type { Setup, SetupFigure } from '../types/setup.ts';
import { type Default, SETUP_DEFAULTS, type SetupDefaultKey } from './defaults.ts';

type Soak = 'steep' | 'mash';

/** Figures that matter only where grain is soaked in one of these ways. */
const ONLY_WITH: Partial<Readonly<Record<SetupDefaultKey, readonly Soak[]>>> = {
  grain_absorption: ['steep', 'mash'],
  steep_efficiency: ['steep'],
  mash_efficiency: ['mash'],
};

/** Where a setup has the figure of a key, in the order of what is worth measuring first. */
export const FIGURE_OF = {
  // It moves the gravity, and nobody knows it before a brew.
  kettle_loss: (setup) => setup.kettleLoss_L,
  heat: (setup) => setup.heat_kW,
  boil_off: (setup) => setup.boilOff_L_per_h,
  hop_absorption: (setup) => setup.hopAbsorption_L_per_kg,
  grain_absorption: (setup) => setup.grainAbsorption_L_per_kg,
  fermenter_loss: (setup) => setup.fermenterLoss_L,
  steep_efficiency: (setup) => setup.steepEfficiency,
  mash_efficiency: (setup) => setup.mashEfficiency,
  'chill.to': (setup) => setup.chill.to_C,
  'chill.in': (setup) => setup.chill.in_min,
  water_temperature: (setup) => setup.waterTemperature_C,
  top_up_temperature: (setup) => setup.topUpTemperature_C,
  room_temperature: (setup) => setup.roomTemperature_C,
  altitude: (setup) => setup.altitude_m,
  'hydrometer.at': (setup) => setup.hydrometer.at_C,
} as const satisfies { readonly [K in SetupDefaultKey]?: (setup: Setup) => SetupFigure };
export type FigureKey = keyof typeof FIGURE_OF;

/** What a plan's assumed figure is called: `boil-off`. */
export const assumedLabel = (key: string): string =>
  key === 'chill.with' ? 'chilled with' : SETUP_DEFAULTS[key as FigureKey].label;

/** Figures whose default matters to this batch, by their key in `setups.yaml`. */
export function assumedFigures(
  setup: Setup,
  uses: Readonly<Record<Soak, boolean>>,
  units: Brewery['units'],
): Plan['assumed'] {
  const known = (Object.keys(FIGURE_OF) as FigureKey[])
    .filter((key) => FIGURE_OF[key](setup).assumed)
    .filter((key) => ONLY_WITH[key]?.some((soak) => uses[soak]) ?? true)
    .map((key) => ({
      key,
      value: writtenAs(key, FIGURE_OF[key](setup).value, units),
      reason: reasonOf(key, units),
    }));
  return setup.chill.assumed ? [...known, { key: 'chill.with', ...ASSUMED_CHILL(setup.chill.with) }] : known;
}

const ASSUMED_CHILL = (value: string) => ({ value, reason: 'what most kitchens can do with what they have' });

type Unit = (typeof SETUP_DEFAULTS)[SetupDefaultKey]['unit'];

/** What a default measures, by the unit that it is kept in. */
const DIMENSIONS = {
  kW: 'power',
  L: 'volume',
  'L/h': 'volumeRate',
  'L/kg': 'absorption',
  '°C': 'temperature',
  min: 'time',
  m: 'altitude',
  K: 'temperatureDifference',
  '1': 'percent',
} as const satisfies { readonly [U in Exclude<Unit, 'SG'>]: Dimension };

/** What a figure of the setup measures. */
export const dimensionOf = (key: FigureKey) => DIMENSIONS[SETUP_DEFAULTS[key].unit];

/** A figure of the setup in the brewer's units. */
export function writtenAs(key: SetupDefaultKey, value: number, units: Units): string {
  const { unit } = SETUP_DEFAULTS[key];
  return unit === 'SG' ? formatGravity(value) : formatQuantity(value, DIMENSIONS[unit], units);
}

/** Why a figure of a setup is what it is where nobody stated it, in the brewer's units. */
export function reasonOf(key: SetupDefaultKey, units: Units): string {
  const { reason, inGallons }: Default = SETUP_DEFAULTS[key];
  return units === 'us' ? (inGallons ?? reason) : reason;
}
