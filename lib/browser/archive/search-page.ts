/** The page on which the archive is searched by word. */
import { excerpt, type Found, find, type Searchable, searchable } from './find-words.ts';
import { rootFrom, type SearchPart, type SearchRow, searchName, takeIn } from './page-data.ts';

const MOST = 30;
const root = rootFrom(document.currentScript);

/** One hit: the beer, when it was brewed, how it was liked, and where the words are. */
function hit(row: SearchRow, wanted: readonly string[]): HTMLLIElement {
  const [folder, title, day, score] = row;
  const href = new URL(`${folder.split('/').map(encodeURIComponent).join('/')}/index.html`, root).href;
  const line = document.createElement('li');
  const link = Object.assign(document.createElement('a'), { href, textContent: title });
  const textContent = [day, score].filter(Boolean).join(', ');
  const small = Object.assign(document.createElement('span'), { className: 'small', textContent });
  const words = document.createElement('p');
  for (const [text, found] of excerpt(row, wanted))
    words.append(found ? Object.assign(document.createElement('mark'), { textContent: text }) : text);
  line.append(link, ' ', small, words);
  return line;
}

/** How many pages there are, and which words none of them has just so. */
function counted({ rows: { length }, not }: Found): string {
  const named = not.map((word) => `“${word}”`).join(' or ');
  const pages = length === 1 ? 'One page' : `${length} pages`;
  if (not.length === 0) return pages;
  return length === 0
    ? `No page has ${named}.`
    : `No page has exactly ${named}. ${pages} with words that begin like it:`;
}

/** All beers, the newest first. */
async function takeInAll(): Promise<readonly Searchable[]> {
  const all: SearchRow[] = [];
  for (let part = 1; ; part += 1) {
    const { rows, more } = await takeIn<SearchPart>(searchName(part), root);
    all.push(...rows);
    if (!more) return all.reverse().map(searchable);
  }
}

function start(): void {
  const box = document.querySelector<HTMLElement>('.search-box');
  const input = document.querySelector<HTMLInputElement>('.search-box input');
  const say = document.querySelector('.search-say');
  const list = document.querySelector('.found');
  if (!box || !input || !say || !list) return;
  let beers: Promise<readonly Searchable[]> | null = null;
  const search = async (): Promise<void> => {
    beers ??= takeInAll();
    const all = await beers;
    const typed = input.value.trim();
    const here = window.location.href.replace(/#.*$/, '');
    window.history.replaceState(null, '', typed === '' ? here : `${here}#q=${encodeURIComponent(typed)}`);
    const found = find(typed === '' ? [] : all, typed);
    say.textContent = typed === '' ? '' : counted(found);
    list.replaceChildren(...found.rows.slice(0, MOST).map((row) => hit(row, found.wanted)));
  };
  const tried = (): Promise<void> =>
    search().catch(() => {
      beers = null;
      say.textContent = 'The words of the batches are not there: they are made with the whole site.';
    });
  box.hidden = false;
  input.addEventListener('input', () => void tried());
  const asked = new URLSearchParams(window.location.hash.slice(1)).get('q');
  if (asked === null) return;
  input.value = asked;
  void tried();
}

start();
