import type { Batch } from '../../batch/types/batch.ts';
import type { VerdictWord } from '../../batch/types/plan.ts';
import { taken } from '../../batch/types/readings.ts';
import { stepped } from '../../units/format/format.ts';

export const STATUS_WORDS = {
  planned: 'planned',
  brewing: 'on the stove',
  fermenting: 'fermenting',
  conditioning: 'conditioning',
  tasted: 'tasted',
  abandoned: 'given up',
} as const;
export type Status = keyof typeof STATUS_WORDS;

/** How far a batch has come, by what has been keyed in and never by today's date. */
export function statusOf({ readings }: Batch): Status {
  if (readings.abandoned !== undefined) return 'abandoned';
  if (taken(readings.tasted)?.length) return 'tasted';
  if (taken(readings.packaged)?.length) return 'conditioning';
  if (taken(readings.pitched) || taken(readings.original_gravity) || taken(readings.fermentation))
    return 'fermenting';
  return Object.keys(readings).length > 0 ? 'brewing' : 'planned';
}

/** The last score given, or null. */
export const lastScore = ({ readings }: Batch): number | null =>
  taken(readings.tasted)?.findLast((row) => row.score !== null)?.score ?? null;

/** The same in words, `4 of 5`. */
export function scoreOf(batch: Batch): string | null {
  const score = lastScore(batch);
  return score === null ? null : `${stepped(score, 0.5)}\u00a0of\u00a05`;
}

export const VERDICT_WORDS: { readonly [V in VerdictWord]: string } = {
  fine: 'fine',
  a_little_off: 'a little off',
  off: 'off',
  not_taken: 'not taken',
};
