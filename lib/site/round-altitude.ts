import { planBatch } from '../batch/plan/plan-batch.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Brewery } from '../batch/types/brewery.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { Setup, SetupFigure } from '../batch/types/setup.ts';
import { formatAltitude } from '../units/format/format.ts';
import { METRES_PER_FOOT } from '../units/table.ts';

/**
 * Heights that a recipe alone is published with, in the brewer's own unit: a hundred metres, three hundred feet. Half of that
 * moves the boil by 0.2 °C and the bitterness by a hundredth or two, and leaves open whose kitchen it is.
 */
const STEPS_m: { readonly [U in Brewery['units']]: number } = { metric: 100, us: 300 * METRES_PER_FOOT };
/** Standard uncertainty of a figure that was rounded to a step: a rectangle as wide (JCGM 100, 4.3.7). */
const ROUNDED = 1 / Math.sqrt(12);

/** A height to its step. */
export function farHeight(altitude: SetupFigure, units: Brewery['units']): SetupFigure {
  if (altitude.assumed) return altitude;
  const step_m = STEPS_m[units];
  // Adding 0 makes 0 of −0.
  const value = Math.round(altitude.value / step_m) * step_m + 0;
  const u = Math.hypot(altitude.u, step_m * ROUNDED);
  return { value, u, written: formatAltitude(value, units), assumed: false };
}

/** True where a height is one that any kitchen of the neighbourhood could have. */
export const isFar = ({ altitude_m }: Pick<Setup, 'altitude_m'>, units: Brewery['units']): boolean =>
  altitude_m.assumed || Math.abs(farHeight(altitude_m, units).value - altitude_m.value) < 0.5;

interface Planned {
  readonly batch: Batch;
  readonly plan: Plan;
}

const made = new WeakMap<Planned, Planned>();

/**
 * A recipe that is published without its batch, planned for a kitchen about as high as its author's: how high that one lies
 * exactly is a figure of the author's home and not of the beer.
 */
export function farKitchen(entry: Planned, brewery: Brewery): Planned {
  const known = made.get(entry);
  if (known !== undefined) return known;
  const { setup } = entry.batch;
  const altitude_m = farHeight(setup.altitude_m, brewery.units);
  const batch: Batch = { ...entry.batch, setup: { ...setup, altitude_m } };
  const planned =
    altitude_m === setup.altitude_m
      ? null
      : planBatch(batch, brewery, entry.plan.fermentation?.as_of ?? null);
  const learned = entry.plan.learned === undefined ? {} : { learned: entry.plan.learned };
  const plan = planned?.ok ? { ...planned.plan, ...learned } : entry.plan;
  const far = { batch, plan };
  made.set(entry, far);
  return far;
}
