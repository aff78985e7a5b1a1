import type { Plan } from '../batch/types/plan.ts';
import { clockText, durationText, type Voice } from './measures.ts';
import { PHASE_TITLES, rowWords } from './words.ts';

const MINUTES_A_NOTCH = 5;
const MOST_NOTCHES = 12;
/** A wait of hours is not drawn to scale: a few notches and its length in words. */
const LONG_WAIT_MIN = 360;
const LONG_WAIT_NOTCHES = 4;

/** A row that hangs on the rule at its minute. */
export interface TimetableLine {
  /** The large figure: `14:50`, else `0:25` after the kettle goes on; empty where the row above has the same. */
  readonly time: string;
  /** True where `time` is longer than a clock or a count: it is set smaller. */
  readonly isLong: boolean;
  readonly minutesLeft: string;
  /** Title of the stage where this row begins one. */
  readonly phase: string | null;
  readonly act: string;
  readonly rest: string;
  /** True where one must watch for a boil-over as this is done. */
  readonly watch: boolean;
  /** Five-minute notches down to the next row, 0 to 12. */
  readonly notches: number;
  /** `12 h` where more time passes than the rule can show. */
  readonly pause: string | null;
}

function timeText(minute: number, clock: string | null, language: string): string {
  if (clock !== null && minute >= 0) return clockText(clock, language);
  if (minute <= -720) return 'day before';
  if (minute < 0) return 'before';
  const whole = Math.round(minute);
  return `${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`;
}

function notchesFor(gap_min: number): number {
  if (gap_min >= LONG_WAIT_MIN) return LONG_WAIT_NOTCHES;
  return Math.min(MOST_NOTCHES, Math.round(gap_min / MINUTES_A_NOTCH));
}

/** The day's rows, each with the distance to the next; a watch for a boil-over joins the act that it goes with. */
export function timetableLines(plan: Plan, voice: Voice): TimetableLine[] {
  const all = plan.timetable;
  const joins = (index: number): boolean =>
    all[index]?.action === 'watch' && all[index - 1]?.minute === all[index]?.minute;
  const watched = new Set(all.filter((_, index) => joins(index + 1)));
  const rows = all.filter((_, index) => !joins(index));
  let lastTime = '';
  let lastLeft = '';
  let lastPhase: string | null = null;
  return rows.map((row, index) => {
    const time = timeText(row.minute, row.clock, voice.language);
    const left =
      row.minutes_left === null || row.minutes_left === 0 ? '' : `${Math.round(row.minutes_left)}\u00a0left`;
    const next = rows[index + 1];
    const gap = next === undefined ? 0 : Math.max(0, next.minute - row.minute);
    const beyond = gap > MINUTES_A_NOTCH * MOST_NOTCHES;
    const line: TimetableLine = {
      time: time === lastTime ? '' : time,
      isLong: time.length > '00:00'.length,
      minutesLeft: left === lastLeft && time === lastTime ? '' : left,
      phase: row.phase === lastPhase ? null : PHASE_TITLES[row.phase],
      ...rowWords(row, voice),
      watch: watched.has(row),
      notches: notchesFor(gap),
      pause: beyond ? durationText(gap) : null,
    };
    lastTime = time;
    lastLeft = left;
    lastPhase = row.phase;
    return line;
  });
}
