import type { Blank } from '../view/key-in.ts';

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

/** What was typed outlives a page that is closed by mistake; it stays in this browser. */
export function keep({ form, slug, rows, blanks }: KeepPlace): void {
  const kept = blanks.flatMap((blank): readonly KeptBlank[] => {
    const inputs = inputsOf(form, blank);
    if (inputs.every(isUntouched)) return [];
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
  try {
    const all: KeptForm = { version: 1, rows, blanks: kept };
    localStorage.setItem(placeOf(slug), JSON.stringify(all));
  } catch {
    // Without a place to keep it the form works all the same.
  }
}

/**
 * Puts back what was typed. Where the file has come to say something else meanwhile, what was typed stands in the form all
 * the same, and its blank is among those that come back; rows that were new go below those that have come in.
 */
export function restore({ form, slug, rows, blanks }: KeepPlace): readonly Blank[] {
  const kept = keptFor(slug);
  if (kept === null) return [];
  return kept.blanks.flatMap(({ key, was, inputs }): readonly Blank[] => {
    const moved = key.replace(/^fermentation\[(\d+)\]/, (_, row: string) =>
      Number(row) < kept.rows ? `fermentation[${row}]` : `fermentation[${Number(row) + rows - kept.rows}]`,
    );
    const blank = blanks.find((each) => each.key === moved);
    if (blank === undefined) return [];
    for (const [ending, value] of inputs) {
      const input = form.elements.namedItem(`${blank.id}${ending}`);
      if (!isInput(input)) continue;
      if (isTick(input)) input.checked = value === true;
      else if (typeof value === 'string') input.value = value;
    }
    return blank.now === was ? [] : [blank];
  });
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
