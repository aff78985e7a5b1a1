/** Two rows of the archive's table are chosen to be compared. */

interface Chosen {
  readonly slug: string;
  readonly title: string;
  readonly box: HTMLInputElement;
}

const slugOf = (link: HTMLAnchorElement): string =>
  decodeURIComponent(/batches\/([^/]+)\/[^/]*$/.exec(link.pathname)?.[1] ?? '');

/**
 * Makes the button that puts a box to tick beside every row. Gives a function that does so for rows that have come into the
 * table since.
 *
 * @param page address of the page that compares
 */
export function chooseTwo(place: HTMLElement, body: HTMLTableSectionElement, page: string): () => void {
  const button = document.createElement('button');
  button.type = 'button';
  button.textContent = 'Compare two';
  const say = document.createElement('span');
  say.setAttribute('role', 'status');
  place.append(button, say);
  let choosing = false;
  let chosen: readonly Chosen[] = [];

  const tell = (): void => {
    const [a, b] = chosen;
    if (!choosing) say.textContent = '';
    else if (a === undefined) say.textContent = 'Tick two of them.';
    else if (b === undefined) say.textContent = `${a.title} and one more.`;
    else {
      const link = document.createElement('a');
      link.href = `${page}#a=${encodeURIComponent(a.slug)}&b=${encodeURIComponent(b.slug)}`;
      link.textContent = `Compare ${a.title} with ${b.title}`;
      say.replaceChildren(link);
    }
  };

  const boxFor = (row: HTMLTableRowElement): HTMLInputElement | null => {
    const link = row.querySelector('a');
    if (link === null) return null;
    const box = document.createElement('input');
    box.type = 'checkbox';
    const title = link.textContent ?? '';
    box.setAttribute('aria-label', `Compare ${title}`);
    box.addEventListener('change', () => {
      const others = chosen.filter((one) => one.box !== box);
      if (box.checked) {
        // A third takes the place of the one that was ticked first.
        for (const one of others.slice(0, -1)) one.box.checked = false;
        chosen = [...others.slice(-1), { slug: slugOf(link), title, box }];
      } else chosen = others;
      tell();
    });
    return box;
  };

  const dress = (): void => {
    if (!choosing) return;
    for (const row of body.rows) {
      if (row.querySelector('input') !== null) continue;
      const box = boxFor(row);
      if (box !== null) row.querySelector('th')?.prepend(box);
    }
  };

  button.addEventListener('click', () => {
    choosing = !choosing;
    button.setAttribute('aria-pressed', String(choosing));
    body.classList.toggle('choosing', choosing);
    dress();
    tell();
  });
  button.setAttribute('aria-pressed', 'false');
  return dress;
}
