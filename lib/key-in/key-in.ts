import type { Batch } from '../batch/types/batch.ts';
import { type Place, placeText } from '../batch/types/places.ts';
import type { Targets } from '../batch/types/plan.ts';
import { BLOCKS, type Block, type Field, formFields, isInReach, PAPER_ROWS } from '../paper/blanks.ts';
import type { Units } from '../units/dimension.ts';
import { isGroup } from '../units/parse/with-value.ts';

/** One blank of the paper as it is keyed in, with what the file says of it now. */
export interface Blank extends Field {
  /** The unit that a bare number is taken in; empty where there is none. */
  readonly unit: string;
  /** Units that can be chosen without a keyboard of letters. */
  readonly choices: readonly string[];
  /** For a gravity, the unit of the sample's temperature. */
  readonly sampleUnit: string;
  /** As the file has it: its text, `not taken`, or nothing. */
  readonly now: string;
}

/** Frontmatter as it was read, every value as text. */
export type Raw = Readonly<Record<string, unknown>>;

/** What was keyed in, by a blank's key, as the file would hold it; empty for a blank that was left so. */
export type Answers = ReadonlyMap<string, string>;

export const NOT_TAKEN = 'not taken';
export const LEFT_OUT = 'left out';

/** Whether an answer is a figure, a time or words: not empty, and no word that means none. */
export const isFilled = (text: string): boolean => text !== '' && text !== NOT_TAKEN;

/** Blanks under one heading on one page of the paper. */
export interface BlankGroup extends Block {
  readonly letter: string;
  /** `Kettle sheet, page 3`; a sheet of one page, or whose pages are not known, is named alone. */
  readonly where: string;
  readonly blanks: readonly Blank[];
}

/** What is known of the pages of the paper: how many each sheet has, and where a blank is. */
export interface PaperPages {
  readonly counts: Readonly<Record<Field['sheet'], number>>;
  readonly pages: Readonly<Record<string, number>>;
}

/** Blanks by heading and page, in the order of the paper. A row that the paper has no room for follows the one above it. */
export function headed(blanks: readonly Blank[], paper: PaperPages | null): readonly BlankGroup[] {
  const groups: { letter: string; page: number | null; blanks: Blank[] }[] = [];
  for (const blank of blanks) {
    const last = groups.at(-1);
    const follows = last?.letter === blank.block;
    const page = paper?.pages[blank.key] ?? (follows ? last.page : null);
    if (follows && last.page === page) last.blanks.push(blank);
    else groups.push({ letter: blank.block, page, blanks: [blank] });
  }
  return groups.map(({ letter, page, blanks: own }) => {
    const block = BLOCKS[own[0]?.block ?? 'A'];
    const sheet = block.sheet === 'kettle' ? 'Kettle sheet' : 'Cellar sheet';
    const single = page === null || (paper?.counts[block.sheet] ?? 1) === 1;
    return { ...block, letter, where: single ? sheet : `${sheet}, page ${page}`, blanks: own };
  });
}

/**
 * Every blank of a batch in the order of the paper, with what its file says now. Where the log has more rows than the paper,
 * the rows go on below it, and one is always free; `least` rows there are in any case. What the paper does not ask for, because
 * more is planned than its instrument shows, is left out once it is known what is planned, but for what the file has.
 */
export function blanksOf(
  batch: Batch,
  raw: Raw,
  units: Units,
  least = PAPER_ROWS.fermentation,
  targets: Targets | null = null,
): readonly Blank[] {
  const readings = groupAt(raw, 'readings');
  const rows = {
    fermentation: Math.max(least, rowsOf(raw, 'fermentation').length + 1),
    tasted: rowsOf(raw, 'tasted').length + 1,
  };
  return formFields(batch, units, rows)
    .map((field) => ({ ...field, ...unitsOf(field, units), now: textNow(readings, field) }))
    .flatMap((blank) => {
      if (targets === null || isInReach(blank, targets)) return [blank];
      return blank.now === '' ? [] : [{ ...blank, onPaper: false }];
    });
}

/** Units that can be chosen, beside that of the paper. */
const CHOICES: Readonly<Record<Units, { readonly [K in Field['kind']]?: readonly string[] }>> = {
  metric: {
    volume: ['L', 'ml', 'us gal', 'imp gal'],
    temperature: ['°C', '°F'],
    mass: ['g', 'kg', 'oz'],
  },
  us: { volume: ['gal', 'qt', 'L'], temperature: ['°C', '°F'], mass: ['oz', 'lb', 'g'] },
};

function unitsOf({ kind, groups }: Field, units: Units): Pick<Blank, 'unit' | 'choices' | 'sampleUnit'> {
  const unitAt = (name: string) => groups.find(({ part }) => part === name)?.unit ?? '';
  const sampleUnit = unitAt('sample');
  if (kind === 'gravity') return { unit: 'SG', choices: ['SG', '°P', 'Bx'], sampleUnit };
  const others = CHOICES[units][kind];
  const unit = others !== undefined || kind === 'count' ? unitAt('value') : '';
  return { unit, choices: others === undefined ? [] : [...new Set([unit, ...others])], sampleUnit };
}

export function groupAt(value: unknown, key: string): Raw {
  const found = isGroup(value) ? value[key] : undefined;
  return isGroup(found) ? found : {};
}

/** A list, or the one thing that is a list of one. */
export function listOf(value: unknown): readonly unknown[] {
  if (Array.isArray(value)) return value;
  return isGroup(value) ? [value] : [];
}

export const rowsOf = (raw: Raw, list: Place['of']): readonly unknown[] =>
  listOf(groupAt(raw, 'readings')[list]);

/** `60 min` and `60min` are the same addition. */
const sameMoment = (a: unknown, b: string | null): boolean =>
  b !== null && String(a).replaceAll(/\s/g, '') === b.replaceAll(/\s/g, '');

/** Where a file has the addition of a moment, which is known by that and not by its place; -1 where it has none. */
export const additionAt = (additions: unknown, moment: string | null): number =>
  listOf(additions).findIndex((row) => isGroup(row) && sameMoment(row.at, moment));

/** A blank by its key or its number on paper, an addition by its moment too. */
export function findBlank(blanks: readonly Blank[], name: string): Blank | undefined {
  const moment = /^additions\[(.*)\](?:\.clock)?$/.exec(name)?.[1];
  return blanks.find(
    ({ key, id, at }) =>
      key === name ||
      id.toLowerCase() === name.toLowerCase() ||
      (moment !== undefined && sameMoment(moment, at)),
  );
}

/** The blank of another part in the same row or group. */
export const siblingKey = ({ place }: Pick<Blank, 'place'>, part: string): string =>
  placeText({ ...place, part });

function textNow(readings: Raw, { place: { of, row, part }, at, words }: Field): string {
  const whole = Object.hasOwn(readings, of) ? readings[of] : undefined;
  if (part === null) return asText(whole);
  // A group that was not taken: so were its blanks, but for the days and words of rows that do not exist.
  if (whole === NOT_TAKEN) return words.includes(NOT_TAKEN) ? NOT_TAKEN : '';
  const place = of === 'additions' ? additionAt(whole, at) : row;
  const own = place === null ? whole : listOf(whole)[place];
  return asText(isGroup(own) ? own[part] : undefined);
}

const asText = (value: unknown): string =>
  typeof value === 'string' || typeof value === 'number' ? String(value) : '';
