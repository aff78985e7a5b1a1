/** Holds any two batches against each other; the address says which two, so that it can be sent and kept. */
import {
  type Comparable,
  type Comparison,
  compareBatches,
  type FigureChange,
  type GroupChange,
  type TextChange,
} from '../../words/compare-batches.ts';
import { dateText } from '../../words/measures.ts';
import {
  type ArchiveRow,
  type ArchiveRows,
  comparableName,
  ROWS,
  rootFrom,
  takeIn,
} from '../archive/page-data.ts';

const root = rootFrom(document.currentScript);

/** An element with text and elements in it; text is never markup. */
function make<K extends keyof HTMLElementTagNameMap>(
  tag: K,
  inner: readonly (Node | string)[] = [],
  names: Readonly<Record<string, string>> = {},
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(names)) element.setAttribute(name, value);
  element.append(...inner);
  return element;
}

/** What was changed: as it is, and small beside it as it was. */
function changeLine({ what, was, is, by }: TextChange): HTMLElement {
  const small = (text: string): HTMLElement => make('span', [text], { class: 'small' });
  const words =
    is === null
      ? [make('del', [was ?? '']), ' ', small('left out')]
      : [is, ' ', small(was === null ? 'new' : `was ${was}${by === undefined ? '' : `, ${by}`}`)];
  return make('li', [small(`${what}: `), ...words]);
}

const changeList = (changes: readonly TextChange[]): HTMLElement =>
  make('ul', changes.map(changeLine), { class: 'changes' });

/** A figure holds together, but for a long unit, which may go on in the next line. */
const breakable = (text: string): string => text.replace('\u00a0per\u00a0', ' per\u00a0');

function figureRow({ label, was, is, by }: FigureChange): HTMLTableRowElement {
  const cell = (text: string): HTMLTableCellElement =>
    make('td', [text === '' ? '–' : breakable(text)], { class: 'num' });
  return make('tr', [
    make('th', [label], { scope: 'row' }),
    cell(was),
    cell(is),
    make('td', [by], { class: by === '' ? 'num none' : 'num' }),
  ]);
}

function figureTable(
  caption: string,
  rows: readonly FigureChange[],
  both: readonly Comparable[],
): HTMLElement {
  const head = ['Figure', ...both.map(({ title }) => title), 'Difference'].map((text, i) =>
    make('th', [text], i === 0 ? { scope: 'col' } : { scope: 'col', class: 'num' }),
  );
  return make(
    'table',
    [
      make('caption', [caption], { class: 'hidden' }),
      make('thead', [make('tr', head)]),
      make('tbody', rows.map(figureRow)),
    ],
    { class: 'stack' },
  );
}

const fold = (title: string, ...inner: readonly Node[]): HTMLElement =>
  make('details', [make('summary', [title]), ...inner]);

const groupFold = ({ title, differ, same }: GroupChange, both: readonly Comparable[]): HTMLElement =>
  fold(title, figureTable(title, [...differ, ...same], both));

/** What was said of one of the two, as its own page has it. */
function notesOf({ title, notes }: Comparable): HTMLElement {
  const prose = make('div', [], { class: 'prose' });
  prose.innerHTML = notes;
  return make('div', [make('h3', [title]), notes === '' ? make('p', ['No notes.']) : prose]);
}

function link({ slug, title, day }: Comparable): HTMLElement {
  const address = new URL(`batches/${encodeURIComponent(slug)}/index.html`, root).href;
  return make('li', [make('a', [title], { href: address }), ' ', make('span', [day], { class: 'small' })]);
}

function result(both: readonly [Comparable, Comparable]): Node[] {
  const found: Comparison = compareBatches(...both);
  const steps = new Set(both.flatMap(({ recipe }) => recipe.method.map(({ what }) => what)));
  const recipe = found.recipe.filter(({ what }) => !steps.has(what));
  const method = found.recipe.filter(({ what }) => steps.has(what));
  const brewed = found.figures.find(({ title }) => title === 'As brewed');
  const clear = (brewed?.differ ?? []).filter((row) => row.clear);
  return [
    make('ol', both.map(link), { class: 'both' }),
    make(
      'div',
      [
        make('section', [
          make('h2', ['What was changed']),
          recipe.length === 0 ? make('p', ['Neither the pot nor the ingredients.']) : changeList(recipe),
        ]),
        make('section', [
          make('h2', ['What it did']),
          clear.length === 0
            ? make('p', ['No figure differs by more than its uncertainty.'])
            : figureTable('Figures that differ by more than their uncertainty', clear, both),
        ]),
      ],
      { class: 'twin' },
    ),
    make('h2', ['In words']),
    make('div', both.map(notesOf), { class: 'twin' }),
    make('h2', ['Everything else']),
    ...(method.length === 0 ? [] : [fold('Method', changeList(method))]),
    ...found.figures.map((group) => groupFold(group, both)),
  ];
}

function start(box: HTMLElement, say: HTMLElement, out: HTMLElement): void {
  const lists = [...box.querySelectorAll('select')];
  const [first, second] = lists;
  if (!first || !second) return;
  let turn = 0;

  const show = async (): Promise<void> => {
    const mine = ++turn;
    const [a, b] = [first.value, second.value];
    if (a === '' || b === '' || a === b) {
      out.replaceChildren();
      say.textContent = a !== '' && a === b ? 'Choose two that are not the same.' : 'Choose two batches.';
      return;
    }
    try {
      const both = await Promise.all([
        takeIn<Comparable>(comparableName(a), root),
        takeIn<Comparable>(comparableName(b), root),
      ]);
      if (mine !== turn) return;
      out.replaceChildren(...result(both));
      say.textContent = `${both[0].title} and ${both[1].title}:`;
    } catch {
      out.replaceChildren();
      say.textContent = 'One of the two is not there; build the whole site and try again.';
    }
  };

  const follow = (): void => {
    const chosen = new URLSearchParams();
    for (const { name, value } of lists) if (value !== '') chosen.set(name, value);
    const here = window.location.href.replace(/#.*$/, '');
    window.history.replaceState(null, '', `${here}#${chosen.toString()}`);
  };

  /** The batches that are asked for; of what is no batch nothing is chosen. */
  const arrive = (): void => {
    const given = new URLSearchParams(window.location.hash.slice(1) || window.location.search);
    for (const list of lists) {
      const value = given.get(list.name) ?? '';
      list.value = [...list.options].some((option) => option.value === value) ? value : '';
    }
    void show();
  };

  const option = ([slug, title, number, , day]: ArchiveRow): HTMLOptionElement => {
    const more = [
      number === '' ? '' : `No. ${number}`,
      day === '' ? '' : dateText(day, document.documentElement.lang),
    ].filter(Boolean);
    return make('option', [more.length === 0 ? title : `${title} (${more.join(', ')})`], { value: slug });
  };

  takeIn<ArchiveRows>(ROWS, root).then(
    ({ rows }) => {
      for (const list of lists) list.append(...rows.map(option));
      box.addEventListener('change', () => {
        follow();
        void show();
      });
      box.querySelector('button')?.addEventListener('click', () => {
        [first.value, second.value] = [second.value, first.value];
        follow();
        void show();
      });
      window.addEventListener('hashchange', arrive);
      arrive();
    },
    () => {
      say.textContent = 'The list of batches is not there; build the whole site and try again.';
    },
  );
}

const box = document.querySelector('.compare-box');
const say = document.querySelector('.compare-say');
const out = document.querySelector('.compare-out');
if (box instanceof HTMLFieldSetElement && say instanceof HTMLElement && out instanceof HTMLElement)
  start(box, say, out);
