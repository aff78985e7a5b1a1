/** Searches the site's own index; nothing is asked of anybody else. */
import { dateText } from '../../words/measures.ts';
import { type ArchiveRows, ROWS, rootFrom, takeIn } from './page-data.ts';

interface Found {
  readonly url: string;
  readonly meta: {
    readonly title?: string;
    readonly day?: string;
    readonly score?: string;
    readonly said?: string;
  };
  readonly excerpt: string;
  /** All words of the page. */
  readonly content: string;
}
interface Index {
  init(): Promise<void>;
  debouncedSearch(
    words: string,
    options?: object,
    wait_ms?: number,
  ): Promise<{ readonly results: readonly { data(): Promise<Found> }[] } | null>;
}

const MOST = 30;
const script = document.currentScript;
const index = script instanceof HTMLScriptElement ? new URL('../pagefind/pagefind.js', script.src).href : '';

/** Marks what was found, and nothing else: the index's own markup is taken as text. */
function excerpt(html: string): DocumentFragment {
  const parsed = new DOMParser().parseFromString(html, 'text/html');
  const out = document.createDocumentFragment();
  for (const node of parsed.body.childNodes) {
    const text = node.textContent ?? '';
    const mark = node instanceof Element && node.tagName === 'MARK' ? document.createElement('mark') : null;
    if (mark === null) out.append(text);
    else {
      mark.textContent = text;
      out.append(mark);
    }
  }
  return out;
}

/** One hit: the beer, when it was brewed, how it was liked, and a sentence. */
function hit(
  url: string,
  title: string,
  more: readonly (string | undefined)[],
  text: Node | string,
): HTMLLIElement {
  const line = document.createElement('li');
  const link = Object.assign(document.createElement('a'), { href: url, textContent: title });
  const small = Object.assign(document.createElement('span'), {
    className: 'small',
    textContent: more.filter(Boolean).join(', '),
  });
  const words = document.createElement('p');
  words.append(text);
  line.append(link, ' ', small, words);
  return line;
}

const item = ({ url, meta, excerpt: html }: Found): HTMLLIElement =>
  hit(url, meta.title ?? url, [meta.day, meta.score], meta.said ?? excerpt(html));

/** From a plain file no index can be read: the rows of the archive still can, by title, style, tags and ingredients. */
async function searchRows(input: HTMLInputElement, say: Element, list: Element): Promise<void> {
  const root = rootFrom(script);
  const { rows, tokens } = await takeIn<ArchiveRows>(ROWS, root);
  const texts = rows.map(([, title, , style, , , , , , , , own]) =>
    plain(`${title} ${style} ${own.map((at) => tokens[at]?.replace(/^\w+-/, '') ?? '').join(' ')}`),
  );
  input.addEventListener('input', () => {
    const wanted = plain(input.value).split(/\s+/).filter(Boolean);
    const found =
      wanted.length === 0 ? [] : rows.filter((_, i) => wanted.every((w) => texts[i]!.includes(w)));
    say.textContent = wanted.length === 0 ? '' : found.length === 1 ? 'One beer' : `${found.length} beers`;
    list.replaceChildren(
      ...found
        .slice(0, MOST)
        .map(([slug, title, , style, day, , , , , state, score]) =>
          hit(
            new URL(`batches/${encodeURIComponent(slug)}/index.html`, root).href,
            title,
            [day === '' ? '' : dateText(day, document.documentElement.lang), score === '–' ? state : score],
            style,
          ),
        ),
    );
  });
}

/** Letters as they are compared: without case and accents. */
const plain = (text: string): string => text.normalize('NFD').replaceAll(/\p{M}/gu, '').toLowerCase();

/** Words that none of the pages has, as they were typed; the beginning of a word counts, since people search while they type. */
function missing(words: string, found: readonly Found[]): readonly string[] {
  const there = found.map(({ content, meta }) =>
    plain(`${meta.title ?? ''} ${content}`)
      .split(/[^\p{L}\p{N}.]+/u)
      .flatMap((word) => [word, word.replace(/\.+$/, '')]),
  );
  return words
    .split(/[^\p{L}\p{N}\p{M}.]+/u)
    .filter((word) => word !== '' && !there.some((page) => page.some((one) => one.startsWith(plain(word)))));
}

/** How many pages there are, and which words none of them has just so. */
function counted(count: number, not: readonly string[]): string {
  const named = not.map((word) => `“${word}”`).join(' or ');
  const pages = count === 1 ? 'One page' : `${count} pages`;
  if (not.length === 0) return pages;
  return count === 0
    ? `No page has ${named}.`
    : `No page has exactly ${named}. ${pages} with words that begin like it:`;
}

async function start(): Promise<void> {
  const box = document.querySelector<HTMLElement>('.search-box');
  const input = document.querySelector<HTMLInputElement>('.search-box input');
  const say = document.querySelector('.search-say');
  const list = document.querySelector('.found');
  if (!box || !input || !say || !list) return;
  if (window.location.protocol === 'file:') {
    box.hidden = false;
    await searchRows(input, say, list).catch(() => {
      say.textContent = 'The list of batches is not there; build the whole site and try again.';
    });
    return;
  }
  let engine: Index;
  try {
    engine = (await import(/* @vite-ignore */ index)) as Index;
    await engine.init();
  } catch {
    say.textContent =
      'The index of words is not there: it is made with the whole site, by the command build.';
    return;
  }
  box.hidden = false;
  const search = async (): Promise<void> => {
    const words = input.value.trim();
    const here = window.location.href.replace(/#.*$/, '');
    window.history.replaceState(null, '', words === '' ? here : `${here}#q=${encodeURIComponent(words)}`);
    if (words === '') {
      list.replaceChildren();
      say.textContent = '';
      return;
    }
    const answer = await engine.debouncedSearch(words, {}, 150);
    if (answer === null) return;
    const found = await Promise.all(answer.results.slice(0, MOST).map((result) => result.data()));
    say.textContent = counted(answer.results.length, missing(words, found));
    list.replaceChildren(...found.map(item));
  };
  input.addEventListener('input', () => void search());
  const asked = new URLSearchParams(window.location.hash.slice(1)).get('q');
  if (asked !== null) {
    input.value = asked;
    await search();
  }
}

void start();
