import { fixed } from '../../units/format/format.ts';
import { at, escapeText, polyline } from './svg.ts';

const WIDTH = 150;
const HEIGHT = 84;
const LEFT = 9;
const FOOT = 76;

/** One fermentation as points of days and gravity. */
export interface SmallCurve {
  readonly label: string;
  readonly points: readonly { readonly day: number; readonly gravity: number }[];
  /** The curve fitted to them, on the same days; without one the points are joined. */
  readonly fitted?: readonly { readonly day: number; readonly gravity: number }[];
}

/** The scale that all of a page's small charts share, so that they can be held against each other. */
export interface SharedScale {
  readonly days: number;
  readonly low: number;
  readonly high: number;
}

export function sharedScale(curves: readonly SmallCurve[]): SharedScale {
  const points = curves.flatMap((curve) => curve.points);
  return {
    days: Math.max(7, ...points.map(({ day }) => day)),
    low: Math.min(1.0, ...points.map(({ gravity }) => gravity)),
    high: Math.max(1.04, ...points.map(({ gravity }) => gravity)),
  };
}

/** A fermentation small enough to stand beside others: staff, a notch for each ten points, and the curve. */
export function smallFerment(curve: SmallCurve, scale: SharedScale): string {
  const x = (day: number): number => LEFT + 2 + (day / scale.days) * (WIDTH - LEFT - 8);
  const y = (gravity: number): number =>
    FOOT - ((gravity - scale.low) / (scale.high - scale.low)) * (FOOT - 6);
  let notches = '';
  for (let points = Math.ceil(scale.low * 100); points <= scale.high * 100; points++)
    notches += `M${LEFT - 5} ${at(y(points / 100))}h5`;
  const placed = (points: SmallCurve['points']) =>
    points.map(({ day, gravity }) => [x(day), y(gravity)] as const);
  const line = placed(curve.fitted ?? curve.points);
  const dots = placed(curve.points)
    .map(([cx, cy]) => `<circle class="dot" cx="${at(cx)}" cy="${at(cy)}" r="2.5"/>`)
    .join('');
  const label = (
    name: string,
    { day, gravity }: SmallCurve['points'][number],
    dx: number,
    dy: number,
  ): string =>
    `<text class="${name}" x="${at(x(day) + dx)}" y="${at(y(gravity) + dy)}">${fixed(gravity, 3)}</text>`;
  const [first, last] = [curve.points[0], curve.points.at(-1)];
  // The last is to the right of its point where there is room, else above it.
  const room = last !== undefined && x(last.day) + 44 < WIDTH;
  const ends =
    first && last
      ? label('scale', first, 8, 5) + (room ? label('scale', last, 7, 4) : label('scale end', last, 3, -8))
      : '';
  return (
    `<svg class="chart small" viewBox="0 0 ${WIDTH} ${HEIGHT}" role="img" aria-label="${escapeText(curve.label)}">` +
    `<path class="staff" d="M${LEFT} 3V${FOOT}"/><path class="tick" d="${notches}M${LEFT} ${FOOT}H${WIDTH - 4}"/>` +
    `<path class="level" d="${polyline(line)}"/>${dots}${ends}</svg>`
  );
}

/** A score of five as a level on a horizontal rule, with the figure beside it. */
export const scoreBar = (score: number): string =>
  '<svg class="chart" viewBox="0 0 104 16" aria-hidden="true" focusable="false">' +
  `<rect class="strong" x="2" y="2" width="${at(20 * score)}" height="12"/>` +
  '<path class="tick" d="M2 1V15M102 1V15M1 14H103"/><path class="minor" d="M22 9V14M42 9V14M62 9V14M82 9V14"/></svg>';
