import { NO_WARMER } from '../batch/judgment/verdicts.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import type { Units } from '../units/dimension.ts';
import { GALLONS, QUARTS, type Scale } from '../units/format/format.ts';
import { figureText } from '../words/figures.ts';
import type { BoxGroup, Field } from './blanks.ts';
import type { Cell, CellGroup, FieldView } from './blocks.ts';

function cells(pattern: string): readonly Cell[] {
  return [...pattern].map((sign): Cell => {
    if (sign === '#') return { kind: 'digit', text: '' };
    if (sign === '@') return { kind: 'letter', text: '' };
    return sign === ' ' ? { kind: 'gap', text: '' } : { kind: 'sign', text: sign };
  });
}

function cellGroup({ part, before, unit, pattern }: BoxGroup): CellGroup {
  return { part, before, unit, cells: cells(pattern) };
}

type Planned = Pick<Plan, 'targets'>;

/** `fine 10.3 to 11.6 L`, or `no warmer than 29 °C` where only that end matters. */
export function rangeText(key: TargetKey, plan: Planned, units: Units, scale?: Scale): string | null {
  const figure = plan.targets[key];
  if (figure === null) return null;
  const { low, high, unit } = figureText(key, figure, units, scale);
  return `fine ${low} to ${high}${unit === '' ? '' : `\u00a0${unit}`}`;
}

/** Boxes for quarts or gallons have their range in the same, however little it is. */
function boxScale({ kind, groups }: Field): Scale | undefined {
  return kind === 'volume'
    ? [QUARTS, GALLONS].find(({ unit }) => groups.some((one) => one.unit === unit))
    : undefined;
}

/** A wider range of temperatures helps nobody. */
const WIDEST_RANGE_K = 10;

/** What is fine in a blank; null where that is not known. */
export function fieldRange(field: Field, plan: Planned, units: Units): string | null {
  const key = field.spec.target;
  const figure = key === undefined ? null : plan.targets[key];
  if (key === undefined || figure === null) return null;
  if (NO_WARMER.has(field.key)) {
    const { number, unit } = figureText(key, figure, units);
    return `at most ${number}\u00a0${unit}`;
  }
  const { low, high } = figure.printed;
  if (field.kind === 'temperature' && high - low > WIDEST_RANGE_K) return null;
  return rangeText(key, plan, units, boxScale(field));
}

/** Lays a blank out as boxes, with the range that is fine beside it. */
export function fieldView(field: Field, plan: Plan, units: Units): FieldView {
  const { id, key, kind, label, groups } = field;
  return {
    ...{ id, key, kind, label },
    groups: groups.map(cellGroup),
    range: fieldRange(field, plan, units),
    leftOut: field.at !== null,
    small: kind === 'clock' || kind === 'date',
    beside: kind !== 'gravity',
  };
}
