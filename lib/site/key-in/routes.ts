import type { Environment } from 'nunjucks';
import type { Written } from '../../archive/write/write-readings.ts';
import { writeReadings } from '../../archive/write/write-readings.ts';
import { changesOf } from '../../key-in/changes.ts';
import { type Checked, checkTyped } from '../../key-in/check.ts';
import { type Doubt, doubtsOf } from '../../key-in/doubts.ts';
import { keyedSince, mergeKeyed, rowsNeeded } from '../../key-in/file.ts';
import { type Blank, blanksOf, logOf } from '../../key-in/key-in.ts';
import { againOf, lineOf, PART_NAMES } from '../../key-in/parts.ts';
import { labelOf, shownText } from '../../key-in/words.ts';
import { FERMENTATION_ROWS, LOG_COLUMNS } from '../../paper/blanks.ts';
import { pathText } from '../../units/problem.ts';
import { emptyState, type FormState, formBlanks } from './form-view.ts';
import { outcomeLines } from './outcome.ts';
import { type Conflict, checkPage, formPage, logPage, savedPage } from './pages.ts';
import {
  beginSession,
  doubtContext,
  kitchenClock,
  kitchenDay,
  preview,
  type Session,
  saveAnswers,
} from './session.ts';

/** What is sent back. */
export interface Answered {
  readonly status: number;
  readonly html?: string;
  readonly text?: string;
  readonly to?: string;
  readonly cookie?: string;
  readonly close?: boolean;
}

export interface RouteContext {
  readonly environment: Environment;
  readonly session: Session;
  readonly fields: ReadonlyMap<string, string>;
  readonly twice: boolean;
  readonly url: URL;
}

export const showForm = ({ environment, session, twice }: RouteContext): Answered => ({
  status: 200,
  html: formPage(environment, session, emptyState(twice), { opened: true }),
});

export const showSaved = ({ environment, session }: RouteContext): Answered => ({
  status: 200,
  html: savedPage(environment, session),
});

/** The form was sent: to be checked, with a reading that was offered, to be changed again, or to be saved. */
export async function answerForm(asked: RouteContext): Promise<Answered> {
  const context = { ...asked, session: withRows(asked.session, rowsSent(asked)) };
  const { environment, session, fields } = context;
  const confirmed = fields.get('do') === 'save' || fields.has('edit');
  const state = confirmed ? stateOfAnswers(context) : stateOfForm(context);
  const edit = fields.get('edit');
  if (edit !== undefined) {
    const blank = session.blanks.find(({ id }) => id === edit);
    const first = `${blank?.id}${blank?.kind === 'date' ? PART_NAMES.day : ''}`;
    const html = formPage(environment, session, { ...state, faults: [], doubts: [] });
    // The page opens at the blank that is to be changed.
    return { status: 200, html: html.replace(` id="${first}"`, ` id="${first}" autofocus`) };
  }
  if (state.faults.length > 0 || (!confirmed && state.doubts.length > 0) || fields.has('use')) {
    return { status: state.faults.length > 0 ? 422 : 200, html: formPage(environment, session, state) };
  }
  const hash = fields.get('hash') ?? '';
  if (hash !== session.file.hash) return conflicting(context, state);
  const lines = outcomeLines(session, preview(session, state.answers), state.answers);
  if (lines.length === 0) {
    const notes = ['Nothing was keyed in that the file does not say already.'];
    return { status: 200, html: formPage(environment, session, state, { notes }) };
  }
  if (!confirmed) return { status: 200, html: checkPage(environment, session, state, lines) };
  return saved(context, state, await saveAnswers(session, state.answers, hash));
}

function saved(context: RouteContext, state: FormState, written: Written): Answered {
  const { environment, session } = context;
  switch (written.kind) {
    case 'written':
    case 'unchanged':
      return { status: 303, to: 'saved/' };
    case 'changed since':
      return conflicting(context, state);
    case 'problems': {
      const notes = written.problems.map(
        ({ path, found, expected, mend }) => `${pathText(path)}: ${found}; expected ${expected}; ${mend}.`,
      );
      return { status: 422, html: formPage(environment, session, state, { notes }) };
    }
    case 'refused':
      return { status: 409, html: formPage(environment, session, state, { notes: [written.why] }) };
  }
}

/**
 * Somebody has written to the file since the form was opened: what it says and what was keyed in, side by side. Rows that
 * were new when they were keyed in stay new, below those that have come in.
 */
function conflicting(context: RouteContext, state: FormState): Answered {
  const { environment, session, fields } = context;
  const again = beginSession(session, session.file.slug);
  if (!again.ok) return { status: 409, text: `${again.why}\n` };
  const keyed = new Map([...state.answers].filter(([key]) => isKeyed(context, key)));
  const file = keyedSince(session.blanks, wasWhenOpened(fields.get('was')), keyed);
  const now = withRows(again.session, rowsNeeded(file, again.session.raw));
  const { given, collisions, unknown } = mergeKeyed(file, now.blanks, now.raw);
  const answers = new Map([...given, ...collisions.map((each) => [each.blank.key, each.keyed] as const)]);
  const words = (text: string, blank: Blank) => (text === '' ? 'nothing' : shownText(text, blank.kind));
  const conflict: Conflict[] = now.blanks.flatMap((blank) => {
    const text = answers.get(blank.key);
    if (text === undefined) return [];
    const label = `${blank.id} ${labelOf(blank)}`;
    return [{ label, file: words(blank.now, blank), keyed: words(text, blank) }];
  });
  const notes = [
    ...unknown.map((name) => `${name}: the row that you changed is no longer in the file.`),
    ...(answers.size === 0 && unknown.length === 0 ? ['The file says all of it by now.'] : []),
  ];
  const shown = { ...emptyState(state.twice), answers };
  return { status: 409, html: formPage(environment, now, shown, { conflict, notes }) };
}

/** Whether a blank is one of those that were keyed in: what only stands there from before is none. */
function isKeyed({ session, fields }: RouteContext, key: string): boolean {
  const carried = fields.get('do') === 'save' || fields.has('edit');
  if (carried) return fields.has(`a.${key}`);
  const blank = session.blanks.find((each) => each.key === key);
  const line = blank === undefined ? undefined : lineOf(blank, (name) => fields.get(name));
  return line !== undefined && line !== (wasWhenOpened(fields.get('was')).get(key) ?? '');
}

/** Nobody keys in more rows at a time; a name with a high number must not cost more than it is worth. */
const MOST_NEW_ROWS = 60;

/** The highest row of the log that a form has sent something for, and one more. */
function rowsSent({ session, fields }: RouteContext): number {
  const rows = [...fields.keys()].map((name) => {
    const row = /^a\.fermentation\[(\d{1,4})\]/.exec(name)?.[1];
    const number = /^F(\d{1,4})(?:-|$)/.exec(name)?.[1];
    if (row !== undefined) return Number(row) + 1;
    return number === undefined ? 0 : Math.ceil(Number(number) / LOG_COLUMNS);
  });
  const most = logOf(session.raw).length + MOST_NEW_ROWS;
  return Math.min(most, Math.max(FERMENTATION_ROWS, ...rows));
}

/** A session whose log has at least so many rows. */
function withRows(session: Session, least: number): Session {
  const { batch, raw, brewery } = session;
  return { ...session, blanks: blanksOf(batch, raw, brewery.units, least) };
}

function stateOf(context: RouteContext, checked: Checked, chosen: FormState['chosen']): FormState {
  const { session, fields, twice } = context;
  const doubts = doubtsOf(session.blanks, checked.answers, doubtContext(session, kitchenDay()));
  return { get: (name) => fields.get(name), chosen, ...checked, doubts, twice };
}

const unconfirmed = (
  blanks: readonly Blank[],
  state: FormState,
  idOf: (blank: Blank) => string = ({ id }) => id,
): readonly Doubt[] =>
  state.doubts.filter(({ key }) => {
    const blank = blanks.find((each) => each.key === key);
    const sure = blank === undefined ? undefined : state.get(`${idOf(blank)}${PART_NAMES.sure}`);
    return sure === undefined || sure !== state.answers.get(key);
  });

/** What was typed into the inputs of the form, with one offer taken where its button was pressed. */
function stateOfForm(context: RouteContext): FormState {
  const { session, fields } = context;
  const get = (name: string) => fields.get(name);
  const chosen = new Map<string, string>();
  const use = fields.get('use') ?? '';
  const cut = use.indexOf('=');
  if (cut > 0) chosen.set(use.slice(0, cut), use.slice(cut + 1));
  const was = wasWhenOpened(fields.get('was'));
  const untouched = new Set<string>();
  const lines = new Map<string, string>();
  const twice = new Map<string, string>();
  for (const blank of formBlanks(session)) {
    const line = chosen.get(blank.key) ?? lineOf(blank, get);
    if (line === undefined) continue;
    if (line === (was.get(blank.key) ?? '')) {
      untouched.add(blank.id);
      continue;
    }
    lines.set(blank.key, line);
    const again = chosen.has(blank.key) ? undefined : againOf(blank, get);
    if (again !== undefined) twice.set(blank.key, again);
  }
  const state = stateOf(context, check(session, lines, twice), chosen);
  const shown = (name: string) => (untouched.has(name.split('-')[0] ?? '') ? undefined : get(name));
  return { ...state, get: shown, doubts: unconfirmed(session.blanks, state) };
}

/** What the blanks said when the form was opened: only what differs from it was keyed in. */
function wasWhenOpened(text: string | undefined): ReadonlyMap<string, string> {
  try {
    const was: unknown = JSON.parse(text ?? '{}');
    if (typeof was !== 'object' || was === null) return new Map();
    return new Map(Object.entries(was).map(([key, value]) => [key, String(value)]));
  } catch {
    return new Map();
  }
}

/** Answers that the page before saving has carried along. */
function stateOfAnswers(context: RouteContext): FormState {
  const { session, fields } = context;
  const lines = new Map(
    session.blanks.flatMap(({ key }) => {
      const text = fields.get(`a.${key}`);
      return text === undefined ? [] : [[key, text] as const];
    }),
  );
  const state = stateOf(context, check(session, lines), lines);
  return { ...state, get: () => undefined };
}

function check(
  session: Session,
  lines: ReadonlyMap<string, string>,
  twice?: ReadonlyMap<string, string>,
): Checked {
  const ctx = { units: session.brewery.units, brewed: session.batch.brewed };
  return checkTyped(session.blanks, twice === undefined ? { lines } : { lines, twice }, ctx);
}

/** Names of the inputs of the next row, whichever number it will have. */
const ROW_NAMES: Readonly<Record<string, string>> = {
  on: 'log-on',
  gravity: 'log-gravity',
  temperature: 'log-beer',
  note: 'log-remark',
};

function nextRow(blanks: readonly Blank[], raw: Session['raw']): ReadonlyMap<string, string> {
  const row = logOf(raw).length;
  return new Map(
    Object.entries(ROW_NAMES)
      .map(([part, name]) => [`fermentation[${row}].${part}`, name] as const)
      .filter(([key]) => blanks.some((blank) => blank.key === key)),
  );
}

export function showLog({ environment, session, url }: RouteContext): Answered {
  const names = nextRow(session.blanks, session.raw);
  const [on = ''] = [...names.keys()];
  // Today and now: only the figures are left to be typed.
  const chosen = new Map([[on, `${kitchenDay()} ${kitchenClock()}`]]);
  const saved = url.searchParams.has('saved');
  return { status: 200, html: logPage(environment, session, { ...emptyState(), chosen }, names, { saved }) };
}

/** One more row: it goes below whatever is in the file by then, since a row takes nothing away. */
export async function answerLog(context: RouteContext): Promise<Answered> {
  const { environment, session, fields } = context;
  const names = nextRow(session.blanks, session.raw);
  const idOf = ({ key, id }: Blank) => names.get(key) ?? id;
  const use = fields.get('use') ?? '';
  const cut = use.indexOf('=');
  const chosen = new Map(cut > 0 ? [[use.slice(0, cut), use.slice(cut + 1)] as const] : []);
  const lines = new Map<string, string>();
  for (const blank of session.blanks) {
    const name = names.get(blank.key);
    if (name === undefined) continue;
    const line = chosen.get(blank.key) ?? lineOf({ ...blank, id: name }, (part) => fields.get(part));
    if (line !== undefined) lines.set(blank.key, line);
  }
  const found = stateOf(context, check(session, lines), chosen);
  const state = { ...found, doubts: unconfirmed(session.blanks, found, idOf) };
  const page = (status: number, notes: readonly string[] = []): Answered => ({
    status,
    html: logPage(environment, session, state, names, { notes }),
  });
  if (state.faults.length > 0) return page(422);
  if (state.doubts.length > 0 || fields.has('use')) return page(200);
  const parts = [...names.keys()].map((key) => state.answers.get(key) ?? '');
  if (parts.slice(1).every((text) => text === ''))
    return page(422, ['The row is empty: key in a gravity, a temperature or a remark.']);
  const written = await addRow(session, parts);
  if (written.kind === 'written' || written.kind === 'unchanged') return { status: 303, to: './?saved' };
  const why = written.kind === 'refused' ? written.why : 'The row could not be saved; nothing was changed.';
  return page(409, [why]);
}

/** Adds a row to the file as it is at that moment; the very same row twice is one that was sent twice. */
function addRow(session: Session, parts: readonly string[]): Promise<Written> {
  const { contentDir, around, file, brewery } = session;
  return writeReadings({
    contentDir,
    slug: file.slug,
    around,
    hash: null,
    changes: (now) => {
      if (now.batch === null) return [];
      const blanks = blanksOf(now.batch, now.raw, brewery.units);
      const rows = logOf(now.raw);
      const own = Object.keys(ROW_NAMES)
        .map((part, i) => [part, parts[i] ?? ''] as const)
        .filter(([, text]) => text !== '');
      const same = rows.some((row) => sameRow(row, own));
      if (same) return [];
      const answers = new Map(
        [...nextRow(blanks, now.raw).keys()].map((key, i) => [key, parts[i] ?? ''] as const),
      );
      return changesOf(now.raw, blanks, answers);
    },
  });
}

function sameRow(row: unknown, own: readonly (readonly [string, string])[]): boolean {
  if (typeof row !== 'object' || row === null) return false;
  const texts = Object.entries(row).filter(([, text]) => text !== null && text !== '');
  return (
    texts.length === own.length &&
    own.every(([part, text]) => texts.some(([name, value]) => name === part && value === text))
  );
}
