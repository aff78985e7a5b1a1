import { SETUP_DEFAULTS } from '../batch/model/defaults.ts';
import type { TimetableRow } from '../batch/types/acts.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import { nonBreaking } from '../units/format/format.ts';
import type { Caution } from '../words/cautions.ts';
import { figureText } from '../words/figures.ts';
import { volumeText } from '../words/measures.ts';
import type { Units, Voice } from '../words/numbers.ts';
import { rowWords } from '../words/words.ts';
import { rowNote } from './additions.ts';
import type { FieldView, Mark, StepBlock } from './blocks.ts';
import { rangeText } from './field-view.ts';

/** What every step of one sheet is made from. */
export interface StepSource {
  readonly batch: Batch;
  readonly plan: Plan;
  readonly units: Units;
  readonly voice: Voice;
}

/** The minute in the gauge, counted from when the kettle goes on, with the clock time due where it is known. */
export function minuteMark(row: TimetableRow): Mark {
  return { number: String(Math.round(row.minute)), due: row.clock };
}

/** ` (assumed)` after a figure that rests on a default of the kit. */
export function assumedMark(plan: Plan, key: string): string {
  return plan.assumed.some((one) => one.key === key || one.key.endsWith(`.${key}`)) ? ' (assumed)' : '';
}

/** `18 to 29 min with 1.8 kW`: the step itself says the likeliest. */
function minutesNote({ plan, units, batch }: StepSource, key: TargetKey): string | null {
  const figure = plan.targets[key];
  if (figure === null) return null;
  const { low, high } = figureText(key, figure, units);
  const heat = `${Number(batch.setup.heat_kW.value.toFixed(2))}\u00a0kW${assumedMark(plan, 'heat')}`;
  return `${low} to ${high}\u00a0min with ${heat}`;
}

/** What a heating step heats for: the next thing that happens. */
function heatNotes(
  source: StepSource,
  row: TimetableRow,
  rows: readonly TimetableRow[],
): readonly (string | null)[] {
  const { plan, units } = source;
  const next = rows
    .slice(rows.indexOf(row) + 1)
    .find((one) => ['grain in', 'stir in', 'boil begins'].includes(one.action));
  if (next?.action !== 'grain in') return [minutesNote(source, 'minutes_to_boil')];
  const key = next.phase === 'mash' ? 'strike_water_c' : 'steep_water_c';
  return [rangeText(key, plan, units), minutesNote(source, 'minutes_to_steep')];
}

/** Where the water goes in by parts, the range is that of all of it, and stands with the last part. */
function waterNote(
  { plan, units }: StepSource,
  row: TimetableRow,
  rows: readonly TimetableRow[],
): string | null {
  const range = rangeText('water_to_heat_l', plan, units);
  const parts = rows.filter(({ action }) => action === 'fill');
  const water = plan.targets.water_to_heat_l;
  if (range === null || water === null || parts.length < 2) return range;
  return row === parts.at(-1) ? `in all ${volumeText(water.value, units)}, ${range}` : null;
}

function notesFor(source: StepSource, row: TimetableRow, rows: readonly TimetableRow[]): readonly string[] {
  const notes = (): readonly (string | null)[] => {
    switch (row.action) {
      case 'fill':
        return [waterNote(source, row, rows)];
      case 'heat':
        return heatNotes(source, row, rows);
      default:
        return [];
    }
  };
  return [...notes(), rowNote(row)].filter((note) => note !== null);
}

/** Letters at 18 pt that two lines hold beside one blank, and three beside a pair. */
const LETTERS_BESIDE = [Number.POSITIVE_INFINITY, 62, 60] as const;

/** True where the words are too long to stand beside so many blanks. */
export function isLong(letters: number, blanks: number): boolean {
  return letters > (LETTERS_BESIDE[blanks] ?? 0);
}

/** A row of the timetable as a step on paper. */
export function stepBlock(
  source: StepSource,
  row: TimetableRow,
  rows: readonly TimetableRow[],
  more: {
    readonly cautions?: readonly Caution[];
    readonly fields?: readonly FieldView[];
    readonly mark?: Mark | null;
  } = {},
): StepBlock {
  const { act, rest } = rowWords(row, source.voice);
  return {
    kind: 'step',
    mark: more.mark === undefined ? minuteMark(row) : more.mark,
    watch: rows[rows.indexOf(row) + 1]?.action === 'watch' && row.action === 'heat',
    long: isLong(act.length + rest.length, more.fields?.length ?? 0),
    cautions: more.cautions ?? [],
    act,
    rest,
    notes: notesFor(source, row, rows),
    fields: more.fields ?? [],
  };
}

/** Defaults the plan rests on, in words: `wort held by the hops 6 L/kg`. */
export function assumedLines(plan: Plan): readonly string[] {
  const labels: { readonly [key: string]: { readonly label: string } } = SETUP_DEFAULTS;
  return plan.assumed.map(({ key, value }) => {
    const label = labels[key]?.label ?? key.replaceAll(/[._]/g, ' ');
    return `${label} ${nonBreaking(value)}`;
  });
}
