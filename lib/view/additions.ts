import type { Batch } from '../batch/batch.ts';
import type { Plan, TimetableRow } from '../batch/plan.ts';
import type { AdditionGroup, AdditionLine, FieldView } from './blocks.ts';
import type { Field } from './fields.ts';
import { kept, rowWords } from './words.ts';

/** What the brewer noted beside a recipe item, by its key path (`other[1]`). */
export function itemNote(batch: Batch, path: string): string | null {
  const match = /^(grain|extract|sugar|hops|other|yeast)\[(\d+)\]$/.exec(path);
  if (match === null) return null;
  const list = batch.recipe[match[1] as 'grain' | 'extract' | 'sugar' | 'hops' | 'other' | 'yeast'];
  return list[Number(match[2])]?.note ?? null;
}

/** The notes of every item that a row of the timetable uses. */
export function rowNote(batch: Batch, row: TimetableRow): string | null {
  const notes = row.items.map((path) => itemNote(batch, path)).filter((note) => note !== null);
  return notes.length === 0 ? null : kept(notes.join('; '));
}

const TICKED: readonly TimetableRow['action'][] = ['add', 'stir in', 'grain in'];
const SILENT: readonly TimetableRow['action'][] = ['watch', 'boil begins'];

function line(batch: Batch, row: TimetableRow): AdditionLine {
  const { act, rest } = rowWords(row);
  return { act, rest, note: rowNote(batch, row), tick: TICKED.includes(row.action) };
}

function fieldFor(minutesLeft: number | null, fields: readonly Field[]): Field | null {
  const moments =
    minutesLeft === null ? ['stand'] : minutesLeft === 0 ? ['flameout', '0 min'] : [`${minutesLeft} min`];
  return fields.find((field) => field.at !== null && moments.includes(field.at)) ?? null;
}

function pauseText(plan: Plan, minutesLeft: number | null): string | null {
  const pause = plan.pauses.find((one) => one.minutes_left === minutesLeft);
  if (pause === undefined) return null;
  return `The count stands still: about ${Math.round(pause.minutes)}\u00a0min until it boils again.`;
}

/**
 * The rows of boil and stand, those of one minute in one group, in order.
 *
 * `view` turns a blank into boxes; a group whose moment has no blank gets none.
 */
export function additionGroups(
  batch: Batch,
  plan: Plan,
  rows: readonly TimetableRow[],
  fields: readonly Field[],
  view: (field: Field) => FieldView,
): readonly AdditionGroup[] {
  const boil = batch.recipe.boil_min.value;
  const byMoment = new Map<number | null, TimetableRow[]>();
  for (const row of rows) {
    const moment = row.phase === 'stand' ? null : row.minutes_left;
    byMoment.set(moment, [...(byMoment.get(moment) ?? []), row]);
  }
  return [...byMoment].map(([left, group]): AdditionGroup => {
    const field = fieldFor(left, fields);
    return {
      left: left === null ? 'Stand' : String(Math.round(left)),
      unit: left === null ? '' : 'left',
      gone: left === null ? '' : String(Math.round(boil - left)),
      due: group[0]?.clock ?? null,
      lines: group.filter((row) => !SILENT.includes(row.action)).map((row) => line(batch, row)),
      watch: group.some((row) => row.action === 'watch'),
      pause: pauseText(plan, left),
      field: field === null ? null : view(field),
    };
  });
}
