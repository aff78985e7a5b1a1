/**
 * Data of the site that pages take in as scripts: a browser lets no page that was opened as a plain file read another file, but
 * run its scripts.
 */

/** A batch as a row of the archive: slug, title, number, style, day, gravity, alcohol, bitterness, colour, state, score, tokens. */
export type ArchiveRow = readonly [
  slug: string,
  title: string,
  number: string,
  style: string,
  day: string,
  gravity: string,
  alcohol: string,
  bitterness: string,
  srgb: string,
  state: string,
  score: string,
  /** Indexes into the list of tokens. */
  tokens: readonly number[],
];

/** All batches that are shown, newest first. */
export interface ArchiveRows {
  readonly tokens: readonly string[];
  readonly rows: readonly ArchiveRow[];
}

/** What a beer is found by: the folder of its page, title, day, score, names of what it is and is made of, and what was said of it. */
export type SearchRow = readonly [
  folder: string,
  title: string,
  day: string,
  score: string,
  names: string,
  said: string,
];

/** A hundred beers, the oldest first, so that one more changes the last part alone. */
export interface SearchPart {
  readonly rows: readonly SearchRow[];
  /** True where another part follows. */
  readonly more: boolean;
}

/** Where the scripts put what they hold, by its name. */
export const HOLDER = 'kettleside';
export const ROWS = 'archive-rows';
export const searchName = (part: number): string => `search/words-${part}`;
export const comparableName = (slug: string): string => `batches/${slug}/compare`;

const held = (name: string): unknown => {
  const holder: unknown = (globalThis as Readonly<Record<string, unknown>>)[HOLDER];
  return typeof holder === 'object' && holder !== null && Object.hasOwn(holder, name)
    ? (holder as Readonly<Record<string, unknown>>)[name]
    : undefined;
};

const asked = new Map<string, Promise<unknown>>();

/**
 * Takes in the data of a name, once.
 *
 * @param root address of the site's top folder
 * @throws Error where the file is not there
 */
export function takeIn<T>(name: string, root: string): Promise<T> {
  const known = asked.get(name);
  if (known !== undefined) return known as Promise<T>;
  const found = new Promise<T>((done, fail) => {
    const script = document.createElement('script');
    script.src = new URL(`${name.split('/').map(encodeURIComponent).join('/')}.js`, root).href;
    script.addEventListener('load', () => {
      const data = held(name);
      if (data === undefined) fail(new Error(`${name} holds nothing.`));
      else done(data as T);
    });
    script.addEventListener('error', () => {
      asked.delete(name);
      fail(new Error(`${name} is not there.`));
    });
    document.head.append(script);
  });
  asked.set(name, found);
  return found;
}

/** The site's top folder, from the address of a script in `assets/`. */
export const rootFrom = (script: unknown): string =>
  script instanceof HTMLScriptElement ? new URL('..', script.src).href : '';
