import type { Environment } from 'nunjucks';
import type { BlankFault } from '../../key-in/check.ts';
import type { Doubt } from '../../key-in/doubts.ts';
import { PART_NAMES } from '../../key-in/parts.ts';
import { faultText, labelOf, shownText } from '../../key-in/words.ts';
import { headView } from '../pages/head.ts';
import { pageData } from './data.ts';
import {
  answerRows,
  type FormField,
  type FormState,
  formBlanks,
  formField,
  formPages,
  logRows,
  paperNote,
} from './form-view.ts';
import { fermentationWords, type OutcomeLine, verdictOf } from './outcome.ts';
import type { Kit, Opened, Session } from './session.ts';

interface SummaryLine {
  readonly href: string;
  readonly text: string;
  /** What may have been meant, to be taken right here. */
  readonly offers?: readonly { readonly text: string; readonly value: string }[];
}

/** What every page of keying in has at its head. */
interface PageHead {
  readonly heading: string;
  readonly summary?: readonly SummaryLine[];
  readonly summaryTitle?: string;
}

function frame(kit: Pick<Kit, 'brewery'>, path: string, title: string, back: string, page: PageHead) {
  const summary = page.summary ?? [];
  const error = summary.length > 0 ? `${page.summaryTitle ?? 'There is a problem'}: ` : '';
  return {
    head: headView(
      kit.brewery,
      path,
      `${error}${page.heading} – ${title}`,
      'Keying in what was read.',
      false,
    ),
    title,
    back,
    heading: page.heading,
    summary,
    summaryTitle: page.summaryTitle ?? 'There is a problem',
    offline: false,
    /** What the key for a new line does in a form whose offers stand above it. */
    act: '',
    twice: false,
    data: '{}',
    preview: false,
  };
}

const pathOf = (session: Opened, more = ''): string => `batches/${session.slug}/key-in/${more}index.html`;

/** Where the summary leads: the first input of a blank. */
const anchor = (session: Opened, key: string, id?: string): string => {
  const blank = session.blanks.find((each) => each.key === key);
  return `#${id ?? blank?.id ?? ''}${blank?.kind === 'date' ? PART_NAMES.day : ''}`;
};

function summaryOf(
  session: Session,
  faults: readonly BlankFault[],
  doubts: readonly Doubt[],
  idOf: (key: string) => string | undefined = () => undefined,
): { readonly summary: readonly SummaryLine[]; readonly summaryTitle: string } {
  const name = (key: string) => {
    const blank = session.blanks.find((each) => each.key === key);
    return blank === undefined ? key : `${blank.id} ${labelOf(blank)}`;
  };
  const place = (key: string) => session.blanks.findIndex((each) => each.key === key);
  const line = (key: string, text: string, offers: readonly string[]) => ({
    href: anchor(session, key, idOf(key)),
    text: `${name(key)}: ${text}`,
    offers: offers.map((offer) => ({ text: offer, value: `${key}=${offer}` })),
  });
  return {
    // In the order of the form, so that they can be worked off from top to bottom.
    summary: [
      ...faults.map((fault) => ({ key: fault.key, text: faultText(fault), offers: fault.offers })),
      ...doubts.map(({ key, message }) => ({ key, text: message, offers: [] })),
    ]
      .sort((a, b) => place(a.key) - place(b.key))
      .map(({ key, text, offers }) => line(key, text, offers)),
    summaryTitle: faults.length > 0 ? 'There is a problem' : 'Is this what the paper says?',
  };
}

export interface Conflict {
  readonly label: string;
  readonly file: string;
  readonly keyed: string;
}

/** What the blanks say as the form is opened. */
const wasNow = (session: Opened): string =>
  JSON.stringify(
    Object.fromEntries(formBlanks(session).flatMap(({ key, now }) => (now === '' ? [] : [[key, now]]))),
  );

/** The form with all blanks. */
export function formPage(
  environment: Environment,
  session: Session,
  state: FormState,
  extra: {
    readonly conflict?: readonly Conflict[];
    readonly notes?: readonly string[];
    /** Nothing was sent yet. */
    readonly opened?: boolean;
  } = {},
): string {
  const found = summaryOf(session, state.faults, state.doubts);
  const notes = (extra.notes ?? []).map((text) => ({ href: '', text, offers: [] }));
  const summary = [...notes, ...found.summary];
  return environment.render('key-in/form.njk', {
    ...frame(session, pathOf(session), session.batch.title, '../index.html', {
      heading: 'Key in readings',
      summary,
      summaryTitle: notes.length > 0 ? 'There is a problem' : found.summaryTitle,
    }),
    action: './',
    act: 'check',
    slug: session.slug,
    hash: session.file.hash,
    was: wasNow(session),
    twice: state.twice,
    conflict: extra.conflict ?? [],
    paper: paperNote(session),
    pages: formPages(session, state),
    data: pageData(session, { mode: 'server', keeps: extra.opened ? 'typed' : 'sent' }),
  });
}

/** The same form for a page that no server stands behind. */
export function offlinePage(environment: Environment, session: Opened, state: FormState): string {
  return environment.render('key-in/form.njk', {
    ...frame(session, pathOf(session), session.batch.title, '../index.html', { heading: 'Key in readings' }),
    offline: true,
    action: '#made',
    slug: session.slug,
    hash: '',
    was: '',
    conflict: [],
    paper: paperNote(session),
    pages: formPages(session, state),
    data: pageData(session, { mode: 'offline', keeps: 'typed' }),
  });
}

/** All answers once more, with what they mean, before they are saved. */
export function checkPage(
  environment: Environment,
  session: Session,
  state: FormState,
  lines: readonly OutcomeLine[],
): string {
  return environment.render('key-in/check.njk', {
    was: wasNow(session),
    ...frame(session, pathOf(session), session.batch.title, '../index.html', {
      heading: 'Check the answers',
    }),
    action: './',
    hash: session.file.hash,
    twice: state.twice,
    rows: answerRows(session, state.answers),
    lines,
  });
}

/** What the readings of the file mean. */
export function savedPage(environment: Environment, session: Session): string {
  const lines = session.blanks.flatMap((blank) => {
    const verdict = verdictOf(session, blank.key);
    if (verdict === '') return [];
    return [
      { id: blank.id, label: labelOf(blank), text: shownText(blank.now, blank.kind), corrected: '', verdict },
    ];
  });
  return environment.render('key-in/saved.njk', {
    ...frame(session, pathOf(session, 'saved/'), session.batch.title, '../../index.html', {
      heading: 'Saved',
    }),
    fermentation: fermentationWords(session),
    lines,
  });
}

/** The fermentation log with inputs for its next row; `names` are those of the inputs, by key. A row was `saved` just now. */
export function logPage(
  environment: Environment,
  session: Session,
  state: FormState,
  names: ReadonlyMap<string, string>,
  { notes = [], saved = false }: { readonly notes?: readonly string[]; readonly saved?: boolean } = {},
): string {
  const fields: FormField[] = session.blanks.flatMap((blank) => {
    const name = names.get(blank.key);
    if (name === undefined) return [];
    const field = formField(session, blank, state, name);
    // The day and hour stand there already: the figure is what comes next. Of a row that is only begun, nothing is left out for good.
    const quiet = !saved && state.faults.length + state.doubts.length === 0;
    const first = blank.kind === 'gravity' && quiet;
    return [{ ...field, label: blank.label, first, last: blank.kind === 'text', mayBeNotTaken: false }];
  });
  const found = summaryOf(session, state.faults, state.doubts, (key) => names.get(key));
  return environment.render('key-in/log.njk', {
    ...frame(session, pathOf(session, 'log/'), session.batch.title, '../../index.html', {
      heading: 'Fermentation log',
      ...found,
      summary: [...notes.map((text) => ({ href: '', text, offers: [] })), ...found.summary],
    }),
    action: './',
    act: 'row',
    saved,
    rows: logRows(session),
    fermentation: fermentationWords(session),
    fields,
    data: pageData(session, { mode: 'server', keeps: 'nothing' }, names),
  });
}

/** Asks for the code that the terminal shows; what was posted meanwhile is carried on. */
export function gatePage(
  environment: Environment,
  kit: Pick<Kit, 'brewery'>,
  path: string,
  carried: ReadonlyMap<string, string>,
  wrong: boolean,
): string {
  const summary = wrong
    ? [{ href: '#token', text: 'That is not the code which the terminal shows.', offers: [] }]
    : [];
  return environment.render('key-in/gate.njk', {
    ...frame(kit, path, 'Key in', './', { heading: 'One code first', summary }),
    action: '',
    carried: [...carried].filter(([name]) => name !== 'token').map(([name, value]) => ({ name, value })),
  });
}

/** One plain sentence where there is nothing to key in. */
export function messagePage(
  environment: Environment,
  kit: Pick<Kit, 'brewery'>,
  path: string,
  message: string,
): string {
  return environment.render('key-in/message.njk', {
    ...frame(kit, path, 'Archive', '/', { heading: 'Nothing to key in' }),
    message,
  });
}
