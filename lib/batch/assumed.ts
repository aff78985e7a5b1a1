/** Which figures of the kit are defaults: the sheet marks them, and says why they are what they are. */
import { SETUP_DEFAULTS, type SetupDefaultKey } from './defaults.ts';
import type { Plan } from './plan.ts';
import type { Setup, SetupFigure } from './setup.ts';

/** Figures whose default matters to this batch, by their key in `setups.yaml`. */
export function assumedFigures(
  setup: Setup,
  uses: { readonly steep: boolean; readonly mash: boolean },
): Plan['assumed'] {
  const figures: readonly (readonly [SetupDefaultKey, SetupFigure])[] = [
    ['heat', setup.heat_kW],
    ['boil_off', setup.boilOff_L_per_h],
    ['kettle_loss', setup.kettleLoss_L],
    ['hop_absorption', setup.hopAbsorption_L_per_kg],
    ...(uses.steep || uses.mash ? [['grain_absorption', setup.grainAbsorption_L_per_kg] as const] : []),
    ['fermenter_loss', setup.fermenterLoss_L],
    ...(uses.steep ? [['steep_efficiency', setup.steepEfficiency] as const] : []),
    ...(uses.mash ? [['mash_efficiency', setup.mashEfficiency] as const] : []),
    ['chill.to', setup.chill.to_C],
    ['chill.in', setup.chill.in_min],
    ['water_temperature', setup.waterTemperature_C],
    ['top_up_temperature', setup.topUpTemperature_C],
    ['room_temperature', setup.roomTemperature_C],
    ['altitude', setup.altitude_m],
    ['hydrometer.at', setup.hydrometer.at_C],
  ];
  return figures
    .filter(([, figure]) => figure.assumed)
    .map(([key, figure]) => {
      const { unit, reason } = SETUP_DEFAULTS[key];
      return {
        key,
        value: unit === '1' ? `${Math.round(figure.value * 100)} %` : `${figure.value} ${unit}`,
        reason,
      };
    });
}
