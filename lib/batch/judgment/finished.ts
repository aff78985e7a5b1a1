/** Whether a fermentation is over, from its log: the judgement that keeps bottles whole. */

import type { LogRow } from '../readings/log-rows.ts';
import type { Batch } from '../types/batch.ts';
import type { Fermentation, Figure } from '../types/plan.ts';
import { dateOfDay } from '../types/time.ts';

/** Common practice, no source: the same gravity for three days, for a week where the beer is cold. */
export const FLAT_DAYS = { warm: 3, cold: 7, coldBelow_C: 15 } as const;

/** Rows that agree with the last one: no two of them further apart than the instrument can show. */
interface FlatRun {
  readonly rows: readonly LogRow[];
  readonly days: number;
  readonly needed_days: number;
}

/**
 * The verdict on a fermentation, from its log alone.
 *
 * Finished: at least two readings over at least three days (seven where the beer is below 15 °C), no two of them further apart
 * than the instrument can show (two standard uncertainties of a reading: one graduation of a hydrometer), the last inside the
 * printed range of the final gravity. Below that range the same must hold for twice as long. Never on one reading. Null without a log.
 */
export function fermentationState(
  batch: Batch,
  rows: readonly LogRow[],
  final: Figure | null,
): Fermentation | null {
  const { abandoned } = batch.readings;
  if (abandoned) {
    if (batch.readings.fermentation === undefined) return null;
    return { state: 'given up', words: `Given up on ${abandoned.on.date}: ${abandoned.why}`, next: null };
  }
  if (batch.readings.fermentation === undefined || !final) return null;
  const last = rows.at(-1);
  if (!last) {
    const words = 'No gravity has been read yet. Read one once the foam has fallen.';
    return { state: 'too few readings', words, next: null };
  }
  const { state, words, wait_days } = judge(rows, flatRun(rows), final);
  if (!isPackaged(batch))
    return { state, words, next: wait_days === null ? null : dateOfDay(last.day + wait_days) };
  const closed = state === 'finished' ? words : `${words} ${CLOSED_TOO_EARLY}`;
  return { state, words: closed, next: null };
}

const CLOSED_TOO_EARLY =
  'It has been packaged all the same: keep bottles cold and covered, open one with care, and let gas off if it gushes.';

const isPackaged = (batch: Batch) =>
  batch.readings.packaged !== undefined && batch.readings.packaged !== 'not taken';

/** The longest run of readings up to the last that lie within what the instrument can show. */
function flatRun(rows: readonly LogRow[]): FlatRun {
  let first = rows.length - 1;
  let low = rows[first]!.sg;
  let high = low;
  let shows = 2 * rows[first]!.u;
  while (first > 0) {
    const row = rows[first - 1]!;
    low = Math.min(low, row.sg);
    high = Math.max(high, row.sg);
    shows = Math.max(shows, 2 * row.u);
    // Readings are typed in whole steps: binary dust makes no difference of them.
    if (high - low > shows + 1e-9) break;
    first--;
  }
  const run = rows.slice(first);
  const cold = run.some((row) => row.t_C < FLAT_DAYS.coldBelow_C);
  return {
    rows: run,
    days: daysBetween(run[0]!, run[run.length - 1]!),
    needed_days: cold ? FLAT_DAYS.cold : FLAT_DAYS.warm,
  };
}

/** To the hour where both were timed, else whole days of the calendar. */
const daysBetween = (from: LogRow, to: LogRow) =>
  from.hasClock && to.hasClock ? to.day - from.day : Math.floor(to.day) - Math.floor(from.day);

interface Judgement {
  readonly state: Fermentation['state'];
  readonly words: string;
  /** Days from the last reading to the next; null where none is due. */
  readonly wait_days: number | null;
}

function judge(rows: readonly LogRow[], flat: FlatRun, final: Figure): Judgement {
  const last = rows[rows.length - 1]!;
  const before = rows[rows.length - flat.rows.length - 1];
  const { low, high } = final.printed;
  const range = `${low.toFixed(3)} to ${high.toFixed(3)}`;
  const now = last.sg.toFixed(3);
  const needed = flat.needed_days;
  const dust = 1e-9;
  if (rows.length === 1) {
    const words = `One reading, ${now}, says nothing of a fall. Read again in ${needed} days; do not package on one reading.`;
    return { state: 'too few readings', words, wait_days: needed };
  }
  if (flat.rows.length === 1 && before) {
    if (last.sg < before.sg) {
      const words = `Still falling: ${now} after ${before.sg.toFixed(3)}. Leave it closed and read again in ${needed} days; do not package it.`;
      return { state: 'still falling', words, wait_days: needed };
    }
    const words = `The last two readings disagree: ${now} after ${before.sg.toFixed(3)}, and a gravity does not rise. Read again, with the sample stirred free of gas.`;
    return { state: 'too few readings', words, wait_days: 1 };
  }
  const below = last.sg < low - dust;
  const wanted = below ? 2 * needed : needed;
  if (flat.days < wanted - dust) {
    const left = Math.max(1, Math.ceil(wanted - flat.days - dust));
    const why = below ? `, twice as long as usual because it is below the expected ${range}` : '';
    const words = `No fall that shows over ${dayWords(flat.days)}, but ${wanted} days are needed${why}. Read again in ${dayWords(left)}.`;
    return { state: 'too few readings', words, wait_days: left };
  }
  if (last.sg > high + dust) {
    const words = `Stopped high: ${now} over ${dayWords(flat.days)}, while ${range} is expected. Do not package it. Move it a few degrees warmer inside the yeast's band, swirl the yeast up without letting air in, and read again in ${needed} days; if it stays, pitch fresh yeast that is already working.`;
    return { state: 'stopped high', words, wait_days: needed };
  }
  const where = below ? `below the expected ${range}` : `inside the expected ${range}`;
  return {
    state: 'finished',
    words: `Finished: ${now}, no fall that shows over ${dayWords(flat.days)}, ${where}.`,
    wait_days: null,
  };
}

const dayWords = (days: number) => {
  const whole = Math.floor(days + 1e-9);
  return whole === 1 ? '1 day' : `${whole} days`;
};
