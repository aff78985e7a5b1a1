import type { Blank } from '../../key-in/key-in.ts';

/** Inputs of one blank as they were left, and what the batch file said of the blank then. */
interface KeptBlank {
  readonly key: string;
  readonly was: string;
  /** Endings of the names of inputs, and what stood in them. */
  readonly inputs: readonly (readonly [ending: string, value: string | boolean])[];
}

interface KeptForm {
  readonly version: 1;
  /** Rows of the log that the file had. */
  readonly rows: number;
  readonly blanks: readonly KeptBlank[];
}

export interface KeepPlace {
  readonly form: HTMLFormElement;
  readonly slug: string;
  /** Rows of the log that the file has. */
  readonly rows: number;
  readonly blanks: readonly Blank[];
}

const placeOf = (slug: string): string => `kettleside key-in ${slug}`;

type Input = HTMLInputElement | HTMLSelectElement;

const isInput = (each: unknown): each is Input =>
  (each instanceof HTMLInputElement && each.type !== 'hidden') || each instanceof HTMLSelectElement;

const isTick = (input: Input): input is HTMLInputElement =>
  input instanceof HTMLInputElement && input.type === 'checkbox';

/** As the page brought it, before anybody typed. */
function isUntouched(input: Input): boolean {
  if (isTick(input)) return input.checked === input.defaultChecked;
  if (input instanceof HTMLInputElement) return input.value === input.defaultValue;
  const chosen = [...input.options].find(({ defaultSelected }) => defaultSelected) ?? input.options[0];
  return input.value === chosen?.value;
}

/** The inputs of a blank: `C4`, `C4-u`, `C4-s`. */
const inputsOf = (form: HTMLFormElement, { id }: Blank): readonly Input[] =>
  [...form.elements].filter(isInput).filter(({ name }) => name === id || name.startsWith(`${id}-`));

/**
 * What was typed outlives a page that is closed by mistake; it stays in this browser.
 *
 * @param sent the page already shows what was sent from it: of blanks that nobody has touched since, what was kept stays kept
 */
export function keep({ form, slug, rows, blanks }: KeepPlace, sent = false): void {
  const before = sent ? keptFor(slug) : null;
  const kept = blanks.flatMap((blank): readonly KeptBlank[] => {
    const inputs = inputsOf(form, blank);
    if (inputs.every(isUntouched)) return before?.blanks.filter(({ key }) => key === blank.key) ?? [];
    return [
      {
        key: blank.key,
        was: blank.now,
        inputs: inputs.map((input) => [
          input.name.slice(blank.id.length),
          isTick(input) ? input.checked : input.value,
        ]),
      },
    ];
  });
  write(slug, { version: 1, rows, blanks: kept });
}

/**
 * A page that shows what was sent keeps that, and not what was typed before it was sent: what was taken from an offer, say.
 * Blanks that came back as the file has them need no keeping.
 */
export function keepSent({ form, slug, rows, blanks }: KeepPlace, textOf: TextOf): void {
  const before = keptFor(slug);
  const kept = blanks.flatMap((blank): readonly KeptBlank[] => {
    const inputs = inputsOf(form, blank);
    const values = inputs.map((input): KeptBlank['inputs'][number] => [
      input.name.slice(blank.id.length),
      isTick(input) ? input.checked : input.value,
    ]);
    if (textOf(blank, typedBefore(form, blank, values)) === blank.now) return [];
    const was = before?.blanks.find(({ key }) => key === blank.key)?.was ?? blank.now;
    return [{ key: blank.key, was, inputs: values }];
  });
  write(slug, { version: 1, rows, blanks: kept });
}

function write(slug: string, all: KeptForm): void {
  try {
    localStorage.setItem(placeOf(slug), JSON.stringify(all));
  } catch {
    // Without a place to keep it the form works all the same.
  }
}

/** Forgets what was typed for a batch. */
export function forget(slug: string): void {
  try {
    localStorage.removeItem(placeOf(slug));
  } catch {
    // Then nothing was kept either.
  }
}

/** The text that a blank's inputs come to, as the file would have it. */
export type TextOf = (blank: Blank, input: (name: string) => string | undefined) => string;

export interface Restored {
  /** How many blanks have got back what was typed. */
  readonly count: number;
  /** Those of them of which the file has come to say something else meanwhile. */
  readonly changed: readonly Blank[];
}

const rowOf = (key: string): number => Number(/^fermentation\[(\d+)\]/.exec(key)?.[1] ?? -1);
const inRow = (key: string, row: number): string =>
  key.replace(/^fermentation\[\d+\]/, `fermentation[${row}]`);

/**
 * Puts back what was typed and has not come into the file since. Where the file has come to say something else meanwhile, what
 * was typed stands in the form all the same; rows that were new go below those that have come in.
 */
export function restore({ form, slug, rows, blanks }: KeepPlace, textOf: TextOf): Restored {
  const kept = keptFor(slug);
  if (kept === null) return { count: 0, changed: [] };
  const named = (key: string) => blanks.find((each) => each.key === key);
  /** Whether the file says by now what was typed, in this row of its log. */
  const isThere = ({ key, inputs }: KeptBlank, row: number): boolean => {
    const blank = named(inRow(key, row));
    return blank !== undefined && textOf(blank, typedBefore(form, blank, inputs)) === blank.now;
  };
  const come = new Set<number>();
  for (const row of new Set(kept.blanks.map(({ key }) => rowOf(key)))) {
    const parts = kept.blanks.filter(({ key }) => rowOf(key) === row);
    const later = Array.from({ length: Math.max(0, rows - kept.rows) }, (_, i) => kept.rows + i);
    if (row >= kept.rows && later.some((at) => parts.every((part) => isThere(part, at)))) come.add(row);
  }
  const back = kept.blanks.flatMap((one): readonly Blank[] => {
    const row = rowOf(one.key);
    if (come.has(row)) return [];
    const at = row < kept.rows ? row : row + rows - kept.rows;
    const blank = named(inRow(one.key, at));
    if (blank === undefined || (one.was !== blank.now && isThere(one, at))) return [];
    for (const [ending, value] of one.inputs) {
      const input = form.elements.namedItem(`${blank.id}${ending}`);
      if (!isInput(input)) continue;
      if (isTick(input)) input.checked = value === true;
      else if (typeof value === 'string') input.value = value;
    }
    return [blank];
  });
  const was = new Map(kept.blanks.map((one) => [one.key, one.was]));
  const changed = back.filter(({ key, now }) => now !== (was.get(key) ?? ''));
  return { count: back.length, changed };
}

/** What a blank's inputs held, by their names. */
function typedBefore(form: HTMLFormElement, { id }: Blank, inputs: KeptBlank['inputs']) {
  return (name: string): string | undefined => {
    const value = inputs.find(([ending]) => name === `${id}${ending}`)?.[1];
    if (typeof value !== 'boolean') return value;
    const input = form.elements.namedItem(name);
    return value && isInput(input) ? input.value : undefined;
  };
}

function keptFor(slug: string): KeptForm | null {
  try {
    const kept: unknown = JSON.parse(localStorage.getItem(placeOf(slug)) ?? 'null');
    if (typeof kept !== 'object' || kept === null || !('version' in kept)) return null;
    const { version, rows, blanks } = kept as Partial<KeptForm>;
    const sound =
      version === 1 &&
      typeof rows === 'number' &&
      Array.isArray(blanks) &&
      blanks.every((each) => typeof each?.key === 'string' && Array.isArray(each.inputs));
    return sound ? (kept as KeptForm) : null;
  } catch {
    // Nothing was kept, or nothing that can be read.
    return null;
  }
}
