import { assumedLabel } from '../batch/model/assumed.ts';
import type { RowItem, TimetableRow } from '../batch/types/acts.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import { nonBreaking } from '../units/format/format.ts';
import { figureText } from '../words/figures.ts';
import { clockParts, powerText, type Voice, volumeText } from '../words/measures.ts';
import { itemWords, listed, rowWords, type StepWords, sentence } from '../words/words.ts';
import type { Mark, StepBlock } from './blocks.ts';
import { rangeText } from './field-view.ts';

/** What every step of one sheet is made from. */
export interface StepSource {
  readonly batch: Batch;
  readonly plan: Plan;
  readonly voice: Voice;
}

/** Hours and minutes since the kettle went on: `+0:25`. */
const gone = (minute: number): string =>
  `+${Math.floor(minute / 60)}:${String(Math.round(minute) % 60).padStart(2, '0')}`;

/** The time of a row, by the clock where the day has a start; of a row in the boil the minutes left. */
export function markOf(row: TimetableRow, { voice }: StepSource): Mark {
  const left = row.minutes_left === null ? null : String(Math.round(row.minutes_left));
  if (row.clock !== null) return { ...clockParts(row.clock, voice), left };
  return { time: left === null ? gone(Math.round(row.minute)) : null, half: null, left };
}

/** `18 to 29 min with 1.8 kW`: the step itself says the likeliest. */
function minutesNote({ plan, voice, batch }: StepSource, key: TargetKey): string | null {
  const figure = plan.targets[key];
  if (figure === null) return null;
  const { low, high } = figureText(key, figure, voice.units);
  const { written, value } = batch.setup.heat_kW;
  const assumed = plan.assumed.some((one) => one.key === 'heat') ? ' (assumed)' : '';
  return `${low} to ${high}\u00a0min with ${powerText(value, written, voice.units)}${assumed}`;
}

/** What a heating step heats for: the next thing that happens. */
function heatNotes(source: StepSource, row: TimetableRow): readonly (string | null)[] {
  const rows = source.plan.timetable;
  const next = rows
    .slice(rows.indexOf(row) + 1)
    .find(({ action }) => action === 'grain in' || action === 'stir in' || action === 'boil begins');
  if (next?.action !== 'grain in') return [minutesNote(source, 'minutes_to_boil')];
  const key = next.phase === 'mash' ? 'strike_water_c' : 'steep_water_c';
  return [rangeText(key, source.plan, source.voice.units), minutesNote(source, 'minutes_to_steep')];
}

/** Where the water goes in by parts, the range is that of all of it, and is shown with the last part. */
function waterNote({ plan, voice: { units } }: StepSource, row: TimetableRow): string | null {
  const range = rangeText('water_to_heat_l', plan, units);
  const parts = plan.timetable.filter(({ action }) => action === 'fill');
  const water = plan.targets.water_to_heat_l;
  if (range === null || water === null || parts.length < 2) return range;
  return row === parts.at(-1) ? `in all ${volumeText(water.value, units)}, ${range}` : null;
}

function notesFor(source: StepSource, rows: readonly TimetableRow[]): readonly string[] {
  const notes = rows.flatMap((row): readonly (string | null)[] => {
    if (row.action === 'fill') return [waterNote(source, row)];
    if (row.action === 'heat') return heatNotes(source, row);
    // Where several go in, a note says which it is of.
    const several = rows.flatMap(({ items }) => items).length > 1;
    return row.items.map(({ name, note }) => (note !== null && several ? `${name}: ${note}` : note));
  });
  return notes.filter((note) => note !== null);
}

/** In the boil the count stops while the flame is off and until it boils again. */
function pauseWords(
  { action, minutes_left, items }: TimetableRow,
  { plan: { pauses }, voice: { units } }: StepSource,
): StepWords | null {
  const named = (item: RowItem): string => itemWords(item, units);
  const pause = pauses.find((one) => one.minutes_left === minutes_left);
  if (pause === undefined || minutes_left === null) return null;
  if (action === 'flame on')
    return { act: 'Flame on;', rest: `the count stops, about ${Math.round(pause.minutes)}\u00a0min.` };
  return action === 'stir in' ? { act: 'Stir in', rest: sentence(listed(items.map(named))) } : null;
}

/** A row of the timetable as a step on paper, or some rows that are one act. */
export function stepBlock(
  source: StepSource,
  rows: readonly TimetableRow[],
  more: Pick<StepBlock, 'cautions' | 'fields' | 'mark'>,
): StepBlock {
  const [first] = rows;
  return {
    kind: 'step',
    ...more,
    dueColumn: first !== undefined && first.minutes_left !== null && first.clock !== null,
    words: rows.map((row) => pauseWords(row, source) ?? rowWords(row, source.voice)),
    notes: notesFor(source, rows),
    tick: rows.some(({ items }) => items.length > 0),
  };
}

/** Defaults the plan rests on, in words: `wort held by the hops 6 L/kg`. */
export const assumedLines = (plan: Plan): readonly string[] =>
  plan.assumed.map(({ key, value }) => `${assumedLabel(key)} ${nonBreaking(value)}`);
