import type { FermentationCurve } from '../../batch/types/plan.ts';
import { dateOfDay, dayNumber } from '../../batch/types/time.ts';
import { fixed } from '../../units/format/format.ts';
import { pitchedDay } from '../../words/ferment-words.ts';
import { dateText } from '../../words/measures.ts';
import { at, figureSvg, linear, niceTicks, polyline } from './svg.ts';

const SIZE = [400, 240] as const;
const LEFT = 52;
const RIGHT = 388;
const TOP = 14;
const BOTTOM = 196;
/** Where the day of the end is marked: clear of the axis and of the curve. */
const DAY_MARK = BOTTOM - 9;
/** Whiskers are two standard uncertainties, as every printed range is. */
const WHISKER = 2;

export interface GravityPoint {
  /** `2026-02-14`. */
  readonly date: string;
  readonly clock: string | null;
  /** SG 20/20. */
  readonly gravity: number;
}

type Range = { readonly low: number; readonly high: number };
type Place = (n: number) => number;
/** Days from 1970 and gravity. */
type Placed = readonly [day: number, gravity: number];

/** Draws the readings of a fermentation by day, with the range in which it is planned to end. */
export function fermentChart(
  points: readonly GravityPoint[],
  planned: Range | null,
  language: string,
): string | null {
  if (points.length < 2) return null;
  const placed = points.map(
    ({ date, clock, gravity }): Placed => [dayNumber(date, clock ?? '12:00'), gravity],
  );
  const { axes, x, y } = frame(placed, planned === null ? [] : [planned.low, planned.high], language);
  const band =
    planned === null
      ? ''
      : `<rect class="band" x="${LEFT}" y="${at(y(planned.high))}" width="${RIGHT - LEFT}" height="${at(y(planned.low) - y(planned.high))}"/>` +
        `<text class="axis end" x="${RIGHT - 3}" y="${at(y(planned.high) - 5)}">expected end</text>`;
  const line = placed.map(([day, gravity]) => [x(day), y(gravity)] as const);
  const dots = line.map(([cx, cy]) => dot(cx, cy)).join('');
  const ends = planned === null ? '' : `; expected to end ${between(planned)}`;
  const description = `${points.length} readings, ${fromTo(placed)}${ends}.`;
  const body = `${band}${axes}<path class="level" d="${polyline(line)}"/>${dots}`;
  return figureSvg('ferment-chart', SIZE, 'Gravity during fermentation', description, body);
}

/**
 * Draws the curve fitted to a fermentation with its band, the readings with their whiskers, and the expected end: its level at
 * the right, its day at the foot, and today while it ferments. The curve is dashed where nothing has been read yet; a reading that hardly counts is a cross.
 */
export function fermentCurveChart(
  curve: FermentationCurve,
  language: string,
  today: string | null = null,
): string {
  const pitched = pitchedDay(curve);
  const now = today === null ? null : dayNumber(today, '12:00');
  const { end_gravity, end_day, points, readings } = curve;
  const counted = readings.filter(({ outlier }) => !outlier);
  const { axes, x, y } = frame(
    [
      ...points.map(({ day, gravity }): Placed => [pitched + day, gravity]),
      ...counted.map(({ day, gravity }): Placed => [pitched + day, gravity]),
      ...(now === null ? [] : [[now, end_gravity.value] as const]),
    ],
    [
      ...points.flatMap(({ low, high }) => [low, high]),
      ...counted.flatMap(({ gravity, u }) => [gravity - WHISKER * u, gravity + WHISKER * u]),
    ],
    language,
  );
  const along = (of: (point: FermentationCurve['points'][number]) => number, from = 0, to = points.length) =>
    points.slice(from, to).map((point) => [x(pitched + point.day), y(of(point))] as const);
  const upper = along(({ high }) => high);
  const lower = along(({ low }) => low);
  const last = Math.max(...readings.map(({ day }) => day));
  const ahead = points.findIndex(({ day }) => day >= last);
  const known = ahead < 0 ? points.length : ahead + 1;
  const middle = (from: number, to?: number) => polyline(along(({ gravity }) => gravity, from, to));
  const body =
    `<path class="band" d="${polyline(upper)}${polyline([...lower].reverse()).replace('M', 'L')}Z"/>` +
    `<path class="edge" d="${polyline(upper)}${polyline(lower)}"/>${axes}` +
    (end_day === null ? '' : dayMark(end_day, x, y(end_gravity.value))) +
    `<path class="level" d="${middle(0, known)}"/>` +
    (known < points.length ? `<path class="level ahead" d="${middle(known - 1)}"/>` : '') +
    levelMark(end_gravity, y) +
    (now === null ? '' : todayMark(x(now))) +
    readings.map((reading) => mark(reading, x(pitched + reading.day), y)).join('');
  const day = end_day === null ? '' : `, by ${dateText(end_day.expected, language)}`;
  const description =
    `${readings.length} readings, ${fromTo(readings.map((one): Placed => [one.day, one.gravity]))}; the fitted curve ends at about ` +
    `${fixed(end_gravity.value, 3)}, ${between(end_gravity.printed)}${day}.`;
  return figureSvg(
    'ferment-chart',
    SIZE,
    'Gravity during fermentation, with the fitted curve',
    description,
    body,
  );
}

const between = ({ low, high }: Range) => `between ${fixed(low, 3)} and ${fixed(high, 3)}`;
const fromTo = (placed: readonly Placed[]) =>
  `from ${fixed(placed[0]![1], 3)} to ${fixed(placed.at(-1)![1], 3)}`;
const dot = (cx: number, cy: number) => `<circle class="dot" cx="${at(cx)}" cy="${at(cy)}" r="4.5"/>`;

/** Axes for all that is placed, whole days from the first. */
function frame(
  placed: readonly Placed[],
  more: readonly number[],
  language: string,
): { readonly axes: string; readonly x: Place; readonly y: Place } {
  const days = placed.map(([day]) => day);
  const gravities = [...placed.map(([, gravity]) => gravity), ...more];
  const start = Math.floor(Math.min(...days));
  const end = Math.max(Math.ceil(Math.max(...days)), start + 1);
  const low = Math.min(...gravities) - 0.003;
  const high = Math.max(...gravities) + 0.003;
  const x = linear([start, end], [LEFT + 8, RIGHT - 8]);
  const y = linear([low, high], [BOTTOM, TOP]);
  let axes = `<path class="staff" d="M${LEFT} ${TOP - 6}V${BOTTOM}"/><path class="tick" d="M${LEFT} ${BOTTOM}H${RIGHT}"/>`;
  for (const tick of niceTicks(low, high, 5))
    axes +=
      `<path class="tick" d="M${LEFT - 10} ${at(y(tick))}H${LEFT}"/>` +
      `<text class="scale end" x="${LEFT - 13}" y="${at(y(tick) + 4.5)}">${fixed(tick, 3)}</text>`;
  for (const tick of niceTicks(0, end - start, 6).filter(Number.isInteger))
    axes +=
      `<path class="tick" d="M${at(x(start + tick))} ${BOTTOM}v6"/>` +
      `<text class="scale middle" x="${at(x(start + tick))}" y="${BOTTOM + 20}">${tick}</text>`;
  const from = dateText(dateOfDay(start), language);
  axes += `<text class="axis" x="${LEFT}" y="${SIZE[1] - 5}">days since ${from}</text>`;
  return { axes, x, y };
}

/** A reading with its whisker; one that is off the drawing is held at its edge. */
function mark({ gravity, u, outlier }: FermentationCurve['readings'][number], cx: number, y: Place): string {
  const held = (sg: number) => Math.min(BOTTOM - 6, Math.max(TOP - 4, y(sg)));
  if (outlier) return `<path class="tick" d="M${at(cx - 5)} ${at(held(gravity) - 5)}l10 10m0 -10l-10 10"/>`;
  const [top, foot] = [held(gravity + WHISKER * u), held(gravity - WHISKER * u)];
  return `<path class="whisker" d="M${at(cx)} ${at(top)}V${at(foot)}m-3 0h6M${at(cx - 3)} ${at(top)}h6"/>${dot(cx, held(gravity))}`;
}

/** Today: a line from top to foot, its name at its head. */
const todayMark = (cx: number): string =>
  `<path class="minor" d="M${at(cx)} ${TOP + 8}V${BOTTOM}"/>` +
  `<text class="axis end" x="${at(cx + 4)}" y="${TOP + 2}">today</text>`;

/** The level of the end: a bracket at the right, as long as the range that is printed. */
function levelMark({ value, printed }: FermentationCurve['end_gravity'], y: Place): string {
  const [top, foot] = [y(printed.high), y(printed.low)];
  return (
    `<path class="notch" d="M${RIGHT - 6} ${at(top)}h6V${at(foot)}h-6"/><path class="notch-foot" d="M${RIGHT - 5} ${at(y(value))}h10"/>` +
    `<text class="end strong" x="${RIGHT}" y="${at(top - 7)}">about ${fixed(value, 3)}</text>`
  );
}

/** The day of the end: a plumb line from the curve, and a bracket from the earliest to the latest day. */
function dayMark(day: NonNullable<FermentationCurve['end_day']>, x: Place, level: number): string {
  const of = (date: string) => x(dayNumber(date, '12:00'));
  const [from, to, cx] = [of(day.earliest), of(day.latest), of(day.expected)];
  return (
    `<path class="plumb" d="M${at(cx)} ${at(level)}V${BOTTOM}"/>` +
    `<path class="notch" d="M${at(from)} ${DAY_MARK - 4}v8m0 -4H${at(to)}m0 -4v8"/><path class="notch-foot" d="M${at(cx)} ${DAY_MARK - 5}v10"/>`
  );
}
