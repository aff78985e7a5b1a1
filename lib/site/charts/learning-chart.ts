import { stepped } from '../../units/format/format.ts';
import type { LearnedView } from '../../words/learning-view.ts';
import { at, escapeText, figureSvg, linear, niceTicks } from './svg.ts';

const WIDTH = 400;
const LEFT = 52;
const RIGHT = 388;
const TOP = 22;
const BOTTOM = 150;
/** Draws what each batch says with its doubt, what the setup says, and the range that was learned. */
export function learningChart(id: string, view: LearnedView): string {
  const { drawn, points } = view;
  const inside = points.filter(({ outlier }) => !outlier);
  const reach = inside.length > 0 ? inside : points;
  const ends = [
    drawn.low,
    drawn.high,
    drawn.prior,
    ...reach.flatMap((point) => [point.low, point.high]),
    ...points.map(({ value }) => value),
  ];
  const low = Math.min(...ends);
  const high = Math.max(...ends);
  const room = 0.05 * (high - low || 1);
  const y = linear([low - room, high + room], [BOTTOM, TOP]);
  const held = (value: number) => Math.min(BOTTOM, Math.max(TOP, y(value)));
  const x = linear([-0.5, Math.max(points.length, 1) - 0.5], [LEFT + 6, RIGHT - 6]);
  const line = (cls: string, value: number) => `<path class="${cls}" d="M${LEFT} ${at(y(value))}H${RIGHT}"/>`;

  const [top, bottom] = [held(drawn.high), held(drawn.low)];
  let body =
    `<rect class="band" x="${LEFT}" y="${at(top)}" width="${RIGHT - LEFT}" height="${at(Math.max(1, bottom - top))}"/>` +
    line('level', drawn.value) +
    line('gravity', drawn.prior) +
    `<path class="staff" d="M${LEFT} ${TOP - 6}V${BOTTOM}"/>` +
    `<text class="axis" x="${LEFT}" y="11">${escapeText(drawn.unit)}</text>`;
  for (const tick of niceTicks(low, high, 4))
    body +=
      `<path class="tick" d="M${LEFT - 10} ${at(y(tick))}H${LEFT}"/>` +
      `<text class="scale end" x="${LEFT - 13}" y="${at(y(tick) + 4.5)}">${stepped(tick, 0.01)}</text>`;
  const whiskers = points.map((point, i) => `M${at(x(i))} ${at(held(point.low))}V${at(held(point.high))}`);
  body += `<path class="minor" d="${whiskers.join('')}"/>`;
  points.forEach(({ value, outlier }, i) => {
    const cx = at(x(i));
    // An outlier is a cross: its shape tells it, not a colour.
    body += outlier
      ? `<path class="tick" d="M${at(x(i) - 5)} ${at(y(value) - 5)}l10 10m0 -10l-10 10"/>`
      : `<circle class="dot" cx="${cx}" cy="${at(y(value))}" r="4"/>`;
  });
  body += `<text class="axis" x="${LEFT}" y="${BOTTOM + 18}">batches by day; dashed: the setup’s own figure</text>`;
  const left = points.length - inside.length;
  const description =
    `${points.length} batches with whiskers of two standard uncertainties; learned ${view.text}, the setup says ${view.setup}` +
    `${left === 0 ? '' : `; ${left} left out, drawn as a cross`}.`;
  return figureSvg(id, [WIDTH, BOTTOM + 26], view.label, description, body);
}
