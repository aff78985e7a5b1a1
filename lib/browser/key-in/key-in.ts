import { localClock, localDay } from '../../batch/types/time.ts';
import { changesOf } from '../../key-in/changes.ts';
import { checkTyped } from '../../key-in/check.ts';
import type { DoubtContext } from '../../key-in/corrected.ts';
import { dateContextOf } from '../../key-in/dates.ts';
import { doubtsOf } from '../../key-in/doubts.ts';
import { byWords, keyedFile, lostFrom, mergeKeyed, readKeyedFile, saidBefore } from '../../key-in/file.ts';
import { type Answers, type Blank, blanksOf, rowsOf, siblingKey } from '../../key-in/key-in.ts';
import { readingsLines } from '../../key-in/lines.ts';
import { type ChangeWords, changesInWords, faultText, labelOf, shownText } from '../../key-in/words.ts';
import { type KeyInData, READINGS_TYPE, type SaveReply } from './data.ts';
import { type Entry, element, type Form, makeForm } from './form.ts';
import { photoSection } from './photo.ts';
import { type Problem, type Problems, problemList } from './problems.ts';

const root = document.querySelector<HTMLFormElement>('form.key-in')!;

/** Rows of the log above the last ones are on the batch's page, not in the form. */
const ROWS_IN_FORM = 12;
/** Nobody keys in more rows at a time. */
const NEW_ROWS = 24;
/** An editor that saves on its own has done so by then. */
const LOOK_AGAIN_MS = 5000;

interface Page {
  readonly data: KeyInData;
  readonly blanks: readonly Blank[];
  readonly form: Form;
  readonly ctx: DoubtContext;
  /** Day and hour that are in a new row before anything is typed: alone they do not make a row. */
  readonly offered: { readonly entry: Entry; readonly line: string } | null;
  readonly problems: Problems;
  readonly button: HTMLButtonElement;
  readonly count: HTMLElement;
  readonly review: HTMLElement;
  seen: boolean;
}

const blanksIn = ({ batch, raw, units, targets }: KeyInData): readonly Blank[] =>
  blanksOf(batch, raw, units, rowsOf(raw, 'fermentation').length + NEW_ROWS, targets);

/** Makes the form of the page from what its file says. */
function open(data: KeyInData): Page {
  const rows = rowsOf(data.raw, 'fermentation').length;
  const all = blanksIn(data);
  const inForm = all.filter(
    ({ place }) => place.of !== 'fermentation' || (place.row ?? 0) >= rows - ROWS_IN_FORM,
  );
  const twice = new URLSearchParams(window.location.search).get('twice') === '1';
  const form = makeForm(inForm, data, twice);
  const part = <E extends HTMLElement = HTMLElement>(selector: string): E => root.querySelector<E>(selector)!;
  root.replaceChildren(madeOf('parts'));
  const link = part<HTMLAnchorElement>('#twice');
  link.href = window.location.pathname + (twice ? '' : '?twice=1');
  if (!twice) link.textContent = 'Key gravities and volumes in twice';
  const [review, count, button] = [part('#review'), part('.count'), part<HTMLButtonElement>('.bar button')];
  review.before(...form.sections);
  photoSection(part('#from-photographs'), {
    form,
    pages: data.photo,
    seen: data.seen,
    dates: dateContextOf(data.batch, data),
    keep: data.mode === 'server' ? keepPage : null,
  });
  const ctx = { ...data, today: localDay() };
  const offered = window.location.hash === '#log' ? offerNow(form) : null;
  const problems = problemList(root, form, () => {
    keep(page);
    refresh(page);
    check(page);
  });
  const parts = { form, problems, review, count, button };
  const page: Page = { ...parts, data, blanks: all, ctx, offered, seen: false };
  return page;
}

/** A copy of a template of the page. */
const madeOf = (id: string): DocumentFragment =>
  document.importNode((document.getElementById(id) as HTMLTemplateElement).content, true);

/** Sends a straightened page to be kept in the folder of the batch. */
async function keepPage(name: string, jpeg: Blob): Promise<string> {
  try {
    const headers = { 'content-type': 'image/jpeg' };
    const reply = await fetch(`./?sheet=${name}`, { method: 'POST', headers, body: jpeg });
    return await reply.text();
  } catch {
    return 'The server does not answer: the page was not kept.';
  }
}

/** Whoever comes to add a row finds its day and hour there, and begins with the figure. */
function offerNow({ entries, entryOf }: Form): Page['offered'] {
  const entry = entries.find(({ blank }) => blank.place.of === 'fermentation' && blank.now === '');
  if (entry === undefined) return null;
  entry.put(`${localDay()} ${localClock()}`, true);
  requestAnimationFrame(() => entryOf(siblingKey(entry.blank, 'gravity'))?.first.focus());
  return { entry, line: entry.line() ?? '' };
}

/** The page as it is now; another takes its place when something was saved, or has changed the file. */
let current: Page | null = null;

function begin(data: KeyInData, before = kept(data.slug)): Page {
  const page = open(data);
  current = page;
  const collisions = restore(page, before);
  refresh(page);
  if (collisions.length > 0) page.problems.show(collisions, 'The file has changed since you typed');
  root.oninput = () => {
    page.seen = false;
    page.review.hidden = true;
    keep(page);
    refresh(page);
  };
  root.onsubmit = (event) => {
    event.preventDefault();
    if (page.seen) void send(page);
    else check(page);
  };
  return page;
}

/** What was typed into a blank; null where nothing was. */
function lineIn({ form, offered }: Page, entry: Entry): string | null {
  const line = entry.line();
  if (offered?.entry !== entry || line !== offered.line) return line;
  const { place } = entry.blank;
  const row = form.entries.filter(
    ({ blank }) => blank.place.of === place.of && blank.place.row === place.row,
  );
  return row.some((each) => each !== entry && each.line() !== null) ? line : null;
}

const linesOf = (page: Page, of: (entry: Entry) => string | null): ReadonlyMap<string, string> =>
  new Map(
    page.form.entries.flatMap((entry) => {
      const line = lineIn(page, entry) === null ? null : of(entry);
      return line === null ? [] : [[entry.blank.key, line] as const];
    }),
  );
const typed = (page: Page): ReadonlyMap<string, string> => linesOf(page, (entry) => entry.line());

const dateContext = ({ data }: Page) => dateContextOf(data.batch, data);

/** What was typed as the file would hold it, and as it was typed where it cannot: those lines are open. */
function asKeyed(page: Page): { readonly keyed: Answers; readonly open: readonly string[] } {
  const lines = typed(page);
  const { answers } = checkTyped(page.blanks, { lines }, dateContext(page));
  return {
    keyed: new Map([...lines].map(([key, line]) => [key, answers.get(key) ?? line])),
    open: [...lines].flatMap(([key, line]) => (answers.has(key) ? [] : [line])),
  };
}

/** Everything that follows from what is typed, as it is typed. */
function refresh(page: Page): void {
  const { keyed } = asKeyed(page);
  const answers = new Map(page.blanks.map(({ key, now }) => [key, keyed.get(key) ?? now]));
  for (const entry of page.form.entries)
    entry.showCorrected(page.ctx, answers.get(entry.blank.key) ?? '', answers);
  page.form.showRows((entry) => lineIn(page, entry) !== null);
  const { size } = keyed;
  page.count.textContent = size === 0 ? 'Nothing new yet' : `${size} new`;
  page.button.textContent = page.seen ? `Save ${size === 1 ? 'it' : `all ${size}`}` : 'Save';
}

/** Shows what is wrong or unlikely, or else everything that is new once more. */
function check(page: Page): void {
  const { problems, blanks, form, ctx, review } = page;
  const twice = linesOf(page, (entry) => entry.again());
  const { answers, faults } = checkTyped(blanks, { lines: typed(page), twice }, dateContext(page));
  const doubts = doubtsOf(blanks, answers, ctx).filter(
    ({ key }) => problems.sure.get(key) !== answers.get(key),
  );
  const found = [
    ...faults.map((fault) => ({ ...fault, text: faultText(fault) })),
    ...doubts.map(({ key, message }) => ({ key, text: message, confirm: answers.get(key) })),
  ].flatMap(({ key, ...problem }) => {
    const entry = form.entryOf(key);
    return entry === undefined ? [] : [{ ...problem, entry }];
  });
  problems.clear();
  review.hidden = true;
  if (found.length > 0)
    problems.show(found, faults.length > 0 ? 'There is a problem' : 'Is this what the paper says?');
  else look(page, answers);
}

function answerList(lines: readonly Omit<ChangeWords, 'blank'>[], more: readonly string[] = []) {
  return element(
    'dl',
    { class: 'log wide answers' },
    ...lines.map(({ id, label, text, before }, i) => {
      const small = [before === '' ? '' : `in place of ${before}`, more[i] ?? ''].filter(
        (part) => part !== '',
      );
      return element(
        'div',
        {},
        element('dt', {}, element('span', { class: 'blank-no' }, id), ` ${label}`),
        element(
          'dd',
          {},
          element('strong', {}, text),
          ...small.map((part) => element('span', { class: 'small' }, ` ${part}`)),
        ),
      );
    }),
  );
}

/** All that is new once more, before it is saved; without a server, how it comes into the file. */
function look(page: Page, answers: Answers): void {
  const { data, review, blanks } = page;
  const changes = changesInWords(blanks, answers, data.language);
  if (changes.length === 0) {
    say(review, element('p', {}, 'Nothing new was keyed in.'));
    return;
  }
  page.seen = data.mode === 'server';
  refresh(page);
  say(
    review,
    element('h2', {}, 'Look once more'),
    answerList(changes),
    page.seen ? '' : madeOf('into-the-file'),
  );
  if (!page.seen) intoTheFile(page, answers);
}

function say(review: HTMLElement, ...words: readonly (Node | string)[]): void {
  review.replaceChildren(...words);
  review.hidden = false;
  review.focus();
}

let address = '';

function intoTheFile({ data: { slug, raw }, blanks, review }: Page, answers: Answers): void {
  if (address !== '') URL.revokeObjectURL(address);
  address = URL.createObjectURL(new Blob([keyedFile(slug, blanks, answers)], { type: 'text/plain' }));
  const file = review.querySelector<HTMLAnchorElement>('#made-file')!;
  Object.assign(file, { href: address, download: `${slug}-readings.txt` });
  const left = readingsLines(raw, blanks, changesOf(raw, blanks, answers));
  const lines = left === '' ? '# No reading is left: take readings: out of the file.\n' : left;
  review.querySelector<HTMLTextAreaElement>('#made-lines')!.value = lines;
}

/** Sends what was keyed in; whatever comes back, what was typed is still in the form until the file has it. */
async function send(page: Page): Promise<void> {
  const { button, data } = page;
  const { keyed } = asKeyed(page);
  const body = keyedFile(data.slug, page.blanks, keyed);
  button.disabled = true;
  try {
    const reply = await fetch('./', { method: 'POST', headers: { 'content-type': READINGS_TYPE }, body });
    answered(page, keyed, (await reply.json()) as SaveReply);
  } catch {
    refuse(page, [
      'The server does not answer, and nothing was saved. What you typed stays in this browser.',
    ]);
  } finally {
    button.disabled = false;
  }
}

function answered(page: Page, keyed: Answers, reply: SaveReply): void {
  switch (reply.kind) {
    case 'saved': {
      forget(page.data.slug);
      history.replaceState(null, '', window.location.pathname + window.location.search);
      saved = saidBefore(page.blanks, keyed, saved);
      const { review } = begin(reply.data);
      setTimeout(lookAgain, LOOK_AGAIN_MS);
      const meaning = reply.lines.map(({ corrected, verdict }) =>
        [corrected === '' ? '' : `= ${corrected}`, verdict].filter((part) => part !== '').join('; '),
      );
      say(
        review,
        element('h2', {}, 'Saved'),
        ...(reply.fermentation === null ? [] : [element('p', {}, element('strong', {}, reply.fermentation))]),
        answerList(reply.lines, meaning),
        element('p', {}, element('a', { href: '../index.html' }, 'The batch')),
      );
      return;
    }
    case 'changed':
      refuse(begin(reply.data, keep(page)), [
        'Something else has changed the file. What you typed is in the form: look at it, and save once more.',
      ]);
      document.querySelector<HTMLElement>('[data-summary]')?.focus();
      return;
    case 'refused':
      refuse(page, reply.why);
  }
}

/** What the file said before it was changed from this page. */
let saved: ReturnType<typeof saidBefore> = new Map();
let looking = false;

/**
 * Reads the file once more: an editor that was open with an older text takes out what was saved here when it saves. Then it can be
 * put into the form again, with what has been typed since.
 */
async function lookAgain(): Promise<void> {
  const looked = saved;
  if (looked.size === 0 || looking || document.hidden) return;
  looking = true;
  const text = await fetch('./')
    .then((reply) => reply.text())
    .catch(() => '');
  looking = false;
  const data = dataIn(new DOMParser().parseFromString(text, 'text/html'));
  if (data === null || current === null || saved !== looked || current.button.disabled) return;
  tellLost(data, new Set(lostFrom(blanksIn(data), looked)));
}

function tellLost(data: KeyInData, lost: ReadonlySet<string>): void {
  document.querySelector('[data-lost]')?.remove();
  const own = [...byWords(current!.blanks)].flatMap(([words, blank]) => (lost.has(words) ? [blank] : []));
  if (own.length === 0) return;
  root.before(madeOf('lost'));
  const notice = document.querySelector('[data-lost]')!;
  const names = own.map((blank) => `${blank.id} ${labelOf(blank)}`);
  notice.querySelector('span')!.textContent = names.join(', ');
  notice.querySelector('button')!.addEventListener('click', () => {
    notice.remove();
    begin(data, keep(current!, new Set(own.map(({ key }) => key))));
  });
}

function refuse({ review }: Page, why: readonly string[]): void {
  const lines = why.map((text) => element('p', { class: 'error' }, text));
  say(review, element('h2', {}, 'Not saved'), ...lines);
}

/** What is kept in this browser; without a place to keep it the form works all the same. */
function inBrowser(slug: string, work: (at: Storage, place: string) => unknown): string {
  try {
    return String(work(localStorage, `kettleside key-in ${slug}`) ?? '');
  } catch {
    return '';
  }
}

/** Before a line that is still open: a time in it is asked about again. */
const OPEN = '# open: ';

/** What was typed outlives a page that is closed by mistake. */
function keep(page: Page, lost?: ReadonlySet<string>): string {
  const { slug } = page.data;
  const { keyed, open } = asKeyed(page);
  const text = keyedFile(slug, page.blanks, keyed, lost) + open.map((line) => `${OPEN}${line}\n`).join('');
  inBrowser(slug, (at, place) => at.setItem(place, text));
  return text;
}

const kept = (slug: string): string => inBrowser(slug, (at, place) => at.getItem(place));
const forget = (slug: string): string => inBrowser(slug, (at, place) => at.removeItem(place));

/**
 * Puts back what was typed and has not come into the file since, new rows below those that have come in. Returns where the
 * file has come to say something else meanwhile: what was typed is in the form all the same.
 */
function restore(page: Page, before: string): readonly Problem[] {
  const { data, blanks, form, problems } = page;
  document.querySelector('[data-restored]')?.remove();
  problems.clear();
  const file = readKeyedFile(before);
  if ('fault' in file || file.slug !== data.slug) return [];
  const isOpen = (text: string) => before.split('\n').includes(OPEN + text);
  const { given, collisions } = mergeKeyed(file, blanks, data.raw);
  for (const [key, text] of given) form.entryOf(key)?.put(text, !isOpen(text));
  const changed = collisions.flatMap(({ blank, keyed }): readonly Problem[] => {
    const entry = form.entryOf(blank.key);
    entry?.put(keyed, !isOpen(keyed));
    const says = blank.now === '' ? 'nothing' : shownText(blank.now, blank.kind, data.language);
    const text = `the file now says ${says}; it said something else when you typed this.`;
    return entry === undefined ? [] : [{ entry, text }];
  });
  if (given.length + collisions.length > 0) {
    root.before(madeOf('restored'));
    document.querySelector('[data-restored] button')!.addEventListener('click', () => {
      forget(data.slug);
      window.location.reload();
    });
  }
  return changed;
}

function dataIn(from: Document): KeyInData | null {
  const json = from.getElementById('key-in-data')?.textContent;
  return json ? JSON.parse(json) : null;
}

const data = dataIn(document);
if (data !== null) begin(data);
window.addEventListener('focus', lookAgain);
document.addEventListener('visibilitychange', lookAgain);
