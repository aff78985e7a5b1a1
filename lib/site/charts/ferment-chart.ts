import { dateText } from '../../view/measures.ts';
import { fixedNumber } from '../../view/numbers.ts';
import { at, figureSvg, linear, niceTicks, polyline } from './svg.ts';

const SIZE = [400, 230] as const;
const LEFT = 52;
const RIGHT = 388;
const TOP = 14;
const BOTTOM = 186;

export interface GravityPoint {
  /** `2026-02-14`. */
  readonly date: string;
  readonly clock: string | null;
  /** SG 20/20. */
  readonly gravity: number;
}

const dayOf = (point: GravityPoint): number => {
  const [hours, minutes] = (point.clock ?? '12:00').split(':').map(Number);
  return Date.parse(`${point.date}T00:00:00Z`) / 86_400_000 + ((hours ?? 12) + (minutes ?? 0) / 60) / 24;
};

/** Draws the readings of a fermentation by day, with the band in which it is expected to end. */
export function fermentChart(
  points: readonly GravityPoint[],
  expected: { readonly low: number; readonly high: number } | null,
): string | null {
  if (points.length < 2) return null;
  const days = points.map(dayOf);
  const start = Math.floor(Math.min(...days));
  const end = Math.max(Math.ceil(Math.max(...days)), start + 1);
  const gravities = points.map((p) => p.gravity);
  const low = Math.min(...gravities, expected?.low ?? Number.POSITIVE_INFINITY) - 0.003;
  const high = Math.max(...gravities, expected?.high ?? 0) + 0.003;
  const x = linear([start, end], [LEFT + 8, RIGHT - 8]);
  const y = linear([low, high], [BOTTOM, TOP]);

  let body = `<path class="staff" d="M${LEFT} ${TOP - 6}V${BOTTOM}"/><path class="tick" d="M${LEFT} ${BOTTOM}H${RIGHT}"/>`;
  if (expected !== null)
    body +=
      `<rect class="band" x="${LEFT}" y="${at(y(expected.high))}" width="${RIGHT - LEFT}" height="${at(y(expected.low) - y(expected.high))}"/>` +
      `<text class="axis end" x="${RIGHT - 3}" y="${at(y(expected.high) - 5)}">expected end</text>`;
  for (const tick of niceTicks(low, high, 5))
    body +=
      `<path class="tick" d="M${LEFT - 10} ${at(y(tick))}H${LEFT}"/>` +
      `<text class="scale end" x="${LEFT - 13}" y="${at(y(tick) + 4.5)}">${fixedNumber(tick, 3)}</text>`;
  for (const tick of niceTicks(0, end - start, 6).filter(Number.isInteger))
    body +=
      `<path class="tick" d="M${at(x(start + tick))} ${BOTTOM}v6"/>` +
      `<text class="scale middle" x="${at(x(start + tick))}" y="${BOTTOM + 20}">${tick}</text>`;
  body += `<text class="axis" x="${LEFT}" y="${SIZE[1] - 5}">days since ${dateText(new Date(start * 86_400_000).toISOString().slice(0, 10))}</text>`;
  const line = points.map((_, i) => [x(days[i]!), y(gravities[i]!)] as const);
  body += `<path class="level" d="${polyline(line)}"/>`;
  for (const [cx, cy] of line) body += `<circle class="dot" cx="${at(cx)}" cy="${at(cy)}" r="4.5"/>`;
  const description =
    `${points.length} readings, from ${fixedNumber(gravities[0]!, 3)} to ${fixedNumber(gravities.at(-1)!, 3)}` +
    `${expected === null ? '' : `; expected to end between ${fixedNumber(expected.low, 3)} and ${fixedNumber(expected.high, 3)}`}.`;
  return figureSvg('ferment-chart', SIZE, 'Gravity during fermentation', description, body);
}
