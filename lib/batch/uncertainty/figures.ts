import { combine } from '../../formulas/uncertainty.ts';
import { TARGET_INDEX } from '../model/target-vector.ts';
import type { Figure, Targets } from '../types/plan.ts';
import type { Setup } from '../types/setup.ts';
import { TARGET_KEYS, type TargetKey, targetOf } from '../types/targets.ts';
import type { Input } from './inputs.ts';
import { isWhole, printedRange } from './printed.ts';
import type { Propagation } from './propagate.ts';

/** How many inputs a figure names, and from which share of the variance on. */
const MOST_CONTRIBUTORS = 5;
const SMALLEST_SHARE = 0.01;

/** A careful pour ends within 3 % of the volume that was meant: half of that is its standard uncertainty. Common practice, no source. */
const ASSUMED_POUR_SHARE = 0.015;
/** Beer that is packaged is read at a mark or added up from bottles, whichever is worse: these by so much. Common practice, no source. */
const ASSUMED_PACKAGED_SHARE = 0.02;

/** Standard uncertainty of the instrument that a target is read with, and its name; null where it is only computed. */
export function readingInstrument(
  key: TargetKey,
  setup: Setup,
  value = 0,
): { readonly label: string; readonly u: number } | null {
  // A thermometer's own error is one of the inputs of the temperatures themselves.
  const { readWith } = targetOf(key);
  switch (readWith) {
    case 'hydrometer':
      return { label: 'the hydrometer', u: setup.hydrometer.u };
    case 'kettle':
      return { label: 'reading the kettle', u: setup.instruments.kettleMark_L.u };
    case 'fermenter':
      return {
        label: 'reading the fermenter',
        u: Math.max(setup.instruments.fermenterMark_L.u, ASSUMED_PACKAGED_SHARE * value),
      };
    case 'a careful pour':
      // Filled to a mark, and read at one.
      return {
        label: 'the mark and the pour',
        u: Math.max(Math.SQRT2 * setup.instruments.fermenterMark_L.u, ASSUMED_POUR_SHARE * value),
      };
    default:
      return null;
  }
}

/** Standard uncertainty of one target, the reading instrument's included where `instrument` is not null. */
function uncertainty(
  index: number,
  propagation: Propagation,
  instrument: { readonly u: number } | null,
): number {
  const parts = [instrument?.u ?? 0];
  for (const row of propagation.variances) parts.push(Math.sqrt(row[index] || 0));
  return combine(parts);
}

export function figure(
  key: TargetKey,
  propagation: Propagation,
  inputs: readonly Input[],
  setup: Setup,
  /** False for a figure that is itself worked out from readings. */
  { read }: { readonly read: boolean } = { read: true },
): Figure | null {
  const index = TARGET_INDEX[key];
  const raw = propagation.nominal[index]!;
  if (!Number.isFinite(raw)) return null;
  const instrument = read ? readingInstrument(key, setup, raw) : null;
  const u = uncertainty(index, propagation, instrument);
  const value = isWhole(key) ? Math.ceil(raw - 1e-9) : raw;
  const bent = propagation.ends?.get(index);
  const half = isWhole(key) ? 0 : 2 * u;
  const low = bent?.low ?? value - half;
  const high = bent?.high ?? value + half;
  return {
    value,
    low,
    high,
    printed: printedRange(key, { value, low, high }, setup.hydrometer.step),
    contributors: largestShares(index, propagation, inputs, instrument, u * u),
  };
}

function largestShares(
  index: number,
  propagation: Propagation,
  inputs: readonly Input[],
  instrument: { readonly label: string; readonly u: number } | null,
  variance: number,
): Figure['contributors'] {
  const shares: { input: string; share: number }[] = [];
  const note = (input: string, share: number) => {
    // The one input of a figure may come out a rounding error above its whole; a share of no variance is no number.
    if (share >= SMALLEST_SHARE) shares.push({ input, share: Math.min(share, 1) });
  };
  inputs.forEach((input, i) => {
    note(input.label, (propagation.variances[i]![index] || 0) / variance);
  });
  if (instrument) note(instrument.label, instrument.u ** 2 / variance);
  return shares.sort((a, b) => b.share - a.share).slice(0, MOST_CONTRIBUTORS);
}

export function allFigures(propagation: Propagation, inputs: readonly Input[], setup: Setup): Targets {
  return Object.fromEntries(
    TARGET_KEYS.map((key) => [key, figure(key, propagation, inputs, setup)]),
  ) as unknown as Targets;
}
