import { localClock, localDay } from '../../batch/types/time.ts';
import { correctedText, type DoubtContext } from '../../key-in/corrected.ts';
import {
  type Answers,
  type Blank,
  type BlankGroup,
  headed,
  LEFT_OUT,
  NOT_TAKEN,
} from '../../key-in/key-in.ts';
import { hasClock, lineOf, type Parts, partsOf } from '../../key-in/parts.ts';
import { labelOf, shownText } from '../../key-in/words.ts';
import { fieldRange } from '../../paper/field-view.ts';
import { clockText } from '../../words/measures.ts';
import { capital } from '../../words/words.ts';
import type { KeyInData } from './data.ts';

/** An element with attributes and children; text is never read as markup. */
export function element<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  attributes: Readonly<Record<string, string>> = {},
  ...children: readonly (string | Node)[]
): HTMLElementTagNameMap[K] {
  const made = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, value);
  made.append(...children);
  return made;
}

/** A blank in the form: what is in it, and what is said beside it. */
export interface Entry {
  readonly blank: Blank;
  readonly box: HTMLElement;
  readonly problem: HTMLElement;
  readonly first: HTMLInputElement;
  /** As it would be typed; null where nobody has touched it. */
  line(): string | null;
  /** The same figure a second time; null where it is not asked for. */
  again(): string | null;
  /** `settled`: its times are as the file has them, and no line that may mean morning or evening. */
  put(text: string, settled?: boolean): void;
  showCorrected(ctx: DoubtContext, text: string, answers: Answers): void;
}

type Tick = Exclude<Parts['word'], ''>;
const TICKS: { readonly [W in Tick]: { readonly ending: string; readonly text: string } } = {
  [NOT_TAKEN]: { ending: '-n', text: 'Not taken' },
  [LEFT_OUT]: { ending: '-l', text: 'Left out' },
};
const HINTS: Partial<Record<Blank['kind'], string>> = {
  clock: 'four digits, such as 1435',
  score: 'out of 5, halves allowed',
};
const NUMBERS: ReadonlySet<Blank['kind']> = new Set(['clock', 'count']);

function textInput(id: string, { kind }: Blank, size: string): HTMLInputElement {
  const mode = kind === 'text' ? 'text' : NUMBERS.has(kind) ? 'numeric' : 'decimal';
  const words = kind === 'text' ? {} : { autocapitalize: 'off' };
  return element('input', {
    ...{ id, name: id, type: 'text', class: size, inputmode: mode, ...words },
    ...{ autocomplete: 'off', spellcheck: 'false', enterkeyhint: 'next' },
  });
}

function unitSelect(id: string, label: string, choices: readonly string[]): HTMLSelectElement {
  const options = choices.map((choice) => element('option', {}, choice));
  return element('select', { id, name: id, 'aria-label': label, autocomplete: 'off' }, ...options);
}

const labelled = (label: string, input: HTMLElement, ...more: readonly Node[]): HTMLElement =>
  element('span', { class: 'part' }, element('label', { for: input.id }, label), pair(input, ...more));
const pair = (...inputs: readonly Node[]): HTMLElement => element('span', { class: 'pair' }, ...inputs);

/** A time as the file has it, with its half of the day where people write that. */
const shownClock = (text: string): string =>
  /^\d\d:\d\d$/.test(text) ? clockText(text, document.documentElement.lang) : text;

type Held = [keyof Parts, HTMLInputElement | HTMLSelectElement];

/** Makes the inputs of one blank with what its file says of it. */
function entryOf(blank: Blank, hint: string, twice: boolean): Entry {
  const { id, kind } = blank;
  const name = labelOf(blank);
  const value = textInput(id, blank, kind === 'text' ? 'long' : 'short');
  if (kind === 'date') value.type = 'date';
  const unit = blank.choices.length > 0 ? unitSelect(`${id}-u`, `Unit: ${name}`, blank.choices) : null;
  const isGravity = kind === 'gravity';
  const sample = isGravity ? textInput(`${id}-s`, blank, 'two') : null;
  const sampleUnit = isGravity ? unitSelect(`${id}-su`, `Unit of the sample: ${name}`, ['°C', '°F']) : null;
  const clock = hasClock(blank) ? textInput(`${id}-c`, { ...blank, kind: 'clock' }, 'four') : null;
  const again = twice && (isGravity || kind === 'volume') ? textInput(`${id}-2`, blank, 'short') : null;
  const corrected = element('output', { class: 'corrected', id: `${id}-corrected`, for: id });
  const now = kind === 'date' ? element('button', { type: 'button', class: 'offer' }, 'Now') : null;
  const ticks = blank.words.map((word) => {
    const own = `${id}${TICKS[word].ending}`;
    const input = element('input', { type: 'checkbox', id: own, name: own });
    const label = element('label', { for: own }, TICKS[word].text);
    label.append(element('span', { class: 'hidden' }, `: ${name}`));
    return { word, input, line: element('p', { class: 'tick' }, input, label) };
  });
  /** Inputs by the part of the blank that they hold. */
  const held = Object.entries({ value, unit, sample, sampleUnit, clock }).filter(
    (pair): pair is Held => pair[1] !== null,
  );
  const inputs = [...held.map(([, input]) => input), again, now].filter((each) => each !== null);
  const problem = element('div', { id: `${id}-problem` });
  if (hint !== '') value.setAttribute('aria-describedby', `${id}-hint`);
  const several = inputs.length > 1;
  // In a row of a log the row is named above.
  const plain = blank.place.row !== null && blank.at === null ? capital(blank.label) : name;
  const title = [element('span', { class: 'blank-no' }, id), ` ${plain}`];
  const parts = element(
    'div',
    { class: 'parts' },
    several ? labelled(kind === 'date' ? 'Day' : 'Reading', value, ...(unit ? [unit] : [])) : value,
    ...(clock ? [labelled('Time', clock)] : []),
    ...(now ? [now] : []),
    ...(sample && sampleUnit ? [labelled('Sample at', sample, sampleUnit)] : []),
    ...(again ? [labelled('The same again', again)] : []),
    ...(isGravity ? [corrected] : []),
  );
  const box = element(
    several ? 'fieldset' : 'div',
    { class: 'blank', 'data-blank': id },
    several ? element('legend', {}, ...title) : element('label', { class: 'name', for: id }, ...title),
    ...(hint === '' ? [] : [element('p', { class: 'hint', id: `${id}-hint` }, hint)]),
    problem,
    parts,
    ...(ticks.length === 0 ? [] : [element('div', { class: 'ticks' }, ...ticks.map(({ line }) => line))]),
  );

  const parted = (): Parts => ({
    ...partsOf(blank, ''),
    ...Object.fromEntries(held.map(([part, input]) => [part, input.value.trim()])),
    word: ticks.find(({ input }) => input.checked)?.word ?? '',
  });
  /** A tick replaces the whole figure, which comes back when the tick is taken away. */
  const settle = () => {
    const { word } = parted();
    for (const each of inputs) each.disabled = word !== '';
  };
  const put = (text: string, settled = /[ap]m$/i.test(text)) => {
    const stored = partsOf(blank, text);
    for (const [part, input] of held)
      input.value = settled && kind !== 'text' ? shownClock(stored[part]) : stored[part];
    if (again) again.value = value.value;
    for (const { word, input } of ticks) input.checked = word === stored.word;
    settle();
  };
  put(blank.now, true);
  const untouched = lineOf(blank, parted());
  for (const { input } of ticks)
    input.addEventListener('change', () => {
      for (const other of ticks) if (other.input !== input) other.input.checked = false;
      settle();
    });
  now?.addEventListener('click', () => {
    put(clock === null ? localDay() : `${localDay()} ${localClock()}`, true);
    value.dispatchEvent(new Event('input', { bubbles: true }));
  });
  return {
    blank,
    box,
    problem,
    first: value,
    put,
    line() {
      const line = lineOf(blank, parted());
      return line === untouched ? null : line;
    },
    again: () =>
      again === null || parted().word !== ''
        ? null
        : lineOf(blank, { ...parted(), value: again.value.trim() }),
    showCorrected(ctx, text, answers) {
      const shown = correctedText(ctx, blank, text, answers);
      if (corrected.textContent !== shown) corrected.textContent = shown;
    },
  };
}

const SECTIONS = {
  'brew day': 'Brew day',
  log: 'Fermentation log',
  packaging: 'Packaging',
  tasting: 'Tasting',
} as const satisfies { readonly [S in BlankGroup['section']]: string };

/** The part of the form that is due, by what has been keyed in. */
function dueSection(blanks: readonly Blank[]): BlankGroup['section'] {
  const has = (...keys: readonly string[]) =>
    blanks.some(({ place, now }) => now !== '' && keys.includes(place.of));
  if (has('packaged', 'tasted')) return 'tasting';
  if (has('final_gravity')) return 'packaging';
  return has('pitched', 'original_gravity', 'fermentation') ? 'log' : 'brew day';
}

export interface Form {
  readonly entries: readonly Entry[];
  /** The entry of a blank; none for a row that is not in the form. */
  entryOf(key: string): Entry | undefined;
  readonly sections: readonly HTMLElement[];
  reveal(entry: Entry): void;
  /** Shows the next free row once the one before has something in it. */
  showRows(touched: (entry: Entry) => boolean): void;
}

/** Makes the form: a section for each part of the work, the one that is due open, rows of a log one at a time. */
export function makeForm(blanks: readonly Blank[], data: KeyInData, twice: boolean): Form {
  const entries: Entry[] = [];
  const rows: { readonly box: HTMLDetailsElement; readonly entries: readonly Entry[] }[] = [];
  const make = (blank: Blank): Entry => {
    const isFirst = entries.every((entry) => entry.blank.kind !== blank.kind);
    const usual = blank.kind === 'count' ? blank.unit : isFirst ? (HINTS[blank.kind] ?? '') : '';
    const entry = entryOf(blank, fieldRange(blank, data, data.units) ?? usual, twice);
    entries.push(entry);
    return entry;
  };
  const due = dueSection(blanks);
  const groups = headed(blanks, data.paper);
  const names = Object.keys(SECTIONS) as readonly BlankGroup['section'][];
  const sections = names.map((section) => {
    const own = groups.filter((group) => group.section === section);
    const counted = own.flatMap((group) => group.blanks);
    const keyed = counted.filter(({ now }) => now !== '').length;
    const parts = own.map((group, i) => {
      const id = `group-${group.letter}-${i}`;
      const title = element(
        'h3',
        { id },
        element('span', { class: 'blank-no' }, group.letter),
        ` ${group.title} `,
      );
      title.append(element('span', { class: 'where' }, group.where));
      return element('section', { class: 'blanks', 'aria-labelledby': id }, title, ...bodyOf(group.blanks));
    });
    const summary = element('summary', {}, element('h2', {}, SECTIONS[section]));
    if (keyed > 0) summary.append(element('span', { class: 'hint' }, `${keyed} keyed in`));
    const id = section.replace(' ', '-');
    const details = element('details', { class: 'section', id }, summary, ...parts);
    details.open = window.location.hash === '' ? section === due : window.location.hash === `#${id}`;
    return details;
  });

  function bodyOf(own: readonly Blank[]): readonly HTMLElement[] {
    const inRows = own.some(({ place }) => place.of === 'fermentation' || place.of === 'tasted');
    if (!inRows) return own.map((blank) => make(blank).box);
    return [...new Set(own.map(({ place }) => place.row ?? 0))].map((row) => {
      const cells = own.filter(({ place }) => place.row === row);
      const made = cells.map(make);
      const said = cells.flatMap(({ now, kind }) =>
        now === '' ? [] : [shownText(now, kind, document.documentElement.lang)],
      );
      const title = element('span', {}, element('strong', {}, `Row ${row + 1}`), ` ${said.join('; ')}`);
      const boxes = element('div', { class: 'cells' }, ...made.map(({ box }) => box));
      const box = element('details', { class: 'row' }, element('summary', {}, title), boxes);
      box.open = said.length === 0;
      rows.push({ box, entries: made });
      return box;
    });
  }

  return {
    entries,
    sections,
    entryOf: (key) => entries.find(({ blank }) => blank.key === key),
    showRows(touched) {
      const hasSomething = (row: (typeof rows)[number]) =>
        row.entries.some((entry) => entry.blank.now !== '' || touched(entry));
      rows.forEach((row, i) => {
        const [first] = row.entries;
        const before = rows[i - 1];
        const begins = before === undefined || before.entries[0]?.blank.place.of !== first?.blank.place.of;
        row.box.hidden = !(begins || hasSomething(row) || (before !== undefined && hasSomething(before)));
      });
    },
    reveal({ box }) {
      for (let at = box.parentElement; at !== null; at = at.parentElement) {
        if (at instanceof HTMLDetailsElement) at.open = true;
        at.hidden &&= false;
      }
    },
  };
}
