import { type Place, placeOf, placeText } from '../batch/types/places.ts';
import { type Answers, type Blank, findBlank, type Raw, rowsOf, siblingKey } from './key-in.ts';

/** One reading of a file that the form without a server has made. */
export interface KeyedLine {
  /** As it is called in the file: an addition by its moment, everything else by its key. */
  readonly name: string;
  /** What was keyed in; empty where a reading was taken out. */
  readonly text: string;
  /** What the batch file said when the form was made. */
  readonly was: string;
  /** Its row of a log; null where it is in none. */
  readonly row: LogPlace | null;
}

export interface KeyedFile {
  /** The batch that it is for; null where it does not say so. */
  readonly slug: string | null;
  readonly lines: readonly KeyedLine[];
  /** Days of rows that were there when the form was made, by the day's key. */
  readonly days: ReadonlyMap<string, string>;
}

/** `additions[60 min].clock`: by its moment an addition is found in a recipe that has another one since. */
const nameOf = ({ key, at }: Blank): string => (at === null ? key : `additions[${at}].clock`);

/** The row of a log that a name leads to: others may come in above it. Null for what is no such row. */
function rowIn(name: string): LogPlace | null {
  const place = placeOf(name);
  if (place === null || place.row === null) return null;
  const { of, row } = place;
  return of === 'fermentation' || of === 'tasted' ? { ...place, of, row } : null;
}
type LogKey = 'fermentation' | 'tasted';
type LogPlace = Place & { readonly of: LogKey; readonly row: number };

/** Blanks by words that find them again where the rows of a log have moved: by the row's day. */
export function byWords(blanks: readonly Blank[], answers: Answers = new Map()): ReadonlyMap<string, Blank> {
  const now = new Map(blanks.map((blank) => [blank.key, answers.get(blank.key) ?? blank.now]));
  const words = (blank: Blank) => {
    const inLog = rowIn(blank.key) !== null;
    const place = inLog ? { ...blank.place, row: null } : blank.place;
    return JSON.stringify([placeText(place), blank.at, inLog ? now.get(siblingKey(blank, 'on')) : '']);
  };
  return new Map(blanks.map((blank) => [words(blank), blank]));
}

/** By the same words, what the file said at any time before answers changed it. */
export function saidBefore(
  blanks: readonly Blank[],
  answers: Answers,
  earlier: ReadonlyMap<string, readonly string[]> = new Map(),
): ReadonlyMap<string, readonly string[]> {
  const changed = [...byWords(blanks, answers)].flatMap(([words, { key, now: was }]) => {
    const now = answers.get(key) ?? was;
    const before = [...(earlier.get(words) ?? []), was].filter((text) => text !== now);
    return now === was ? [] : [[words, before] as const];
  });
  return new Map([...earlier, ...changed]);
}

/** Of what was saved, what the file says as before again: an editor with an older text has written over it. */
export function lostFrom(
  blanks: readonly Blank[],
  before: ReadonlyMap<string, readonly string[]>,
): readonly string[] {
  const said = byWords(blanks);
  return [...before]
    .filter(([words, was]) => was.includes(said.get(words)?.now ?? ''))
    .map(([words]) => words);
}

/**
 * A file with what was keyed in: a line for each reading, `original_gravity = 1.049 @ 24 °C`, and one with what the batch
 * file said of it, `was original_gravity = 1.044`, so that the person who puts it into the file can see what has changed since.
 * Of the keys in `lost`, what the file said and says no more.
 */
export function keyedFile(
  slug: string,
  blanks: readonly Blank[],
  answers: Answers,
  lost: ReadonlySet<string> = new Set(),
): string {
  const lines: string[] = [];
  const days = new Set<string>();
  for (const blank of blanks) {
    const text = answers.get(blank.key) ?? blank.now;
    if (text === blank.now && !lost.has(blank.key)) continue;
    const name = nameOf(blank);
    const dayKey = siblingKey(blank, 'on');
    const day = rowIn(blank.key) === null ? undefined : blanks.find(({ key }) => key === dayKey);
    // A row is known by its day.
    if (day !== undefined && day !== blank && day.now !== '' && !days.has(dayKey))
      lines.push(`was ${dayKey} = ${day.now}`);
    days.add(dayKey);
    lines.push(`was ${name} = ${blank.now}`, `${name} = ${text}`);
  }
  return [`batch = ${slug}`, ...lines, ''].join('\n');
}

/** Reads such a file; the message says which line is none of its own. */
export function readKeyedFile(text: string): KeyedFile | { readonly fault: string } {
  const keyed: Omit<KeyedLine, 'was'>[] = [];
  const was = new Map<string, string>();
  let slug: string | null = null;
  for (const line of text.split(/\r?\n/)) {
    if (line.trim() === '' || line.startsWith('#')) continue;
    const cut = line.indexOf('=');
    if (cut < 1)
      return { fault: `"${line.slice(0, 60)}" is not a line such as original_gravity = 1.049 @ 24 °C` };
    const [name, value] = [line.slice(0, cut).trim(), line.slice(cut + 1).trim()];
    if (name === 'batch') slug = value;
    else if (name.startsWith('was ')) was.set(name.slice('was '.length).trim(), value);
    else keyed.push({ name, text: value, row: rowIn(name) });
  }
  const days = new Map([...was].filter(([name]) => rowIn(name)?.part === 'on'));
  return { slug, days, lines: keyed.map((line) => ({ ...line, was: was.get(line.name) ?? '' })) };
}

/** A reading that says something else in the batch file by now than when it was keyed in. */
export interface Collision {
  readonly blank: Blank;
  readonly keyed: string;
  readonly was: string;
}

export interface Merged {
  /** What is left to be keyed in, by a blank's key. */
  readonly given: readonly (readonly [key: string, text: string])[];
  readonly collisions: readonly Collision[];
  /** Names that the sheets of the batch have no blank for, or whose row is no longer there. */
  readonly unknown: readonly string[];
}

/**
 * Puts what was keyed in elsewhere into a batch file as it is now. New rows go below those that are there by now, and one
 * that is there already is left out; a row that was changed is found by its day. What the file says differently by now is
 * never written over: it comes back as a collision.
 */
export function mergeKeyed(file: KeyedFile, blanks: readonly Blank[], raw: Raw): Merged {
  const places = rowPlaces(file, blanks, raw);
  const given: (readonly [string, string])[] = [];
  const collisions: Collision[] = [];
  const unknown: string[] = [];
  for (const { name, text, was, row } of file.lines) {
    const place = row === null ? null : places.get(rowName(row));
    const isPlaced = row !== null && typeof place === 'number';
    const blank = findBlank(blanks, isPlaced ? placeText({ ...row, row: place }) : name);
    if (blank === undefined || place === 'gone') unknown.push(name);
    else if (blank.now === text) continue;
    else if (blank.now === was) given.push([blank.key, text]);
    else collisions.push({ blank, keyed: text, was });
  }
  return { given, collisions, unknown };
}

const rowName = ({ of, row }: Place): string => placeText({ of, row, part: null });

/** Rows that the log needs so that all new ones of a file have room below those that are there by now. */
export const rowsNeeded = ({ lines }: KeyedFile, raw: Raw): number => {
  const rows = lines.filter(({ row }) => row?.of === 'fermentation').map(({ row }) => row?.row);
  return rowsOf(raw, 'fermentation').length + new Set(rows).size;
};

/** Where the rows of a file go, by their names in it: a new one below all others, one that was changed where its day is. */
function rowPlaces(
  file: KeyedFile,
  blanks: readonly Blank[],
  raw: Raw,
): ReadonlyMap<string, number | 'gone'> {
  const places = new Map<string, number | 'gone'>();
  const next = new Map<LogKey, number>();
  for (const { row: place } of file.lines) {
    const name = place === null ? '' : rowName(place);
    if (place === null || places.has(name)) continue;
    const own = file.lines.filter(({ row }) => row !== null && rowName(row) === name);
    const rows = rowsOf(raw, place.of).map((_, row) => row);
    const nowIn = (row: number, part: string | null) =>
      blanks.find(({ key }) => key === placeText({ of: place.of, row, part }))?.now ?? '';
    const day = file.days.get(placeText({ ...place, part: 'on' })) ?? '';
    const [found, ...more] = rows.filter((row) => day !== '' && nowIn(row, 'on') === day);
    // A row that was lost comes with its day.
    const isWhole = own.some(({ row, text }) => row?.part === 'on' && text === day);
    if (found !== undefined || (day !== '' && !isWhole)) {
      places.set(name, found !== undefined && more.length === 0 ? found : 'gone');
      continue;
    }
    const same = rows.find((row) => own.every((line) => nowIn(row, line.row?.part ?? null) === line.text));
    const free = next.get(place.of) ?? rows.length;
    places.set(name, same ?? free);
    if (same === undefined) next.set(place.of, free + 1);
  }
  return places;
}
