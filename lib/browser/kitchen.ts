import { SETUP_DEFAULTS, STATED_FIGURE_SHARE } from '../batch/defaults.ts';
import type { Setup, SetupFigure } from '../batch/setup.ts';
import type { UnitSystem } from '../units/dimension.ts';
import { formatAltitude, formatPower, formatVolume, formatVolumeRate } from '../units/format.ts';
import type { Changes } from './changes.ts';

/** A brim is out by a fiftieth, as where a kit is described in full. From memory. */
const BRIM_SHARE = 0.02;

const stated = (value: number, u: number, written: string): SetupFigure => ({
  value,
  u,
  written,
  assumed: false,
});

/** A stated figure is known as well as one that stands in `setups.yaml`: a share of the default's uncertainty. */
function scaled(key: 'boil_off' | 'heat', value: number, written: string): SetupFigure {
  const { value: usual, u } = SETUP_DEFAULTS[key];
  return stated(value, STATED_FIGURE_SHARE * (u / usual) * value, written);
}

/** The author's kit with a friend's own figures in place; what the friend does not state stays the author's. */
export function friendsSetup(setup: Setup, changes: Changes, units: UnitSystem): Setup {
  const { kettle_L, boilOff_L_per_h, heat_kW, altitude_m } = changes;
  const altitude_u = STATED_FIGURE_SHARE * SETUP_DEFAULTS.altitude.u;
  return {
    ...setup,
    // Nobody has said how large the friend's is.
    fermenter_L: null,
    ...(kettle_L === undefined
      ? {}
      : { kettle_L: stated(kettle_L, BRIM_SHARE * kettle_L, formatVolume(kettle_L, units)) }),
    ...(boilOff_L_per_h === undefined
      ? {}
      : {
          boilOff_L_per_h: scaled('boil_off', boilOff_L_per_h, formatVolumeRate(boilOff_L_per_h, units)),
        }),
    ...(heat_kW === undefined ? {} : { heat_kW: scaled('heat', heat_kW, formatPower(heat_kW)) }),
    ...(altitude_m === undefined
      ? {}
      : { altitude_m: stated(altitude_m, altitude_u, formatAltitude(altitude_m, units)) }),
  };
}
