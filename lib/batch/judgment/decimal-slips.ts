/** Amounts that look like the plan's with the decimal point one place off. */

import type { Observation } from '../readings/normalise-readings.ts';
import type { Batch } from '../types/batch.ts';
import type { Judgment } from '../types/judgment.ts';
import { kindAt } from '../types/places.ts';
import type { Targets } from '../types/plan.ts';
import type { ReadingKind } from '../types/readings.ts';

/** So many times the plan's amount, or its inverse, is more likely a slip of the decimal point than a deed. */
const TENFOLD = { least: 8, most: 12.5 } as const;

/** Of the kinds that a plan has amounts of, the unit. */
const UNITS = { volume: 'L', mass: 'g', amount: 'g', count: '' } as const;
type Amount = keyof typeof UNITS;
const isAmount = (kind: ReadingKind | null): kind is Amount => kind !== null && Object.hasOwn(UNITS, kind);

/** What is keyed as an amount, and what the plan has in its place. */
function plannedAmount(batch: Batch, targets: Targets, { key, target }: Observation): number | null {
  if (key === 'pitched.yeast') {
    const amounts = batch.recipe.yeast.map(({ amount }) => amount);
    return amounts.every(({ unit }) => unit === 'g')
      ? amounts.reduce((sum, one) => sum + one.value, 0)
      : null;
  }
  return target === null ? null : (targets[target]?.value ?? null);
}

/**
 * Amounts 8 to 12.5 times the plan's, or as much less: they are asked about before anything is worked out from them. What the mark
 * or the scale cannot tell from nothing has no decimal point to slip.
 */
export function slips(batch: Batch, targets: Targets, readings: readonly Observation[]): readonly Judgment[] {
  return readings.flatMap((reading): Judgment[] => {
    const { key, value, u } = reading;
    const kind = kindAt(key);
    const planned = isAmount(kind) ? plannedAmount(batch, targets, reading) : null;
    if (!isAmount(kind) || value === null || planned === null || !(Math.min(planned, value) > u)) return [];
    const times = Math.max(value / planned, planned / value);
    if (times < TENFOLD.least || times > TENFOLD.most) return [];
    return [
      {
        key,
        level: 'look again',
        cause: { code: 'decimal point', read: value, planned, unit: UNITS[kind] },
        do: { code: 'check the figure' },
      },
    ];
  });
}
