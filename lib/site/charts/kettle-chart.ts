import type { TimetableRow } from '../../batch/types/acts.ts';
import type { Plan } from '../../batch/types/plan.ts';
import type { Units } from '../../units/dimension.ts';
import { fixed, stepped, volumeScale } from '../../units/format/format.ts';
import { itemWords } from '../../words/words.ts';
import { at, escapeText, figureSvg, linear, niceTicks, polyline } from './svg.ts';

const SIZE = [400, 290] as const;
const LEFT = 46;
const RIGHT = 352;
const TOP = 62;
const BOTTOM = 246;
const DISC = 8;
const ROWS_OF_MARKS = 3;

/** An addition on the curve: a letter there, the words beside it in the key. */
export interface ChartMark {
  readonly letter: string;
  readonly minutesLeft: number;
  readonly when: string;
  readonly items: readonly string[];
}

export interface ChartRow {
  readonly minutesLeft: string;
  readonly volume: string;
  readonly gravity: string;
}

export interface KettleChart {
  readonly svg: string;
  readonly marks: readonly ChartMark[];
  readonly volumeUnit: string;
  readonly rows: readonly ChartRow[];
}

const isAddition = (row: TimetableRow): boolean => row.action === 'add' || row.action === 'stir in';

function marksOf(plan: Plan, units: Units): ChartMark[] {
  const byMinute = new Map<number, string[]>();
  for (const row of plan.timetable) {
    if (row.minutes_left === null || !isAddition(row)) continue;
    const items = byMinute.get(row.minutes_left) ?? [];
    items.push(...row.items.map((item) => itemWords(item, units)));
    byMinute.set(row.minutes_left, items);
  }
  return [...byMinute.entries()]
    .sort(([a], [b]) => b - a)
    .map(([minutesLeft, items], index) => ({
      letter: index < 26 ? String.fromCharCode(65 + index) : String(index + 1),
      minutesLeft,
      when: minutesLeft === 0 ? 'flame out' : `${stepped(minutesLeft, 1)}\u00a0min left`,
      items,
    }));
}

function marksSvg(
  marks: readonly ChartMark[],
  x: (n: number) => number,
  level: (n: number) => number,
): string {
  const ends = new Array<number>(ROWS_OF_MARKS).fill(Number.NEGATIVE_INFINITY);
  let svg = '';
  for (const mark of marks) {
    const cx = x(mark.minutesLeft);
    const free = ends.findIndex((end) => cx - end >= 2 * DISC + 1);
    const row = free < 0 ? ROWS_OF_MARKS - 1 : free;
    ends[row] = cx;
    const cy = DISC + 3 + row * (2 * DISC + 2);
    const foot = level(mark.minutesLeft);
    svg +=
      `<path class="notch" d="M${at(cx)} ${at(cy + DISC)}V${at(foot)}"/><path class="notch-foot" d="M${at(cx - 5)} ${at(foot)}h10"/>` +
      `<circle class="disc" cx="${at(cx)}" cy="${at(cy)}" r="${DISC}"/><text class="disc-letter" x="${at(cx)}" y="${at(cy + 4.2)}">${escapeText(mark.letter)}</text>`;
  }
  return svg;
}

/**
 * Draws wort in the kettle against minutes left: the level falling as on a gauge board, gravity as a second
 * line, and each addition as a notch.
 */
export function kettleChart(plan: Plan, units: Units): KettleChart | null {
  const rows = plan.kettle;
  if (rows.length < 2) return null;
  const first = rows[0]!;
  const last = rows.at(-1)!;
  const scale = volumeScale(Math.max(...rows.map((r) => r.volume_l)), units);
  const volumes = rows.map((r) => scale.of(r.volume_l));
  const gravities = rows.map((r) => r.gravity);
  const fullest = Math.max(...volumes);

  const x = linear([first.minutes_left, 0], [LEFT, RIGHT]);
  const volumeTicks = niceTicks(0, fullest * 1.12, 6);
  const y = linear([0, Math.max(fullest * 1.12, volumeTicks.at(-1)!)], [BOTTOM, TOP]);
  const gravityLow = Math.min(...gravities);
  const gravityHigh = Math.max(...gravities);
  const room = Math.max(gravityHigh - gravityLow, 0.004) * 0.25;
  const yGravity = linear([gravityLow - room, gravityHigh + room], [BOTTOM, TOP]);

  const levelLine = polyline(rows.map((r, i) => [x(r.minutes_left), y(volumes[i]!)]));
  const gravityLine = polyline(rows.map((r) => [x(r.minutes_left), yGravity(r.gravity)]));
  const levelAt = (minutesLeft: number): number => {
    const index = rows.findIndex((r) => r.minutes_left <= minutesLeft);
    return y(volumes[index < 0 ? volumes.length - 1 : index]!);
  };

  let axes = `<path class="staff" d="M${LEFT} ${TOP - 6}V${BOTTOM}"/>`;
  const step = volumeTicks.length > 1 ? volumeTicks[1]! - volumeTicks[0]! : fullest;
  for (const tick of volumeTicks) {
    const line = at(y(tick));
    axes += `<path class="tick" d="M${LEFT - 10} ${line}H${LEFT}"/><path class="grid" d="M${LEFT} ${line}H${RIGHT}"/>`;
    axes += `<text class="scale end" x="${LEFT - 14}" y="${at(y(tick) + 4.5)}">${stepped(tick, 0.1)}</text>`;
    for (let k = 1; k < 5; k++) {
      const minor = y(tick + (step * k) / 5);
      if (minor > TOP - 6) axes += `<path class="tick minor" d="M${LEFT - 5} ${at(minor)}H${LEFT}"/>`;
    }
  }
  for (const tick of niceTicks(gravityLow - room, gravityHigh + room, 4))
    axes += `<text class="scale" x="${RIGHT + 6}" y="${at(yGravity(tick) + 4.5)}">${fixed(tick, 3)}</text>`;
  for (const tick of niceTicks(0, first.minutes_left, 6))
    axes +=
      `<path class="tick" d="M${at(x(tick))} ${BOTTOM}v6"/>` +
      `<text class="scale middle" x="${at(x(tick))}" y="${BOTTOM + 20}">${stepped(tick, 1)}</text>`;
  axes += `<text class="axis" x="${LEFT}" y="${SIZE[1] - 6}">minutes left</text>`;
  axes += `<text class="axis end" x="${SIZE[0] - 2}" y="${SIZE[1] - 6}">left: ${scale.unit} · right, dashed: gravity</text>`;

  const marks = marksOf(plan, units);
  const volumeText = (n: number): string => stepped(scale.of(n), scale.step);
  const body =
    `<path class="water" d="${levelLine}L${RIGHT} ${BOTTOM}L${LEFT} ${BOTTOM}Z"/>${axes}` +
    `<path class="gravity" d="${gravityLine}"/><path class="level" d="${levelLine}"/>${marksSvg(marks, x, levelAt)}`;
  const description =
    `From ${volumeText(first.volume_l)} to ${volumeText(last.volume_l)} ${scale.unit} and from ` +
    `${fixed(first.gravity, 3)} to ${fixed(last.gravity, 3)} over ${stepped(first.minutes_left, 1)} minutes.`;
  const shown = new Set(marks.map((m) => m.minutesLeft));
  const every = first.minutes_left > 45 ? 10 : 5;
  return {
    svg: figureSvg('kettle-chart', SIZE, 'Wort in the kettle over the boil', description, body),
    marks,
    volumeUnit: scale.unit,
    rows: rows
      .filter((r, i) => i === 0 || r.minutes_left % every === 0 || shown.has(r.minutes_left))
      .map((r) => ({
        minutesLeft: stepped(r.minutes_left, 1),
        volume: volumeText(r.volume_l),
        gravity: fixed(r.gravity, 3),
      })),
  };
}
