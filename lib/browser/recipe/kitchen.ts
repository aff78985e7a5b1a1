import { brimFigure, statedFigure } from '../../batch/model/stated-figure.ts';
import type { Setup } from '../../batch/types/setup.ts';
import type { Units } from '../../units/dimension.ts';
import { formatAltitude, formatPower, formatVolume, formatVolumeRate } from '../../units/format/format.ts';
import type { Given } from '../../units/parse/given.ts';
import type { Changes } from './changes.ts';

const given = (value: number, written: string): Given<number> => ({ value, u: null, written });

/** The author's kit with a friend's own figures in place; what the friend does not state stays the author's. */
export function friendsSetup(setup: Setup, changes: Changes, units: Units): Setup {
  const { kettle_L, boilOff_L_per_h, heat_kW, altitude_m } = changes;
  return {
    ...setup,
    // Nobody has said how large the friend's is.
    fermenter_L: null,
    ...(kettle_L === undefined
      ? {}
      : { kettle_L: brimFigure(given(kettle_L, formatVolume(kettle_L, units))) }),
    ...(boilOff_L_per_h === undefined
      ? {}
      : {
          boilOff_L_per_h: statedFigure(
            'boil_off',
            given(boilOff_L_per_h, formatVolumeRate(boilOff_L_per_h, units)),
          ),
        }),
    ...(heat_kW === undefined ? {} : { heat_kW: statedFigure('heat', given(heat_kW, formatPower(heat_kW))) }),
    ...(altitude_m === undefined
      ? {}
      : { altitude_m: statedFigure('altitude', given(altitude_m, formatAltitude(altitude_m, units))) }),
  };
}
