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
  const figure = /^[\d.]+/.exec(text);
  return figure === null ? text : Number(figure[0]);
};

function cellKey(cell: Element): string | number {
  const day = cell.querySelector('time')?.dateTime;
  if (day !== undefined) return day;
  const text = (cell.querySelector('a') ?? cell).textContent?.trim() ?? '';
  return cell.tagName === 'TH' ? text : keyOf(text);
}

/** A row that stands on the page. */
export const rowOnPage = (element: HTMLTableRowElement): Row => ({
  tokens: new Set((element.dataset.t ?? '').split(' ')),
  keys: [...element.querySelectorAll('th, td')].map(cellKey),
  element: () => element,
});

const SVG = 'http://www.w3.org/2000/svg';

/** A small glass as rows on the page have it. */
function glass(srgb: string): SVGSVGElement {
  const svg = document.createElementNS(SVG, 'svg');
  svg.setAttribute('class', 'swatch');
  svg.setAttribute('viewBox', '0 0 18 24');
  svg.setAttribute('aria-hidden', 'true');
  const path = document.createElementNS(SVG, 'path');
  path.setAttribute('class', 'swatch-full');
  path.setAttribute('d', 'M1.5 1.5h15l-2 21h-11z');
  path.setAttribute('fill', srgb);
  svg.append(path);
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
  [slug, title, number, style, day, gravity, alcohol, bitterness, srgb, now]: ArchiveRow,
  root: string,
): HTMLTableRowElement {
  const link = document.createElement('a');
  link.href = new URL(`batches/${encodeURIComponent(slug)}/index.html`, root).href;
  link.textContent = title;
  const beer = cell('th', '', [
    ...(srgb === '' ? [] : [glass(srgb)]),
    link,
    ...(style === ''
      ? []
      : [Object.assign(document.createElement('span'), { className: 'style', textContent: style })]),
  ]);
  beer.scope = 'row';
  const time = Object.assign(document.createElement('time'), { dateTime: day, textContent: dateText(day) });
  const scored = /^\d/.test(now);
  const row = document.createElement('tr');
  row.append(
    cell('td', 'num mark', [number]),
    beer,
    cell('td', '', [day === '' ? '–' : time]),
    ...[gravity, alcohol, bitterness].map((figure) => cell('td', 'num', [figure])),
    cell('td', 'now', [scored ? Object.assign(document.createElement('strong'), { textContent: now }) : now]),
  );
  return row;
}

/** A row of the archive's data. */
export function rowOfData(data: ArchiveRow, tokens: readonly string[], root: string): Row {
  const [, title, number, , day, gravity, alcohol, bitterness, , now, own] = data;
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
      keyOf(now),
    ],
    element: () => {
      element ??= made(data, root);
      return element;
    },
  };
}
