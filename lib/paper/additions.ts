import type { TimetableRow } from '../batch/types/acts.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { Voice } from '../words/numbers.ts';
import { rowWords } from '../words/words.ts';
import type { Field } from './blanks.ts';
import type { AdditionGroup, AdditionLine, FieldView } from './blocks.ts';

/** The notes of every item that a row of the timetable uses. */
export function rowNote(row: TimetableRow): string | null {
  const notes = row.items.map(({ note }) => note).filter((note) => note !== null);
  return notes.length === 0 ? null : notes.join('; ');
}

const TICKED: readonly TimetableRow['action'][] = ['add', 'stir in', 'grain in'];
const SILENT: readonly TimetableRow['action'][] = ['watch', 'boil begins', 'flame off', 'flame on'];

function line(row: TimetableRow, flameOff: boolean, voice: Voice): AdditionLine {
  const { act, rest } = row.action === 'flame out' ? { act: 'Flame out.', rest: '' } : rowWords(row, voice);
  return {
    act: flameOff ? `Flame off. ${act}` : act,
    rest,
    note: rowNote(row),
    tick: TICKED.includes(row.action),
  };
}

/** The lines of one minute; the flame goes off in the line of what it goes off for, and on in the pause below. */
function lines(rows: readonly TimetableRow[], voice: Voice): readonly AdditionLine[] {
  const said = rows.filter((row) => !SILENT.includes(row.action));
  return said.map((row) => {
    const before = rows[rows.indexOf(row) - 1];
    return line(row, before?.action === 'flame off', voice);
  });
}

function fieldsFor(minutesLeft: number | null, fields: readonly Field[]): readonly Field[] {
  const moments =
    minutesLeft === null ? ['stand'] : minutesLeft === 0 ? ['flameout', '0 min'] : [`${minutesLeft} min`];
  return fields.filter(
    ({ at, key }) => (at !== null && moments.includes(at)) || (minutesLeft === 0 && key === 'boil_ended'),
  );
}

function pauseText(plan: Plan, minutesLeft: number | null): string | null {
  const pause = plan.pauses.find((one) => one.minutes_left === minutesLeft);
  if (pause === undefined) return null;
  return `Flame on. The count stops, about ${Math.max(1, Math.round(pause.minutes))}\u00a0min.`;
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
  voice: Voice,
): readonly AdditionGroup[] {
  const boil = batch.recipe.boil_min.value;
  const byMoment = new Map<number | null, TimetableRow[]>();
  for (const row of rows) {
    const moment = row.phase === 'stand' ? null : row.minutes_left;
    byMoment.set(moment, [...(byMoment.get(moment) ?? []), row]);
  }
  const groups = [...byMoment].map(([left, group]): AdditionGroup => {
    return {
      left: left === null ? 'Stand' : String(Math.round(left)),
      word: left === null,
      gone: left === null ? '' : String(Math.round(boil - left)),
      due: group[0]?.clock ?? null,
      lines: lines(group, voice),
      watch: group.some((row) => row.action === 'watch'),
      pause: group.some((row) => row.action === 'flame on') ? pauseText(plan, left) : null,
      fields: fieldsFor(left, fields).map(view),
    };
  });
  // A minute at which nothing goes in and nothing is noted is no row: the start of a boil without hops.
  return groups.filter((group) => group.lines.length > 0 || group.fields.length > 0);
}
