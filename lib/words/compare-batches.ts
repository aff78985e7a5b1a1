/** Two batches compared, from what was put into words before: nothing is worked out again. */
import { fixed, type Parts } from '../units/format/format.ts';

/** A text of a batch under its name: a step of the method, a remark. */
export interface NamedText {
  readonly what: string;
  readonly text: string;
}

/** An ingredient in words; name and moment say which line of another recipe it matches. */
export interface WordedLine {
  readonly name: string;
  readonly when: string;
  readonly text: string;
  /** Number and unit as written; both empty where it is another form. */
  readonly amount: Parts;
}

export interface RecipeWords {
  readonly kit: string;
  readonly ingredients: readonly { readonly what: string; readonly lines: readonly WordedLine[] }[];
  readonly method: readonly NamedText[];
}

/**
 * A figure as it is printed, number and unit apart; `text` replaces it where it was written in another way, `u` is its
 * standard uncertainty in the same unit. Short, because a site carries a list of them for every batch.
 */
export type FigureRow = readonly [label: string, number: string, unit?: string, text?: string, u?: number];

export interface FigureGroup {
  readonly title: string;
  readonly rows: readonly FigureRow[];
}

/** A batch as it is compared with any other: in words and printed figures, and only what may be seen. */
export interface Comparable {
  readonly slug: string;
  readonly title: string;
  readonly day: string;
  /** Title, style. */
  readonly names: readonly NamedText[];
  readonly recipe: RecipeWords;
  readonly figures: readonly FigureGroup[];
  /** What was said on tasting, and the notes, as the HTML of the batch's own page. */
  readonly notes: string;
}

/** One thing that one batch has otherwise than the other. */
export interface TextChange {
  readonly what: string;
  /** null where the first batch has nothing of it. */
  readonly was: string | null;
  /** null where it was left out. */
  readonly is: string | null;
  /** By how much an ingredient changed, `+3 g`; absent where that cannot be said. */
  readonly by?: string;
}

export interface FigureChange {
  readonly label: string;
  readonly was: string;
  readonly is: string;
  /** With its sign; empty where they print the same, or cannot be subtracted. */
  readonly by: string;
  /** Whether they differ by more than two standard uncertainties of the difference; of figures without one, at all. */
  readonly clear: boolean;
}

const plainName = ({ name }: WordedLine): string => name.toLowerCase();

/** Pairs lines of the same name and moment first, then what is left of the same name, in order. */
function pairs(
  was: readonly WordedLine[],
  is: readonly WordedLine[],
): { readonly was: WordedLine | null; readonly is: WordedLine | null }[] {
  const left = [...was];
  const partner = new Map<WordedLine, WordedLine>();
  const take = (same: (a: WordedLine, b: WordedLine) => boolean): void => {
    for (const one of is) {
      if (partner.has(one)) continue;
      const at = left.findIndex((other) => same(other, one));
      if (at >= 0) partner.set(one, left.splice(at, 1)[0]!);
    }
  };
  take((a, b) => plainName(a) === plainName(b) && a.when === b.when);
  take((a, b) => plainName(a) === plainName(b));
  return [
    ...is.map((one) => ({ was: partner.get(one) ?? null, is: one })),
    ...left.map((one) => ({ was: one, is: null })),
  ];
}

const change = (what: string, was: string | null, is: string | null): TextChange[] =>
  was === is ? [] : [{ what, was, is }];

/** Texts of the same name are compared; those that only one batch has are added or left out. */
export function textChanges(was: readonly NamedText[], is: readonly NamedText[]): readonly TextChange[] {
  const texts = (list: readonly NamedText[]): Map<string, string> => {
    const found = new Map<string, string>();
    for (const { what, text } of list) {
      const before = found.get(what);
      found.set(what, before === undefined ? text : `${before} ${text}`);
    }
    return found;
  };
  const before = texts(was);
  const after = texts(is);
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((what) =>
    change(what, before.get(what) ?? null, after.get(what) ?? null),
  );
}

function lineChange(what: string, was: WordedLine | null, is: WordedLine | null): TextChange[] {
  const changes = change(what, was?.text ?? null, is?.text ?? null);
  if (was === null || is === null) return changes;
  const { by } = difference(was.amount, is.amount);
  const { unit } = is.amount;
  return by === ''
    ? changes
    : changes.map((one) => ({ ...one, by: unit === '' ? by : `${by}\u00a0${unit}` }));
}

/** What one recipe has otherwise than another: setup, ingredients and method, in words. */
export function recipeChanges(was: RecipeWords, is: RecipeWords): readonly TextChange[] {
  const before = new Map(was.ingredients.map(({ what, lines }) => [what, lines]));
  const after = new Map(is.ingredients.map(({ what, lines }) => [what, lines]));
  const ingredients = [...new Set([...before.keys(), ...after.keys()])].flatMap((what) =>
    pairs(before.get(what) ?? [], after.get(what) ?? []).flatMap((pair) =>
      lineChange(what, pair.was, pair.is),
    ),
  );
  return [...change('Pot', was.kit, is.kit), ...ingredients, ...textChanges(was.method, is.method)];
}

/** A printed number and its decimals; null for words. */
function printed(number: string): { readonly value: number; readonly decimals: number } | null {
  const value = number === '' ? Number.NaN : Number(number.replace('−', '-'));
  return Number.isNaN(value) ? null : { value, decimals: number.split('.')[1]?.length ?? 0 };
}

/** The difference of two printed numbers of one unit, to the finer of both, with its sign; empty where there is none. */
function difference(was: Parts, is: Parts): { readonly by: string; readonly size: number } {
  const [before, after] = [printed(was.number), printed(is.number)];
  if (before === null || after === null || was.unit !== is.unit) return { by: '', size: 0 };
  const by = fixed(Math.abs(after.value - before.value), Math.max(before.decimals, after.decimals));
  const size = Number(by);
  return { by: size === 0 ? '' : `${after.value < before.value ? '−' : '+'}${by}`, size };
}

const partsOf = ([, number, unit = '']: FigureRow): Parts => ({ number, unit });

const figureLine = ([, number, unit, text]: FigureRow): string =>
  text ?? (unit === undefined ? number : `${number} ${unit}`.replaceAll(' ', '\u00a0'));

/** Bands and differences go by two standard uncertainties everywhere. */
const COVERAGE = 2;

/** Both figures of a row as they print, and by how much they differ; null for one that a batch does not have. */
export function figureChange(was: FigureRow | null, is: FigureRow | null): FigureChange {
  const label = (is ?? was)?.[0] ?? '';
  const [before, after] = [was, is].map((row) => (row === null ? '' : figureLine(row))) as [string, string];
  const { by, size } =
    was === null || is === null ? { by: '', size: 0 } : difference(partsOf(was), partsOf(is));
  const u = Math.hypot(was?.[4] ?? 0, is?.[4] ?? 0);
  return { label, was: before, is: after, by, clear: by === '' ? before !== after : size > COVERAGE * u };
}

/** Figures of one group, side by side: in the order of the first batch, then what only the second has. */
export interface GroupChange {
  readonly title: string;
  readonly differ: readonly FigureChange[];
  /** Those that print the same in both. */
  readonly same: readonly FigureChange[];
}

function groupChange(title: string, was: readonly FigureRow[], is: readonly FigureRow[]): GroupChange {
  const after = new Map(is.map((row) => [row[0], row]));
  const before = new Map(was.map((row) => [row[0], row]));
  const rows = [...new Set([...before.keys(), ...after.keys()])].map((label) =>
    figureChange(before.get(label) ?? null, after.get(label) ?? null),
  );
  return {
    title,
    differ: rows.filter((row) => row.was !== row.is),
    same: rows.filter((row) => row.was === row.is),
  };
}

export interface Comparison {
  readonly names: readonly TextChange[];
  readonly recipe: readonly TextChange[];
  readonly figures: readonly GroupChange[];
}

/** Any two batches: names and recipe in words, figures side by side. */
export function compareBatches(was: Comparable, is: Comparable): Comparison {
  const rows = (of: Comparable, title: string): readonly FigureRow[] =>
    of.figures.find((group) => group.title === title)?.rows ?? [];
  const titles = [...new Set([...was.figures, ...is.figures].map(({ title }) => title))];
  return {
    names: textChanges(was.names, is.names),
    recipe: recipeChanges(was.recipe, is.recipe),
    figures: titles.map((title) => groupChange(title, rows(was, title), rows(is, title))),
  };
}
