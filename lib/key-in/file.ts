import { type Answers, type Blank, groupAt, listOf, type Raw, sameMoment } from './key-in.ts';

/** One reading of a file that the form without a server has made. */
export interface KeyedLine {
  /** As it is called in the file: an addition by its moment, everything else by its key. */
  readonly name: string;
  /** What was keyed in; empty where a reading was taken out. */
  readonly text: string;
  /** What the batch file said when the form was made. */
  readonly was: string;
}

export interface KeyedFile {
  /** The batch that it is for; null where it does not say so. */
  readonly slug: string | null;
  readonly lines: readonly KeyedLine[];
  /** Days of rows that were there when the form was made, by the day's key. */
  readonly days: ReadonlyMap<string, string>;
}

const ROW = /^(fermentation|tasted)\[(\d+)\]\./;

/** `additions[60 min].clock`: by its moment an addition is found in a recipe that has another one since. */
const nameOf = ({ key, at }: Blank): string => (at === null ? key : key.replace(/\[\d+\]/, `[${at}]`));

/**
 * A file with what was keyed in: a line for each reading, `original_gravity = 1.049 @ 24 °C`, and one with what the batch
 * file said of it, `was original_gravity = 1.044`, so that whoever puts it into the file can tell what has changed since.
 */
export function keyedFile(slug: string, blanks: readonly Blank[], answers: Answers): string {
  const lines: string[] = [];
  const days = new Set<string>();
  for (const blank of blanks) {
    const text = answers.get(blank.key) ?? blank.now;
    if (text === blank.now) continue;
    const name = nameOf(blank);
    const dayKey = blank.key.replace(/\.[a-z]+$/, '.on');
    const day = ROW.test(blank.key) ? blanks.find(({ key }) => key === dayKey) : undefined;
    // A row is known by its day: others may come in above it.
    if (day !== undefined && day !== blank && day.now !== '' && !days.has(dayKey))
      lines.push(`was ${dayKey} = ${day.now}`);
    days.add(dayKey);
    lines.push(`was ${name} = ${blank.now}`, `${name} = ${text}`);
  }
  return [`batch = ${slug}`, ...lines, ''].join('\n');
}

/** What was keyed in on a form that stands open, with what the batch file said when it was opened. */
export function keyedSince(
  blanks: readonly Blank[],
  was: ReadonlyMap<string, string>,
  keyed: Answers,
): KeyedFile {
  const lines = blanks.flatMap((blank): readonly KeyedLine[] => {
    const text = keyed.get(blank.key);
    const before = was.get(blank.key) ?? '';
    return text === undefined || text === before ? [] : [{ name: nameOf(blank), text, was: before }];
  });
  const days = new Map([...was].filter(([key]) => ROW.test(key) && key.endsWith('.on')));
  return { slug: null, lines, days };
}

/** Reads such a file; the message says which line is none of its own. */
export function readKeyedFile(text: string): KeyedFile | { readonly fault: string } {
  const keyed: { readonly name: string; readonly text: string }[] = [];
  const was = new Map<string, string>();
  let slug: string | null = null;
  for (const line of text.split(/\r?\n/)) {
    if (line.trim() === '' || line.startsWith('#')) continue;
    const cut = line.indexOf('=');
    if (cut < 1)
      return { fault: `"${line.slice(0, 60)}" is no line such as original_gravity = 1.049 @ 24 °C` };
    const [name, value] = [line.slice(0, cut).trim(), line.slice(cut + 1).trim()];
    if (name === 'batch') slug = value;
    else if (name.startsWith('was ')) was.set(name.slice('was '.length).trim(), value);
    else keyed.push({ name, text: value });
  }
  const days = new Map([...was].filter(([name]) => ROW.test(name) && name.endsWith('.on')));
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
  for (const { name, text, was } of file.lines) {
    const row = ROW.exec(name);
    const place = row === null ? undefined : places.get(`${row[1]}[${row[2]}]`);
    if (place === 'there') continue;
    const key = row === null ? name : name.replace(/\[\d+\]/, `[${place}]`);
    const blank = findNamed(blanks, key);
    if (blank === undefined || place === 'gone') unknown.push(name);
    else if (blank.now === text) continue;
    else if (blank.now === was) given.push([blank.key, text]);
    else collisions.push({ blank, keyed: text, was });
  }
  return { given, collisions, unknown };
}

/** A blank by its key, an addition by its moment too. */
export function findNamed(blanks: readonly Blank[], name: string): Blank | undefined {
  const moment = /^additions\[(.*)\](?:\.clock)?$/.exec(name)?.[1];
  return blanks.find(
    ({ key, at }) => key === name || (moment !== undefined && at !== null && sameMoment(moment, at)),
  );
}

/** Rows that a list needs so that all new ones of a file have room below those that are there by now. */
export const rowsNeeded = ({ lines }: KeyedFile, raw: Raw): number =>
  listOf(groupAt(raw, 'readings').fermentation).length +
  new Set(lines.flatMap(({ name }) => (name.startsWith('fermentation[') ? name.split('.')[0] : []))).size;

type Place = number | 'there' | 'gone';

/** Where the rows of a file go, by their names in it: a new one below all others, one that was changed where its day is. */
function rowPlaces(file: KeyedFile, blanks: readonly Blank[], raw: Raw): ReadonlyMap<string, Place> {
  const places = new Map<string, Place>();
  const next = new Map<string, number>();
  const names = new Set(file.lines.flatMap(({ name }) => ROW.exec(name)?.[0].slice(0, -1) ?? []));
  for (const name of names) {
    const [list = ''] = name.split('[');
    const rows = listOf(groupAt(raw, 'readings')[list]).length;
    const own = file.lines.filter((line) => line.name.startsWith(`${name}.`));
    const nowIn = (row: number, part: string) =>
      blanks.find(({ key }) => key === `${list}[${row}].${part}`)?.now ?? '';
    const partOf = (line: KeyedLine) => line.name.slice(name.length + 1);
    const all = Array.from({ length: rows }, (_, row) => row);
    const day = file.days.get(`${name}.on`) ?? '';
    if (day !== '') {
      const found = all.filter((row) => nowIn(row, 'on') === day);
      places.set(name, (found.length === 1 ? found[0] : undefined) ?? 'gone');
      continue;
    }
    if (all.some((row) => own.every((line) => nowIn(row, partOf(line)) === line.text))) {
      places.set(name, 'there');
      continue;
    }
    const place = next.get(list) ?? rows;
    next.set(list, place + 1);
    places.set(name, place);
  }
  return places;
}
