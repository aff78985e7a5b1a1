import type { KeyPath } from '../units/problem.ts';
import {
  type Answers,
  type Blank,
  groupAt,
  isGroup,
  listOf,
  NOT_TAKEN,
  type Raw,
  sameMoment,
} from './key-in.ts';

/** One reading to write: its path below `readings`, and its text; null takes it out with its key. */
export interface Change {
  readonly path: KeyPath;
  readonly value: string | null;
}

/** Groups that are one blank each on paper where none of their parts was taken. */
const GROUPS = ['chilled', 'top_up', 'pitched'];

/**
 * What has to be written so that a file says what was keyed in: only answers that differ from what it says now, in the
 * order of the paper. Rows of a list keep their place; new ones follow without gaps. A row or group that was emptied goes
 * as a whole.
 */
export function changesOf(raw: Raw, blanks: readonly Blank[], answers: Answers): readonly Change[] {
  const readings = groupAt(raw, 'readings');
  const rows = new Map<string, number>();
  const gone = new Set<string>();
  const differs = (blank: Blank) => answerOf(answers, blank) !== blank.now;
  const changed = withWholeGroups(readings, blanks, answers, differs);
  return changed.flatMap((blank): readonly Change[] => {
    const text = answerOf(answers, blank);
    const value = text === '' ? null : text;
    const [top = ''] = blank.key.split(/[.[]/);
    const emptied = value === null ? emptiedWith(readings, blanks, answers, blank) : null;
    if (emptied !== null) {
      const name = emptied.join(' ');
      if (gone.has(name)) return [];
      gone.add(name);
      return [{ path: emptied, value: null }];
    }
    if (GROUPS.includes(top) && notTakenWhole(top, blanks, answers)) {
      const first = changed.find(({ key }) => key.startsWith(`${top}.`));
      return first === blank && !isGroup(readings[top])
        ? [{ path: [top], value: NOT_TAKEN }]
        : inPlace(blank, value);
    }
    if (top === 'additions') return addition(readings, rows, blank, value);
    if (top === 'packaged') return packaged(readings, blanks, answers, blank, value);
    return [{ path: rowPath(readings, rows, blank), value }];

    function inPlace(own: Blank, to: string | null): readonly Change[] {
      return isGroup(readings[top]) ? [{ path: pathOf(own.key), value: to }] : [];
    }
  });
}

/** Lists whose rows each have a day. */
const DATED = ['fermentation', 'tasted'];

/**
 * The path of what an emptied blank was the last part of: its group or row, with whatever else stands in that, or the
 * word that stood for all of it; null where something is left.
 */
function emptiedWith(
  readings: Raw,
  blanks: readonly Blank[],
  answers: Answers,
  { key, at }: Blank,
): KeyPath | null {
  const path = pathOf(key);
  const [top = '', row] = path;
  if (path.length === 1) return null;
  const empty = (of: string) =>
    blanks.every((blank) => !blank.key.startsWith(of) || answerOf(answers, blank) === '');
  if (readings[top] === NOT_TAKEN) {
    const rowless = DATED.includes(String(top)) && !blanks.some((blank) => isDay(blank, top, answers));
    return rowless || empty(`${top}${path.length === 2 ? '.' : '['}`) ? [top] : null;
  }
  if (top === 'additions') {
    const found = listOf(readings.additions).findIndex((each) => isGroup(each) && sameMoment(each.at, at));
    return found < 0 ? null : [top, found];
  }
  if (typeof row !== 'number') return empty(`${top}.`) && isGroup(readings[top]) ? [top] : null;
  if (!empty(`${top}[${row}].`) || row >= listOf(readings[top]).length) return null;
  return isGroup(readings[top]) ? [top] : [top, row];
}

const isDay = (blank: Blank, list: string | number, answers: Answers): boolean =>
  blank.key.startsWith(`${list}[`) && blank.key.endsWith('].on') && answerOf(answers, blank) !== '';

const answerOf = (answers: Answers, { key, now }: Blank): string => answers.get(key) ?? now;

/** A group that is one word in the file, `not taken`, is written out in full once a part of it was taken. */
function withWholeGroups(
  readings: Raw,
  blanks: readonly Blank[],
  answers: Answers,
  differs: (blank: Blank) => boolean,
): readonly Blank[] {
  const tops = new Set(
    blanks.filter(differs).flatMap(({ key }) => {
      const [top = ''] = key.split(/[.[]/);
      return readings[top] === NOT_TAKEN && key !== top ? [top] : [];
    }),
  );
  return blanks.filter((blank) => {
    if (differs(blank)) return true;
    const [top = ''] = blank.key.split(/[.[]/);
    if (!tops.has(top) || answerOf(answers, blank) === '') return false;
    const day = blanks.find(({ key }) => key === blank.key.replace(/\]\..*$/, '].on'));
    // A row that has no day is none.
    return !DATED.includes(top) || (day !== undefined && answerOf(answers, day) !== '');
  });
}

function notTakenWhole(top: string, blanks: readonly Blank[], answers: Answers): boolean {
  const own = blanks.filter(({ key }) => key.startsWith(`${top}.`));
  return own.every((blank) => answerOf(answers, blank) === NOT_TAKEN);
}

export const pathOf = (key: string): KeyPath =>
  key
    .split(/[.[\]]+/)
    .filter((part) => part !== '')
    .map((part) => (/^\d+$/.test(part) ? Number(part) : part));

/** Rows that the file has stay where they are; the first new row on paper is the next in the file. */
function rowPath(readings: Raw, rows: Map<string, number>, { key }: Blank): KeyPath {
  const [top, index, ...rest] = pathOf(key);
  if (typeof index !== 'number') return pathOf(key);
  return [top ?? '', placeOf(readings, rows, String(top), String(index), index), ...rest];
}

function placeOf(readings: Raw, rows: Map<string, number>, list: string, row: string, index: number): number {
  const length = listOf(readings[list]).length;
  if (index >= 0 && index < length) return index;
  const known = rows.get(`${list} ${row}`);
  if (known !== undefined) return known;
  const next = length + [...rows.keys()].filter((name) => name.startsWith(`${list} `)).length;
  rows.set(`${list} ${row}`, next);
  return next;
}

/** An addition is known by its moment, not by its place. */
function addition(
  readings: Raw,
  rows: Map<string, number>,
  blank: Blank,
  value: string | null,
): readonly Change[] {
  const found = listOf(readings.additions).findIndex((row) => isGroup(row) && sameMoment(row.at, blank.at));
  if (value === null) return [];
  if (found >= 0) return [{ path: ['additions', found, 'clock'], value }];
  const index = placeOf(readings, rows, 'additions', blank.key, -1);
  return [
    { path: ['additions', index, 'at'], value: blank.at },
    { path: ['additions', index, 'clock'], value },
  ];
}

/** One packaging is a group, two are a list; a second one makes a list of the first. */
function packaged(
  readings: Raw,
  blanks: readonly Blank[],
  answers: Answers,
  blank: Blank,
  value: string | null,
): readonly Change[] {
  const own = blanks.filter(({ key }) => key.startsWith('packaged['));
  const several = own.some(({ key }) => key.startsWith('packaged[1]'));
  const [, index = 0, ...rest] = pathOf(blank.key);
  const plain = !several && !Array.isArray(readings.packaged);
  const whole = own.every((each) => answerOf(answers, each) === NOT_TAKEN);
  if (whole && listOf(readings.packaged).length === 0) {
    const first = own.find((each) => answerOf(answers, each) !== each.now);
    return first === blank ? [{ path: ['packaged'], value: NOT_TAKEN }] : [];
  }
  if (plain) return [{ path: ['packaged', ...rest], value }];
  // A part that was not packaged at all has no row; the next one takes its place.
  const before = [0, 1].filter((row) => row < Number(index) && isFilled(own, answers, row)).length;
  const place = Number(index) < listOf(readings.packaged).length ? Number(index) : before;
  const exists = listOf(readings.packaged)[place] !== undefined;
  if (!exists && !isFilled(own, answers, Number(index))) return [];
  const changes = [{ path: ['packaged', place, ...rest], value }];
  if (exists || rest[0] !== 'on') return changes;
  const bottles = own.some(({ key }) => key === `packaged[${index}].bottles`);
  return [...changes, { path: ['packaged', place, 'into'], value: bottles ? 'bottles' : 'keg' }];
}

const isFilled = (own: readonly Blank[], answers: Answers, row: number): boolean =>
  own.some(
    (each) => each.key.startsWith(`packaged[${row}]`) && !['', NOT_TAKEN].includes(answerOf(answers, each)),
  );
