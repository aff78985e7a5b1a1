/** Sorts and filters the archive's table; what is chosen stands in the address, so that it can be sent and kept. */

interface Row {
  readonly element: HTMLTableRowElement;
  readonly tokens: ReadonlySet<string>;
  /** By column: text as it sorts, figures as numbers. */
  readonly keys: readonly (string | number)[];
}

function sortKey(cell: Element): string | number {
  const day = cell.querySelector('time')?.dateTime;
  if (day !== undefined) return day;
  const text = (cell.querySelector('a') ?? cell).textContent?.trim() ?? '';
  const figure = /^[\d.]+/.exec(text);
  return figure === null || cell.tagName === 'TH' ? text : Number(figure[0]);
}

const NOTHING = new Set<string | number>(['', '–']);

function start(table: HTMLTableElement, sieve: HTMLFieldSetElement, say: HTMLElement): void {
  const body = table.querySelector('tbody')!;
  const heads = [...table.querySelectorAll<HTMLTableCellElement>('th[data-sort]')];
  const lists = [...sieve.querySelectorAll('select')];
  const rows: readonly Row[] = [...body.querySelectorAll('tr')].map((element) => ({
    element,
    tokens: new Set((element.dataset.t ?? '').split(' ')),
    keys: [...element.querySelectorAll('th, td')].map(sortKey),
  }));
  const words = new Intl.Collator(document.documentElement.lang, { numeric: true });
  let column: string | null = null;
  let down = false;
  let placed = '';

  /** What has no figure stands last, whichever way the rest is turned. */
  const compare =
    (index: number) =>
    (a: Row, b: Row): number => {
      const [x, y] = [a.keys[index]!, b.keys[index]!];
      if (NOTHING.has(x) || NOTHING.has(y)) return Number(NOTHING.has(x)) - Number(NOTHING.has(y));
      const way = down ? -1 : 1;
      if (typeof x === 'number' && typeof y === 'number') return way * (x - y);
      // A score goes before a word.
      if (typeof x !== typeof y) return typeof x === 'number' ? -1 : 1;
      return way * words.compare(String(x), String(y));
    };

  const show = (): void => {
    const wanted = lists.flatMap(({ name, value }) => (value === '' ? [] : [`${name}-${value}`]));
    let count = 0;
    for (const { element, tokens } of rows) {
      const hidden = !wanted.every((token) => tokens.has(token));
      if (element.hidden !== hidden) element.hidden = hidden;
      if (!hidden) count++;
    }
    const order = `${column} ${down}`;
    if (order !== placed) {
      const index = heads.findIndex((head) => head.dataset.sort === column);
      const sorted = index < 0 ? rows : [...rows].sort(compare(index));
      // Line ends between rows are dropped: gathered in one place, each row that moves would walk past all of them.
      body.replaceChildren(...sorted.map(({ element }) => element));
      heads.forEach((head, at) => {
        if (at === index) head.setAttribute('aria-sort', down ? 'descending' : 'ascending');
        else head.removeAttribute('aria-sort');
      });
      placed = order;
    }
    say.textContent = wanted.length === 0 ? '' : `${count} of ${rows.length} batches`;
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
    show();
  };

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
      show();
      follow();
    });
  }
  sieve.addEventListener('change', () => {
    show();
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
