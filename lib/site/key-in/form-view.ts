import type { BlankFault } from '../../key-in/check.ts';
import { correctedText } from '../../key-in/corrected.ts';
import type { Doubt } from '../../key-in/doubts.ts';
import { type Answers, type Blank, logOf, NOT_TAKEN, onPages, pageTitle } from '../../key-in/key-in.ts';
import { hasClock, PART_NAMES, type Parts, partsOf } from '../../key-in/parts.ts';
import { faultText, labelOf, shownText } from '../../key-in/words.ts';
import { fieldView } from '../../paper/field-view.ts';
import { doubtContext, type Opened } from './session.ts';

export interface Choice {
  readonly text: string;
  readonly chosen: boolean;
}

/** One blank as the form places it. */
export interface FormField {
  /** Name of its first input. */
  readonly id: string;
  /** As on paper, `C4`. */
  readonly number: string;
  /** The cursor stands in it as the page opens. */
  readonly first: boolean;
  /** The key for a new line sends the form. */
  readonly last: boolean;
  readonly key: string;
  readonly kind: Blank['kind'];
  readonly label: string;
  /** Where it takes more than one input. */
  readonly several: boolean;
  readonly hint: string;
  readonly inputmode: 'decimal' | 'numeric' | 'text';
  readonly size: 'short' | 'long';
  readonly parts: Parts;
  readonly unit: string;
  readonly units: readonly Choice[];
  readonly sampleUnits: readonly Choice[];
  readonly clock: boolean;
  readonly mayBeNotTaken: boolean;
  readonly again: string | null;
  readonly error: string | null;
  readonly offers: readonly { readonly text: string; readonly value: string }[];
  readonly doubt: { readonly message: string; readonly text: string; readonly sure: boolean } | null;
  readonly corrected: string;
}

export interface FormGroup {
  readonly letter: string;
  readonly title: string;
  readonly fields: readonly FormField[];
}

/** What has been typed so far, and what the check has found. */
export interface FormState {
  readonly get: (name: string) => string | undefined;
  /** Lines that were chosen from an offer, by key. */
  readonly chosen: ReadonlyMap<string, string>;
  readonly answers: Answers;
  readonly faults: readonly BlankFault[];
  readonly doubts: readonly Doubt[];
  /** Figures are keyed in twice. */
  readonly twice: boolean;
}

export const emptyState = (twice = false): FormState => ({
  get: () => undefined,
  chosen: new Map(),
  answers: new Map(),
  faults: [],
  doubts: [],
  twice,
});

/** Rows of the log above the last ones are on the batch's page, not in the form. */
const ROWS_IN_FORM = 12;

/** Blanks that the form has inputs for. */
export function formBlanks({ blanks, raw }: Opened): readonly Blank[] {
  const rows = logOf(raw).length;
  return blanks.filter(({ key }) => {
    const row = /^fermentation\[(\d+)\]/.exec(key)?.[1];
    return row === undefined || Number(row) >= rows - ROWS_IN_FORM;
  });
}

export interface FormPage {
  readonly title: string;
  readonly groups: readonly FormGroup[];
}

/** The form by the pages of the paper and the headings on them; by its sheets alone where the pages are not known. */
export function formPages(session: Opened, state: FormState): readonly FormPage[] {
  const { printed } = session;
  const pages = printed?.sameNumbers ? printed.pages : null;
  return onPages(formBlanks(session), pages).map(({ groups, ...where }) => ({
    title: pageTitle(where, printed?.counts[where.sheet] ?? 1),
    groups: groups.map(({ letter, title, blanks }) => ({
      letter,
      title,
      fields: blanks.map((blank) => formField(session, blank, state)),
    })),
  }));
}

/** What has to be known of the paper before its numbers are followed; empty where nothing has. */
export function paperNote({ printed, plan }: Opened): string {
  if (printed === null) return '';
  if (printed.sameNumbers)
    return `The pages are those of the sheets with “plan ${printed.revision}” at their head.`;
  return (
    `The sheets were last printed from plan ${printed.revision}, and the recipe has changed since: on that paper blanks ` +
    `have other numbers than here, in plan ${plan.revision}. Go by what stands beside them.`
  );
}

/** One blank with what was typed into it, else with what the file says. */
export function formField(session: Opened, blank: Blank, state: FormState, name = blank.id): FormField {
  const named = { ...blank, id: name };
  const { batch, plan, brewery } = session;
  const parts = partsIn(named, state, batch.brewed);
  const fault = state.faults.find(({ key }) => key === blank.key);
  const doubt = state.doubts.find(({ key }) => key === blank.key);
  const text = state.answers.get(blank.key) ?? blank.now;
  const choices = (all: readonly string[], chosen: string) =>
    all.map((each) => ({ text: each, chosen: each === chosen }));
  const figure = /gravity|volume/.test(blank.kind);
  return {
    id: name,
    number: blank.id,
    first: false,
    last: false,
    key: blank.key,
    kind: blank.kind,
    label: labelOf(blank),
    several: blank.kind === 'date' || blank.kind === 'gravity' || blank.choices.length > 0,
    hint: hintOf(blank, fieldView(blank, plan, brewery.units).range),
    inputmode: INPUT_MODE[blank.kind] ?? 'decimal',
    size: blank.kind === 'text' ? 'long' : 'short',
    parts,
    unit: blank.unit,
    units: choices(blank.choices, parts.unit),
    sampleUnits: blank.kind === 'gravity' ? choices(['°C', '°F'], parts.sampleUnit) : [],
    clock: hasClock(blank),
    mayBeNotTaken: blank.mayBeNotTaken,
    again: state.twice && figure ? (state.get(`${name}${PART_NAMES.again}`) ?? parts.value) : null,
    error: fault === undefined ? null : faultText(fault),
    offers: (fault?.offers ?? []).map((offer) => ({ text: offer, value: `${blank.key}=${offer}` })),
    doubt:
      doubt === undefined
        ? null
        : { message: doubt.message, text, sure: state.get(`${name}${PART_NAMES.sure}`) === text },
    corrected: correctedText(doubtContext(session, null), blank, text, state.answers),
  };
}

const INPUT_MODE: Partial<Record<Blank['kind'], FormField['inputmode']>> = {
  clock: 'numeric',
  count: 'numeric',
  date: 'numeric',
  text: 'text',
};

function hintOf({ kind, unit }: Blank, range: string | null): string {
  const words: Partial<Record<Blank['kind'], string>> = {
    clock: 'four digits, such as 1435',
    score: 'out of 5, halves allowed',
    count: unit === '' ? '' : unit,
  };
  return range ?? words[kind] ?? '';
}

/** What was typed comes back as it was typed, right or wrong. */
function partsIn(blank: Blank, state: FormState, brewed: string | null): Parts {
  const chosen = state.chosen.get(blank.key);
  const stored = partsOf(blank, chosen ?? state.answers.get(blank.key) ?? blank.now, brewed);
  const typed = state.get(blank.id) ?? state.get(`${blank.id}${PART_NAMES.day}`);
  if (chosen !== undefined || typed === undefined) return stored;
  const part = (name: keyof typeof PART_NAMES) => state.get(`${blank.id}${PART_NAMES[name]}`) ?? '';
  return {
    value: state.get(blank.id) ?? '',
    unit: part('unit') || blank.unit,
    sample: part('sample'),
    sampleUnit: part('sampleUnit') || blank.sampleUnit,
    day: part('day'),
    month: part('month'),
    year: part('year'),
    clock: part('clock'),
    notTaken: part('notTaken') !== '',
  };
}

/** Answers that the file would hold, for the pages after the form. */
export function answerRows(session: Opened, answers: Answers) {
  return session.blanks.flatMap((blank) => {
    const text = answers.get(blank.key) ?? blank.now;
    return text === blank.now ? [] : [{ key: blank.key, text }];
  });
}

/** One row of the log as it is shown above the inputs for the next. */
export interface LogRow {
  readonly day: string;
  readonly gravity: string;
  readonly corrected: string;
  readonly temperature: string;
  readonly note: string;
}

export function logRows(session: Opened): readonly LogRow[] {
  const cell = (row: number, part: string) =>
    session.blanks.find(({ key }) => key === `fermentation[${row}].${part}`);
  return logOf(session.raw).map((_, row) => {
    const text = (part: string) => {
      const blank = cell(row, part);
      return blank === undefined || blank.now === '' ? '–' : shownText(blank.now, blank.kind);
    };
    const gravity = cell(row, 'gravity');
    const corrected =
      gravity === undefined || gravity.now === NOT_TAKEN
        ? ''
        : correctedText(doubtContext(session, null), gravity, gravity.now, new Map());
    return {
      day: text('on'),
      gravity: text('gravity'),
      corrected,
      temperature: text('temperature'),
      note: text('note'),
    };
  });
}
