/** How well a figure of the setup is known that somebody states: one rule for `setups.yaml` and for a friend's form. */
import type { Given } from '../../units/parse/given.ts';
import type { SetupFigure } from '../types/setup.ts';
import { SETUP_DEFAULTS, type SetupDefaultKey, STATED_FIGURE_SHARE, VARIES } from './defaults.ts';

type Maybe = Given<number> | null | undefined;

/** Kettles and fermenters are sold by the round litre; a fiftieth is what a brim is out by. From memory. */
const ASSUMED_BRIM_SHARE = 0.02;

/** The brewer's figure with its stated uncertainty, else with the default's or a share of it, else the default. */
export function statedFigure(key: SetupDefaultKey, given: Maybe): SetupFigure {
  const assumed = SETUP_DEFAULTS[key];
  if (!given) return { value: assumed.value, u: assumed.u, written: null, assumed: true };
  // Temperatures and heights have no natural zero: their uncertainty does not grow with the figure.
  const amounts = assumed.unit === '°C' || assumed.value === 0;
  const usual_u = amounts ? assumed.u : (assumed.u / assumed.value) * Math.abs(given.value);
  return {
    value: given.value,
    u: given.u ?? (VARIES.has(key) ? usual_u : STATED_FIGURE_SHARE * usual_u),
    written: given.written,
    assumed: false,
  };
}

export function brimFigure(given: Given<number>): SetupFigure {
  return {
    value: given.value,
    u: given.u ?? ASSUMED_BRIM_SHARE * given.value,
    written: given.written,
    assumed: false,
  };
}
