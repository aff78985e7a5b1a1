import { brimFigure, statedFigure } from '../../batch/model/stated-figure.ts';
import type { Setup } from '../../batch/types/setup.ts';
import type { Dimension, Units } from '../../units/dimension.ts';
import { formatQuantity } from '../../units/format/format.ts';
import type { Given } from '../../units/parse/given.ts';
import type { Changes } from './changes.ts';

/** The author's setup with a friend's own figures in place; what the friend does not state stays the author's. */
export function friendsSetup(setup: Setup, changes: Changes, units: Units): Setup {
  const own = <K extends 'kettle_L' | 'boilOff_L_per_h' | 'heat_kW' | 'altitude_m'>(
    key: K,
    dimension: Dimension,
    figure: (given: Given<number>) => Setup[K],
  ): Setup[K] => {
    const value = changes[key];
    return value === undefined
      ? setup[key]
      : figure({ value, u: null, written: formatQuantity(value, dimension, units) });
  };
  return {
    ...setup,
    // Nobody has said how large the friend's is.
    fermenter_L: null,
    kettle_L: own('kettle_L', 'volume', brimFigure),
    boilOff_L_per_h: own('boilOff_L_per_h', 'volumeRate', (given) => statedFigure('boil_off', given)),
    heat_kW: own('heat_kW', 'power', (given) => statedFigure('heat', given)),
    altitude_m: own('altitude_m', 'altitude', (given) => statedFigure('altitude', given)),
  };
}
