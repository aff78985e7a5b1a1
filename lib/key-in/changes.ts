import { type Group, type One, READINGS, type ReadingKey, type Rows } from '../batch/types/readings.ts';
import { isGroup } from '../units/parse/with-value.ts';
import type { KeyPath } from '../units/problem.ts';
import {
  type Answers,
  additionAt,
  type Blank,
  groupAt,
  isFilled,
  listOf,
  NOT_TAKEN,
  type Raw,
} from './key-in.ts';

/** One reading to write: its path below `readings`, and its text; null takes it out with its key. */
export interface Change {
  readonly path: KeyPath;
  readonly value: string | null;
}

interface Cell {
  readonly blank: Blank;
  readonly text: string;
}

/**
 * What has to be written so that a file says what was keyed in: only answers that differ from what it says now, in the
 * order of the paper. Rows of a list keep their place; new ones follow without gaps. A row or group that was emptied goes
 * as a whole.
 */
export function changesOf(raw: Raw, blanks: readonly Blank[], answers: Answers): readonly Change[] {
  const readings = groupAt(raw, 'readings');
  const keys = [...new Set(blanks.map(({ place }) => place.of))];
  return keys.flatMap((of) => {
    const cells = blanks
      .filter(({ place }) => place.of === of)
      .map((blank) => ({ blank, text: answers.get(blank.key) ?? blank.now }));
    return cells.some(differs) ? changesAt(of, readings[of], cells) : [];
  });
}

const differs = ({ blank, text }: Cell): boolean => text !== blank.now;
const isEmpty = ({ text }: Cell): boolean => text === '';
const change = (path: KeyPath, text: string | null): Change => ({ path, value: text === '' ? null : text });
const partOf = ({ blank }: Cell): string => blank.place.part ?? '';

function changesAt(of: ReadingKey, now: unknown, cells: readonly Cell[]): readonly Change[] {
  const spec: One | Group | Rows = READINGS[of];
  const [first] = cells;
  if (!('shape' in spec)) return first === undefined ? [] : [change([of], first.text)];
  const word = now === NOT_TAKEN;
  if (cells.every(isEmpty) && (word || spec.shape === 'group'))
    return word || isGroup(now) ? [change([of], null)] : [];
  // A group that is one blank on paper where none of its parts was taken is one word in the file too.
  const asWord = spec.shape === 'group' || spec.single;
  if (asWord && listOf(now).length === 0 && cells.every(({ text }) => text === NOT_TAKEN))
    return [change([of], NOT_TAKEN)];
  if (spec.shape === 'rows') return rowChanges(of, spec, now, cells);
  // One word that stood for the whole group is written out in full.
  return cells
    .filter((cell) => (word ? !isEmpty(cell) : differs(cell)))
    .map((cell) => change([of, partOf(cell)], cell.text));
}

function rowChanges(of: ReadingKey, spec: Rows, now: unknown, cells: readonly Cell[]): readonly Change[] {
  const rows = [...new Set(cells.map(({ blank }) => blank.place.row ?? 0))];
  const length = listOf(now).length;
  // A single row is written without a list.
  const plain = spec.single && rows.length === 1 && !Array.isArray(now);
  let next = length;
  const changes = rows.flatMap((row): readonly Change[] => {
    const own = cells.filter(({ blank }) => blank.place.row === row);
    const moment = own[0]?.blank.at ?? null;
    const found = of === 'additions' ? additionAt(now, moment) : row < length ? row : -1;
    if (found >= 0 && own.some(differs) && own.every(isEmpty))
      return [change(isGroup(now) ? [of] : [of, found], null)];
    const at = (place: number, cell: Cell) =>
      change(plain ? [of, partOf(cell)] : [of, place, partOf(cell)], cell.text);
    if (found >= 0) return own.filter(differs).map((cell) => at(found, cell));
    if (!makesRow(of, own)) return [];
    const place = next++;
    const filled = own.filter((cell) => !isEmpty(cell)).map((cell) => at(place, cell));
    if (of === 'additions') return [change([of, place, 'at'], moment), ...filled];
    return spec.single && !plain ? [...filled, change([of, place, 'into'], containerOf(own))] : filled;
  });
  return now === NOT_TAKEN && changes.length === 0 ? [change([of], null)] : changes;
}

/** What was keyed in makes a row of its own: an addition by its time, anything else by its day. */
const makesRow = (of: ReadingKey, own: readonly Cell[]): boolean =>
  of === 'additions'
    ? own.some((cell) => !isEmpty(cell))
    : own.some((cell) => partOf(cell) === 'on' && isFilled(cell.text));

const containerOf = (own: readonly Cell[]): string =>
  own.some((cell) => partOf(cell) === 'bottles') ? 'bottles' : 'keg';
