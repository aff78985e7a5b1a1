import { dateText } from '../../words/measures.ts';
import type { ArchiveRow } from './page-data.ts';

/** A row of the archive's table: what it is sorted and found by, and its element, made when it is first shown. */
export interface Row {
  readonly tokens: ReadonlySet<string>;
  /** By column: text as it sorts, figures as numbers. */
  readonly keys: readonly (string | number)[];
  readonly element: () => HTMLTableRowElement;
}

const keyOf = (text: string): string | number => {
  const figure = Number.parseFloat(text);
  return Number.isNaN(figure) ? text : figure;
};

function cellKey(cell: Element): string | number {
  const day = cell.querySelector('time')?.dateTime;
  if (day !== undefined) return day;
  const text = (cell.querySelector('a') ?? cell).textContent?.trim() ?? '';
  return cell.tagName === 'TH' ? text : keyOf(text);
}

/** A row of the page. */
export const rowOnPage = (element: HTMLTableRowElement): Row => ({
  tokens: new Set((element.dataset.t ?? '').split(' ')),
  keys: [...element.querySelectorAll('th, td')].map(cellKey),
  element: () => element,
});

const SVG = 'http://www.w3.org/2000/svg';

/** The lock filled with the beer's colour, as rows on the page have it. */
function lock(srgb: string): Element {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('class', 'lock');
  svg.setAttribute('viewBox', '0 0 36 24');
  svg.setAttribute('aria-hidden', 'true');
  const path = (name: string, d: string): Element => {
    const element = document.createElementNS(SVG, 'path');
    if (name === '') element.setAttribute('fill', srgb);
    else element.setAttribute('class', name);
    element.setAttribute('d', d);
    return element;
  };
  svg.append(
    path('', 'M8 9h20v13H8z'),
    path('lock-bank', 'M8 3v19h20V3M0 3h10M26 3h10'),
    path('lock-gauge', 'M8 9h4M8 13h7M8 17h4'),
  );
  return svg;
}

function cell<K extends 'td' | 'th'>(
  tag: K,
  name: string,
  inner: readonly (Node | string)[],
): HTMLElementTagNameMap[K] {
  const element = document.createElement(tag);
  if (name !== '') element.className = name;
  element.append(...inner);
  return element;
}

function made(
  [slug, title, number, style, day, gravity, alcohol, bitterness, srgb, state, score]: ArchiveRow,
  root: string,
): HTMLTableRowElement {
  const link = document.createElement('a');
  link.href = new URL(`batches/${encodeURIComponent(slug)}/index.html`, root).href;
  link.textContent = title;
  const beer = cell('th', '', [
    ...(srgb === '' ? [] : [lock(srgb)]),
    link,
    ...(style === ''
      ? []
      : [Object.assign(document.createElement('span'), { className: 'style', textContent: style })]),
  ]);
  beer.scope = 'row';
  const time = Object.assign(document.createElement('time'), {
    dateTime: day,
    textContent: dateText(day, document.documentElement.lang),
  });
  const row = document.createElement('tr');
  row.append(
    cell('td', 'num mark', [number]),
    beer,
    cell('td', '', [day === '' ? '–' : time]),
    ...[gravity, alcohol, bitterness].map((figure) => cell('td', 'num', [figure])),
    cell('td', 'state', [state]),
    cell('td', score === '–' ? 'num score none' : 'num score', [score]),
  );
  return row;
}

/** A row of the archive's data. */
export function rowOfData(data: ArchiveRow, tokens: readonly string[], root: string): Row {
  const [, title, number, , day, gravity, alcohol, bitterness, , state, score, own] = data;
  let element: HTMLTableRowElement | null = null;
  return {
    tokens: new Set(own.map((index) => tokens[index] ?? '')),
    keys: [
      keyOf(number),
      title,
      day === '' ? '–' : day,
      keyOf(gravity),
      keyOf(alcohol),
      keyOf(bitterness),
      state,
      keyOf(score),
    ],
    element: () => {
      element ??= made(data, root);
      return element;
    },
  };
}
