import type { Batch } from '../batch/types/batch.ts';
import { FERMENTATION_ROWS, type Field, fieldPattern, sheetFields } from '../paper/blanks.ts';
import type { Units } from '../words/numbers.ts';

/** One blank of the paper as it is keyed in, with what the file says of it now. */
export interface Blank extends Field {
  /** The unit that a bare number is taken in; empty where there is none. */
  readonly unit: string;
  /** Units that can be chosen without a keyboard of letters. */
  readonly choices: readonly string[];
  /** For a gravity, the unit of the sample's temperature. */
  readonly sampleUnit: string;
  /** As it stands in the file: its text, `not taken`, or nothing. */
  readonly now: string;
  readonly mayBeNotTaken: boolean;
}

/** Frontmatter as it was read, every value as text. */
export type Raw = Readonly<Record<string, unknown>>;

/** What was keyed in, by a blank's key, as the file would hold it; empty for a blank that was left so. */
export type Answers = ReadonlyMap<string, string>;

export const NOT_TAKEN = 'not taken';

/** Blanks under one heading of the paper. */
export interface BlankGroup {
  readonly letter: string;
  readonly sheet: Field['sheet'];
  readonly title: string;
  readonly blanks: readonly Blank[];
}

const TITLES: Readonly<Record<string, string>> = {
  A: 'Heat and steep',
  B: 'Boil',
  C: 'Chill and top up',
  D: 'Read',
  E: 'Pitch',
  F: 'While it ferments',
  G: 'When it has finished',
  H: 'Packaging',
  J: 'Tasting',
  K: 'If it was given up',
};

/** Blanks by the letter that they have on paper, in its order. */
export function grouped(blanks: readonly Blank[]): readonly BlankGroup[] {
  const letters = [...new Set(blanks.map(({ id }) => id.charAt(0)))];
  return letters.map((letter) => {
    const own = blanks.filter(({ id }) => id.startsWith(letter));
    return { letter, sheet: own[0]?.sheet ?? 'kettle', title: TITLES[letter] ?? letter, blanks: own };
  });
}

/** A page of the paper with its blanks. */
export interface PaperPage {
  readonly sheet: Field['sheet'];
  /** Null where it is not known: then it stands for the whole sheet. */
  readonly page: number | null;
  readonly groups: readonly BlankGroup[];
}

/**
 * Blanks by the page that they stand on, in the order of the paper. A row that the paper has no room for follows the one
 * above it.
 *
 * @param pages pages by a blank's key; null where they are not known
 */
export function onPages(
  blanks: readonly Blank[],
  pages: ReadonlyMap<string, number> | null,
): readonly PaperPage[] {
  const found: { sheet: Field['sheet']; page: number | null; blanks: Blank[] }[] = [];
  for (const blank of blanks) {
    const last = found.at(-1);
    const above = last?.blanks.at(-1)?.id.charAt(0) === blank.id.charAt(0) ? last?.page : undefined;
    const page = pages === null ? null : (pages.get(blank.key) ?? above ?? null);
    if (last !== undefined && last.sheet === blank.sheet && last.page === page) last.blanks.push(blank);
    else found.push({ sheet: blank.sheet, page, blanks: [blank] });
  }
  return found.map(({ blanks: own, ...where }) => ({ ...where, groups: grouped(own) }));
}

/** `Kettle sheet, page 3`; a sheet of one page is named alone. */
export function pageTitle({ sheet, page }: Pick<PaperPage, 'sheet' | 'page'>, count: number): string {
  const name = `${sheet.charAt(0).toUpperCase()}${sheet.slice(1)} sheet`;
  return page === null || count === 1 ? name : `${name}, page ${page}`;
}

/**
 * Every blank of a batch's sheets in the order of the paper, with what its file says now. Where the log has more rows
 * than the paper, the rows go on below it, and one is always free; `least` rows there are in any case.
 */
export function blanksOf(batch: Batch, raw: Raw, units: Units, least = FERMENTATION_ROWS): readonly Blank[] {
  const readings = groupAt(raw, 'readings');
  const rows = listOf(readings.fermentation).length;
  const tastings = listOf(readings.tasted).length;
  const fields = sheetFields(batch, units);
  const more = repeated(fields, 'fermentation', FERMENTATION_ROWS, Math.max(least, rows + 1));
  const tasted = repeated(fields, 'tasted', 1, tastings + 1);
  const all = fields.flatMap((field, index) => {
    const next = fields[index + 1];
    const ends = field.id.charAt(0) !== next?.id.charAt(0);
    if (ends && field.id.startsWith('F')) return [field, ...more];
    return ends && field.id.startsWith('J') ? [field, ...tasted] : [field];
  });
  return all.map((field) => ({
    ...field,
    ...unitsOf(field, units),
    now: textNow(readings, field),
    mayBeNotTaken: mayBeNotTaken(field),
  }));
}

/** Rows beyond those on paper, numbered on. */
function repeated(fields: readonly Field[], list: string, from: number, to: number): readonly Field[] {
  const row = fields.filter(({ key }) => key.startsWith(`${list}[0].`));
  const letter = row[0]?.id.charAt(0) ?? '';
  return Array.from({ length: Math.max(0, to - from) }, (_, extra) =>
    row.map((field, column) => ({
      ...field,
      id: `${letter}${(from + extra) * row.length + column + 1}`,
      key: field.key.replace('[0]', `[${from + extra}]`),
    })),
  ).flat();
}

/** A day is needed where a row is; words are there or not. */
function mayBeNotTaken({ key, kind }: Field): boolean {
  if (kind === 'text' || key.startsWith('abandoned')) return false;
  return !/^(fermentation|tasted)\[\]\.on$/.test(fieldPattern(key));
}

function unitsOf({ kind, groups }: Field, units: Units): Pick<Blank, 'unit' | 'choices' | 'sampleUnit'> {
  const unit = groups.find(({ part }) => part === 'value')?.unit ?? '';
  const sampleUnit = groups.find(({ part }) => part === 'sample')?.unit ?? '';
  const metric = units === 'metric';
  const first = (...all: string[]) => [unit, ...all.filter((other) => other !== unit)];
  switch (kind) {
    case 'gravity':
      return { unit: 'SG', choices: ['SG', '°P', 'Bx'], sampleUnit };
    case 'volume':
      return {
        unit,
        choices: metric ? first('L', 'ml', 'us gal', 'imp gal') : first('gal', 'qt', 'L'),
        sampleUnit,
      };
    case 'temperature':
      return { unit, choices: first('°C', '°F'), sampleUnit };
    case 'mass':
      return { unit, choices: metric ? first('g', 'kg', 'oz') : first('oz', 'lb', 'g'), sampleUnit };
    default:
      return { unit: kind === 'count' ? unit : '', choices: [], sampleUnit };
  }
}

export function groupAt(value: unknown, key: string): Raw {
  const found = isGroup(value) ? value[key] : undefined;
  return isGroup(found) ? found : {};
}

export const isGroup = (value: unknown): value is Raw =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

/** A list, or the one thing that stands for a list of one. */
export function listOf(value: unknown): readonly unknown[] {
  if (Array.isArray(value)) return value;
  return isGroup(value) ? [value] : [];
}

/** Rows of the fermentation log that a file has. */
export const logOf = (raw: Raw): readonly unknown[] => listOf(groupAt(raw, 'readings').fermentation);

/** `60 min` and `60min` are the same addition. */
export const sameMoment = (a: unknown, b: string | null): boolean =>
  b !== null && String(a).replaceAll(/\s/g, '') === b.replaceAll(/\s/g, '');

function textNow(readings: Raw, field: Field): string {
  const parts = field.key.split(/[.[\]]+/).filter((part) => part !== '');
  const [top = '', ...rest] = parts;
  const value = Object.hasOwn(readings, top) ? readings[top] : undefined;
  if (top === 'additions') {
    if (value === NOT_TAKEN) return NOT_TAKEN;
    const found = listOf(value).find((item) => isGroup(item) && sameMoment(item.at, field.at));
    return asText(isGroup(found) ? found.clock : undefined);
  }
  let at: unknown = value;
  for (const part of rest) {
    // A group that was not taken: so were its blanks, but for the days and words of rows that do not exist.
    if (typeof at === 'string') return at === NOT_TAKEN && mayBeNotTaken(field) ? NOT_TAKEN : '';
    at = /^\d+$/.test(part) ? listOf(at)[Number(part)] : isGroup(at) ? at[part] : undefined;
  }
  return asText(at);
}

const asText = (value: unknown): string =>
  typeof value === 'string' || typeof value === 'number' ? String(value) : '';
