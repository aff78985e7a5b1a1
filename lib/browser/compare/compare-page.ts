/** Holds any two batches against each other; which two stands in the address, so that it can be sent and kept. */
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

const hidden = (text: string): HTMLElement => make('span', [text], { class: 'hidden' });

function words({ kind, runs, by }: TextChange): (Node | string)[] {
  const marked = runs.flatMap(({ mark, text }): (Node | string)[] => {
    if (mark === 'gone') return [make('del', [hidden('left out: '), text, hidden(';')]), ' '];
    if (mark === 'new') return [make('ins', [hidden('now: '), text, hidden(';')]), ' '];
    return [text, ' '];
  });
  const more = kind === 'changed' ? (by ?? '') : kind;
  return more === '' ? marked : [...marked, make('span', [more], { class: 'small' })];
}

function textSection(title: string, changes: readonly TextChange[], none: string): HTMLElement {
  const heading = make('h2', [title]);
  if (changes.length === 0) return make('section', [heading, make('p', [none])]);
  const rows = changes.map((change) =>
    make('div', [make('dt', [change.what]), make('dd', words(change), { class: 'runs' })]),
  );
  return make('section', [heading, make('dl', rows, { class: 'log changes' })]);
}

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

function groupSection(
  { title, differ, same }: GroupChange,
  [a, b]: readonly [Comparable, Comparable],
): HTMLElement {
  const head = ['Figure', a.title, b.title, 'Difference'].map((text, i) =>
    make('th', [text], i === 0 ? { scope: 'col' } : { scope: 'col', class: 'num' }),
  );
  const table = make(
    'table',
    [
      make('caption', [`${title}: figures that differ`], { class: 'hidden' }),
      make('thead', [make('tr', head)]),
      make('tbody', differ.map(figureRow)),
    ],
    { class: 'stack' },
  );
  const alike = same.map(({ label, is }) => `${label} ${is}`).join('; ');
  return make('section', [
    make('h3', [title]),
    ...(differ.length === 0 ? [] : [table]),
    ...(same.length === 0 ? [] : [make('p', [`The same in both: ${alike}.`], { class: 'small' })]),
  ]);
}

function link({ slug, title, day }: Comparable): HTMLElement {
  const address = new URL(`batches/${encodeURIComponent(slug)}/index.html`, root).href;
  return make('li', [make('a', [title], { href: address }), ' ', make('span', [day], { class: 'small' })]);
}

function result(both: readonly [Comparable, Comparable]): Node[] {
  const found: Comparison = compareBatches(...both);
  const figures = make('section', [
    make('h2', ['Figures']),
    ...found.figures.map((group) => groupSection(group, both)),
  ]);
  return [
    make('ol', both.map(link), { class: 'both' }),
    make('p', [
      'What only the first has is ',
      make('del', ['struck through']),
      '; what only the second has is ',
      make('ins', ['bold and underlined']),
      '.',
    ]),
    textSection('Name, kit, recipe and method', [...found.names, ...found.recipe], 'Nothing differs.'),
    figures,
    textSection('Remarks and notes', found.remarks, 'Nothing differs.'),
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
    const more = [number === '' ? '' : `No. ${number}`, day === '' ? '' : dateText(day)].filter(Boolean);
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
