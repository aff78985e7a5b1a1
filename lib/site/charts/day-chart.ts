/** The brewing day on one rule: left what was planned, right what happened, and between the two how far they drifted. */
import { ON_TIME_MIN } from '../../batch/readings/boil-clock.ts';
import type { Action, TimetableRow } from '../../batch/types/acts.ts';
import type { Batch } from '../../batch/types/batch.ts';
import type { Plan } from '../../batch/types/plan.ts';
import { type Clock, taken } from '../../batch/types/readings.ts';
import { clockMinutes } from '../../batch/types/time.ts';
import { clockText } from '../../words/measures.ts';
import { at, escapeText, figureSvg } from './svg.ts';

const DAY_MIN = 1440;

const WIDTH = 360;
const STAFF = [160, 200] as const;
const TOP = 34;
const LINE = 19;
const PX_PER_MIN = 1.5;

/** One moment of the day, in minutes after the kettle went on. */
interface DayMoment {
  readonly what: string;
  readonly planned: number | null;
  readonly happened: number | null;
}

export interface DayRow {
  readonly what: string;
  readonly planned: string;
  readonly happened: string;
  readonly drift: string;
}

export interface DayChart {
  readonly svg: string;
  readonly rows: readonly DayRow[];
}

const clockOf = (minute: number, language: string): string => {
  const whole = (((Math.round(minute) % DAY_MIN) + DAY_MIN) % DAY_MIN) + 0;
  return clockText(`${Math.floor(whole / 60)}:${String(whole % 60).padStart(2, '0')}`, language);
};

type Found = readonly [what: string, clock: Clock | null, isRow: (row: TimetableRow) => boolean];

/** Clock times that were read, each with the row of the timetable that it answers. */
function momentsRead({
  readings,
  recipe: {
    boil_min: { value: boil_min },
  },
}: Batch): readonly Found[] {
  const row =
    (action: Action, phase?: TimetableRow['phase']) =>
    (one: TimetableRow): boolean =>
      one.action === action && (phase === undefined || one.phase === phase);
  const additions = taken(readings.additions) ?? [];
  const pitched = taken(readings.pitched);
  return [
    ['Kettle on', taken(readings.heating_started), (one) => one.phase === 'heat' || one.phase === 'boil'],
    ['Grain in', taken(readings.steep_in), row('grain in', 'steep')],
    ['Grain out', taken(readings.steep_out), row('grain out', 'steep')],
    ['Mash in', taken(readings.mash_in), row('grain in', 'mash')],
    ['Mash out', taken(readings.mash_out), row('grain out', 'mash')],
    ['Boil begins', taken(readings.boil_started), row('boil begins')],
    ...additions
      // What goes in as the boil begins has that moment's row.
      .filter(({ minutesLeft }) => minutesLeft !== null && minutesLeft > 0 && minutesLeft < boil_min)
      .map(
        ({ minutesLeft, clock }): Found => [
          `${minutesLeft} min left`,
          clock === 'left out' ? null : taken(clock),
          (one) => one.minutes_left === minutesLeft && (one.action === 'add' || one.action === 'stir in'),
        ],
      ),
    ['Flame out', taken(readings.boil_ended), row('flame out')],
    [
      'Cool',
      taken(readings.chilled)?.at ?? null,
      (one) => one.action === 'transfer' || one.action === 'top up',
    ],
    ['Yeast in', pitched?.on.clock ?? null, row('pitch')],
  ];
}

/** A clock time earlier than the one before it is the next day's. */
function unrolled(clocks: readonly (Clock | null)[]): readonly (number | null)[] {
  let before = Number.NEGATIVE_INFINITY;
  return clocks.map((clock) => {
    if (clock === null) return null;
    let minute = clockMinutes(clock);
    while (minute < before - DAY_MIN / 2) minute += DAY_MIN;
    before = Math.max(before, minute);
    return minute;
  });
}

function momentsOf(
  batch: Batch,
  plan: Plan,
): { readonly origin: number; readonly moments: readonly DayMoment[] } | null {
  const found = momentsRead(batch);
  const clocks = unrolled(found.map(([, clock]) => clock));
  const rows = plan.timetable.filter(({ minute }) => minute >= 0);
  const planned = found.map(([, , isRow]) => rows.find(isRow)?.minute ?? null);
  const first = clocks.findIndex((clock, i) => clock !== null && planned[i] !== null);
  if (first < 0) return null;
  // Without a start of its own the plan begins where the day did.
  const origin = batch.start === null ? clocks[first]! - planned[first]! : clockMinutes(batch.start);
  const moments = found.flatMap(([what], i): DayMoment[] => {
    const clock = clocks[i] ?? null;
    return clock === null ? [] : [{ what, planned: planned[i] ?? null, happened: clock - origin }];
  });
  return moments.length < 2 ? null : { origin, moments };
}

function driftText({ planned, happened }: DayMoment): string {
  if (planned === null || happened === null) return '';
  const late = Math.round(happened - planned);
  if (Math.abs(late) <= ON_TIME_MIN) return '';
  return late > 0 ? `${late}\u00a0min late` : `${-late}\u00a0min early`;
}

/** Heights of labels, each as near its moment as the one above it lets it be. */
function spread(ys: readonly number[]): readonly number[] {
  let before = Number.NEGATIVE_INFINITY;
  return ys.map((y) => {
    before = Math.max(y, before + LINE);
    return before;
  });
}

/** The day as planned and as it went; null where fewer than two clock times were read. */
export function dayChart(batch: Batch, plan: Plan, language: string): DayChart | null {
  const day = momentsOf(batch, plan);
  if (day === null) return null;
  const { origin, moments } = day;
  const all = moments.flatMap(({ planned, happened }) => [planned, happened]).filter((m) => m !== null);
  const [first, last] = [Math.min(...all), Math.max(...all)];
  const y = (minute: number): number => TOP + (minute - first) * PX_PER_MIN;
  const sides = (['planned', 'happened'] as const).map((side) => {
    const shown = moments
      .flatMap((one) => (one[side] === null ? [] : [{ one, y: y(one[side]) }]))
      .sort((a, b) => a.y - b.y);
    const levels = spread(shown.map((each) => each.y));
    return { side, shown: shown.map((each, i) => ({ ...each, level: levels[i]! })) };
  });
  const foot = Math.max(y(last), ...sides.flatMap(({ shown }) => shown.map(({ level }) => level))) + 12;
  const [left, right] = STAFF;

  let body = `<path class="water" d="M${left} ${TOP - 8}H${right}V${at(foot)}H${left}Z"/>`;
  for (let minute = Math.ceil((origin + first) / 10) * 10 - origin; minute <= last; minute += 10) {
    const whole = (minute + origin) % 60 === 0;
    body += `<path class="tick${whole ? '' : ' minor'}" d="M${left} ${at(y(minute))}h${whole ? 14 : 7}"/>`;
  }
  for (const { planned, happened } of moments)
    if (planned !== null && happened !== null)
      body += `<path class="notch" d="M${left} ${at(y(planned))}L${right} ${at(y(happened))}"/>`;
  for (const { side, shown } of sides) {
    const [x, out] = side === 'planned' ? [left, -1] : [right, 1];
    for (const { one, y: true_y, level } of shown) {
      const clock = clockOf(one[side]! + origin, language);
      const drift = driftText(one);
      const text = side === 'planned' ? `${one.what} ${clock}` : [clock, drift].filter(Boolean).join(', ');
      body +=
        `<path class="tick" d="M${x} ${at(true_y)}l${out * 6} 0L${x + out * 12} ${at(level)}"/>` +
        `<text${side === 'planned' ? ' class="end"' : ''} x="${x + out * 16}" y="${at(level + 4.5)}">${escapeText(text)}</text>`;
    }
  }
  body +=
    `<path class="staff" d="M${left} ${TOP - 8}V${at(foot)}M${right} ${TOP - 8}V${at(foot)}"/>` +
    `<text class="axis end" x="${left - 16}" y="14">planned</text><text class="axis" x="${right + 16}" y="14">as it went</text>`;
  const rows = moments.map((one) => ({
    what: one.what,
    planned: one.planned === null ? '–' : clockOf(one.planned + origin, language),
    happened: one.happened === null ? '–' : clockOf(one.happened + origin, language),
    drift: driftText(one) || (one.planned === null ? '' : 'on time'),
  }));
  const description = rows
    .map(({ what, planned, happened }) => `${what}: ${planned}, ${happened}`)
    .join('; ');
  return {
    svg: figureSvg(
      'day-chart',
      [WIDTH, Math.ceil(foot + 6)],
      'The day, planned and as it went',
      description,
      body,
    ),
    rows,
  };
}
