import { type BlankFault, type Checked, checkTyped } from '../../key-in/check.ts';
import { complete } from '../../key-in/complete.ts';
import { correctedText, type DoubtContext } from '../../key-in/corrected.ts';
import { type Doubt, doubtsOf } from '../../key-in/doubts.ts';
import { type Answers, type Blank, blanksOf, logOf } from '../../key-in/key-in.ts';
import { lineOf, PART_NAMES, partsOf } from '../../key-in/parts.ts';
import { faultText, shownText } from '../../key-in/words.ts';
import type { KeyInData } from './data.ts';
import { forget, type KeepPlace, keep, keepSent, restore, type TextOf } from './kept.ts';
import { hideMade, showMade } from './made.ts';
import { clearProblems, element, showProblems } from './problems.ts';

/** Starts the form of the page: corrected values as they are typed and, without a server, checks and lines to paste. */
function start(form: HTMLFormElement, data: KeyInData): void {
  const all = blanksOf(data.batch, data.raw, data.units);
  const names = new Map(Object.entries(data.ids).map(([name, key]) => [key, name]));
  const blanks = all.map((blank) => ({ ...blank, id: names.get(blank.key) ?? blank.id }));
  const inForm = blanks.filter(({ key }) => names.has(key));
  const today = localDay(new Date());
  const ctx: DoubtContext = { batch: data.batch, targets: data.targets, units: data.units, today };
  const page: Page = { form, data, blanks, inForm, ctx };
  form.addEventListener('input', () => showCorrected(page));
  if (data.keeps !== 'nothing') keepTyping(page);
  showCorrected(page);
  if (data.mode === 'server') return;
  form.addEventListener('submit', (event) => {
    event.preventDefault();
    check(page);
  });
}

/** Puts back what was typed here before and has not come into the file, and keeps what is typed now. */
function keepTyping(page: Page): void {
  const sent = page.data.keeps === 'sent';
  page.form.addEventListener('input', () => keep(placeOf(page), sent));
  const textOf: TextOf = (blank, input) => {
    const line = lineOf(blank, input);
    if (line === undefined) return '';
    const read = complete(blank, line, contextOf(page));
    return read.ok ? read.text : line;
  };
  if (sent) {
    keepSent(placeOf(page), textOf);
    return;
  }
  const { count, changed } = restore(placeOf(page), textOf);
  if (count > 0) tellRestored(page);
  tellChanged(page, changed);
}

/** What was typed stands in the form again; whoever wants the file's own begins anew. */
function tellRestored({ form, data }: Page): void {
  const note = element('div', { class: 'restored', role: 'status', 'data-restored': '' });
  const anew = element('button', { type: 'button' }, 'Begin anew from the file');
  anew.addEventListener('click', () => {
    forget(data.slug);
    window.location.reload();
  });
  note.append(element('p', {}, 'What you typed here before is in the form again.'), anew);
  form.before(note);
}

/** What was typed is kept for the blanks of the form. */
const placeOf = ({ form, data, inForm }: Page): KeepPlace => ({
  form,
  slug: data.slug,
  rows: logOf(data.raw).length,
  blanks: inForm,
});

/** The batch was published with other readings since something was typed: which blanks to look at again. */
function tellChanged({ form }: Page, changed: readonly Blank[]): void {
  showProblems(
    form,
    changed.map((blank) => ({
      blank,
      text: `the file says ${blank.now === '' ? 'nothing' : shownText(blank.now, blank.kind)} by now, which is not what it said when you typed this.`,
      offers: [],
      confirm: null,
    })),
    'The file has changed since you typed',
  );
}

interface Page {
  readonly form: HTMLFormElement;
  readonly data: KeyInData;
  readonly blanks: readonly Blank[];
  readonly inForm: readonly Blank[];
  readonly ctx: DoubtContext;
}

const two = (n: number): string => String(n).padStart(2, '0');
const localDay = (now: Date): string =>
  `${now.getFullYear()}-${two(now.getMonth() + 1)}-${two(now.getDate())}`;

/** What stands in an input now; undefined where there is none, or a box that is not ticked. */
function typedIn({ form }: Pick<Page, 'form'>, name: string): string | undefined {
  const input = form.elements.namedItem(name);
  if (input instanceof HTMLInputElement && input.type === 'checkbox') {
    return input.checked ? input.value : undefined;
  }
  return input instanceof HTMLInputElement || input instanceof HTMLSelectElement ? input.value : undefined;
}

const contextOf = ({ data }: Page) => ({ units: data.units, brewed: data.batch.brewed });

function showCorrected(page: Page): void {
  const answers = new Map<string, string>();
  for (const blank of page.inForm) {
    const line = lineOf(blank, (name) => typedIn(page, name));
    const read = line === undefined ? null : complete(blank, line, contextOf(page));
    answers.set(blank.key, read?.ok ? read.text : '');
  }
  for (const blank of page.inForm) {
    const output = page.form.ownerDocument.getElementById(`${blank.id}-corrected`);
    if (output === null) continue;
    const text = correctedText(page.ctx, blank, answers.get(blank.key) ?? '', answers);
    if (output.textContent !== text) output.textContent = text;
  }
}

function checked(page: Page): Checked {
  const lines = new Map<string, string>();
  for (const blank of page.inForm) {
    const line = lineOf(blank, (name) => typedIn(page, name));
    if (line !== undefined) lines.set(blank.key, line);
  }
  return checkTyped(page.blanks, { lines }, contextOf(page));
}

function check(page: Page): void {
  const { answers, faults } = checked(page);
  const doubts = doubtsOf(page.blanks, answers, page.ctx).filter(({ key }) => {
    const blank = page.blanks.find((each) => each.key === key);
    return typedIn(page, `${blank?.id}${PART_NAMES.sure}`) !== answers.get(key);
  });
  clearProblems(page.form);
  hideMade();
  if (faults.length > 0 || doubts.length > 0) showFound(page, faults, doubts, answers);
  else showMade({ slug: page.data.slug, raw: page.data.raw, blanks: page.blanks, answers });
}

function showFound(
  page: Page,
  faults: readonly BlankFault[],
  doubts: readonly Doubt[],
  answers: Answers,
): void {
  const named = (key: string) => page.blanks.find((each) => each.key === key);
  showProblems(page.form, [
    ...faults.flatMap((fault) => {
      const blank = named(fault.key);
      if (blank === undefined) return [];
      const text = faultText(fault);
      const offers = fault.offers.map((offer) => ({ text: offer, take: () => take(page, blank, offer) }));
      return [{ blank, text, offers, confirm: null }];
    }),
    ...doubts.flatMap(({ key, message }) => {
      const blank = named(key);
      return blank === undefined
        ? []
        : [{ blank, text: message, offers: [], confirm: answers.get(key) ?? '' }];
    }),
  ]);
}

/** Puts a reading that was offered into the inputs of its blank. */
function take(page: Page, blank: Blank, text: string): void {
  const parts = partsOf(blank, text, page.data.batch.brewed);
  const set = (name: string, value: string) => {
    const input = page.form.elements.namedItem(name);
    if (input instanceof HTMLInputElement || input instanceof HTMLSelectElement) input.value = value;
  };
  set(blank.id, parts.value);
  for (const name of ['unit', 'sample', 'sampleUnit', 'day', 'month', 'year', 'clock'] as const)
    set(`${blank.id}${PART_NAMES[name]}`, parts[name]);
  showCorrected(page);
  keep(placeOf(page));
  check(page);
}

const form = document.querySelector('form.key-in');
const data = document.getElementById('key-in-data')?.textContent;
const summary = document.querySelector('[data-summary]');
if (summary instanceof HTMLElement) summary.focus();
if (form instanceof HTMLFormElement && data) start(form, JSON.parse(data) as KeyInData);
