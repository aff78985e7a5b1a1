/** Sorts and filters the archive's table; the address says what is chosen, so that it can be sent and kept. */
import { type Row, rowOfData, rowOnPage } from './archive-rows.ts';
import { chooseTwo } from './choose-two.ts';
import { type ArchiveRows, ROWS, rootFrom, takeIn } from './page-data.ts';

const root = rootFrom(document.currentScript);
/** More rows than a table lays out at once: those out of view are then left until they come into it. */
const MANY = 200;
const NOTHING = new Set<string | number>(['', '–']);

function start(table: HTMLTableElement, sieve: HTMLFieldSetElement, say: HTMLElement): void {
  const body = table.tBodies[0]!;
  const heads = [...table.querySelectorAll<HTMLTableCellElement>('th[data-sort]')];
  const lists = [...sieve.querySelectorAll('select')];
  const pages = document.querySelector<HTMLElement>('.pages');
  const onPage = [...body.rows].map(rowOnPage);
  const all = Number(table.dataset.all ?? onPage.length);
  const words = new Intl.Collator(document.documentElement.lang, { numeric: true });
  const place = document.querySelector<HTMLElement>('.choose');
  const dress =
    place === null ? () => undefined : chooseTwo(place, body, new URL('compare/index.html', root).href);
  /** Every batch; where the page holds only the newest, the rest comes when it is first asked for. */
  let rows: readonly Row[] = onPage;
  let whole = all === onPage.length;
  let column: string | null = null;
  let down = false;
  let shown: readonly HTMLTableRowElement[] = [...body.rows];
  /** As many as a page has, until more are asked for. */
  let most = onPage.length;

  /** What has no figure comes last, in either order. */
  const compare =
    (index: number) =>
    (a: Row, b: Row): number => {
      const [x, y] = [a.keys[index]!, b.keys[index]!];
      if (NOTHING.has(x) || NOTHING.has(y)) return Number(NOTHING.has(x)) - Number(NOTHING.has(y));
      const way = down ? -1 : 1;
      if (typeof x === 'number' && typeof y === 'number') return way * (x - y);
      return way * words.compare(String(x), String(y));
    };

  const tell = (filtered: boolean, count: number): void => {
    const shownNow = Math.min(count, most);
    const chosen = lists.filter(({ value }) => value !== '');
    const counted = document.querySelector('.sieve-count');
    if (counted !== null) counted.textContent = chosen.length === 0 ? '' : ` (${chosen.length})`;
    say.textContent =
      count === 0
        ? `No batch fits. ${strictest()} leaves out the most.`
        : filtered || column !== null
          ? `${shownNow} of ${count}${count === all ? '' : `, ${all} in all`}`
          : '';
    const left = count - shownNow;
    if (left === 0 || (!filtered && column === null)) return;
    const button = document.createElement('button');
    button.type = 'button';
    button.textContent = `Show ${left} more`;
    button.addEventListener('click', () => {
      most = Number.POSITIVE_INFINITY;
      show();
    });
    say.append(filtered ? ' ' : '', button);
  };

  /** The filter without which most batches would fit again. */
  const strictest = (): string => {
    const chosen = lists.filter(({ value }) => value !== '');
    const without = (one: HTMLSelectElement): number =>
      rows.filter(({ tokens }) =>
        chosen.every((other) => other === one || tokens.has(`${other.name}-${other.value}`)),
      ).length;
    const [worst] = [...chosen].sort((a, b) => without(b) - without(a));
    return worst === undefined ? 'A filter' : `“${worst.selectedOptions[0]?.dataset.words ?? worst.name}”`;
  };

  const show = (): void => {
    const wanted = lists.flatMap(({ name, value }) => (value === '' ? [] : [`${name}-${value}`]));
    const index = heads.findIndex((head) => head.dataset.sort === column);
    const asked = wanted.length > 0 || index >= 0;
    const found =
      wanted.length === 0 ? rows : rows.filter(({ tokens }) => wanted.every((one) => tokens.has(one)));
    const sorted = index < 0 ? found : [...found].sort(compare(index));
    const next = sorted.slice(0, most).map(({ element }) => element());
    if (next.length !== shown.length || next.some((row, at) => row !== shown[at])) {
      // Line ends between rows are dropped: gathered in one place, each row that moves would walk past all of them.
      body.replaceChildren(...next);
      shown = next;
      table.classList.toggle('many', next.length > MANY);
      dress();
    }
    heads.forEach((head, at) => {
      if (at === index) head.setAttribute('aria-sort', down ? 'descending' : 'ascending');
      else head.removeAttribute('aria-sort');
    });
    order.value = index < 0 ? '' : `${down ? '-' : ''}${column}`;
    if (pages !== null) pages.hidden = asked;
    tell(wanted.length > 0, found.length);
  };

  /** Shows what is asked for, with all batches there where anything is. */
  const turn = (): void => {
    most = onPage.length;
    if (whole || (column === null && lists.every(({ value }) => value === ''))) {
      show();
      return;
    }
    takeIn<ArchiveRows>(ROWS, root).then(
      ({ tokens, rows: data }) => {
        if (!whole) {
          whole = true;
          // The newest are on the page already.
          rows = data.map((one, at) => {
            const row = rowOfData(one, tokens, root);
            const there = onPage[at];
            return there === undefined ? row : { ...row, element: there.element };
          });
        }
        show();
      },
      () => {
        say.textContent = 'The list of all batches is not there; these are the newest.';
      },
    );
  };

  const follow = (): void => {
    const given = new URLSearchParams();
    for (const { name, value } of lists) if (value !== '') given.set(name, value);
    if (column !== null) given.set('sort', down ? `-${column}` : column);
    const here = window.location.href.replace(/#.*$/, '');
    const text = given.toString();
    window.history.replaceState(null, '', text === '' ? here : `${here}#${text}`);
  };

  const arrive = (): void => {
    const hash = window.location.hash.slice(1);
    if (hash !== '' && !hash.includes('=')) return;
    const given = new URLSearchParams(hash);
    for (const list of lists) {
      const value = given.get(list.name) ?? '';
      list.value = [...list.options].some((option) => option.value === value) ? value : '';
    }
    const sort = given.get('sort') ?? '';
    const name = sort.replace(/^-/, '');
    column = heads.some((head) => head.dataset.sort === name) ? name : null;
    down = column !== null && sort.startsWith('-');
    turn();
  };

  /** The order as a list too: on a phone the heads of the columns are not there to be tapped. */
  const order = document.createElement('select');
  order.append(
    new Option('newest first', ''),
    ...heads.map((head) => {
      const high = head.classList.contains('num');
      const name = head.dataset.sort ?? '';
      return new Option(
        `${head.textContent?.trim()}${high ? ', highest first' : ''}`,
        `${high ? '-' : ''}${name}`,
      );
    }),
  );
  order.addEventListener('change', () => {
    column = order.value.replace(/^-/, '') || null;
    down = order.value.startsWith('-');
  });
  const orderLabel = document.createElement('label');
  orderLabel.className = 'order';
  orderLabel.append('Sort by ', order);
  sieve.querySelector('.clear')?.before(orderLabel);

  for (const head of heads) {
    const button = document.createElement('button');
    button.type = 'button';
    button.className = 'sorter';
    button.append(...head.childNodes);
    head.append(button);
    button.addEventListener('click', () => {
      const name = head.dataset.sort ?? '';
      // A third click brings the table's own order back.
      if (column !== name) [column, down] = [name, head.classList.contains('num')];
      else if (down === head.classList.contains('num')) down = !down;
      else [column, down] = [null, false];
      turn();
      follow();
    });
  }
  sieve.querySelector('.clear')?.addEventListener('click', () => {
    for (const list of lists) list.value = '';
    column = null;
    turn();
    follow();
  });
  sieve.addEventListener('change', () => {
    turn();
    follow();
  });
  window.addEventListener('hashchange', arrive);
  arrive();
}

const table = document.querySelector('#batch-table');
const sieve = document.querySelector('.sieve');
const say = document.querySelector('.sieve-say');
if (table instanceof HTMLTableElement && sieve instanceof HTMLFieldSetElement && say instanceof HTMLElement)
  start(table, sieve, say);
