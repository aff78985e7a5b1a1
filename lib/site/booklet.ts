import type { Environment } from 'nunjucks';
import type { Brewery } from '../batch/types/brewery.ts';
import { type RecipeCard, recipeCard } from '../paper/card.ts';
import { echoed } from '../units/format/format.ts';
import { dateText } from '../words/measures.ts';
import { capital } from '../words/words.ts';
import { createMarkdown } from './markdown.ts';
import { type BatchView, batchView } from './pages/batch-view.ts';
import { SHEET_ASSETS, sheetFonts } from './sheets.ts';
import { publish, type SiteContent, type SiteEntry } from './site.ts';

/** One batch in the booklet: a left page of figures, a right page of what happened. */
export interface BookletBatch {
  readonly id: string;
  readonly view: BatchView;
  readonly makes: string;
  readonly card: RecipeCard;
}

/** A word of an index and the batches that it leads to, in the order of the booklet. */
export interface IndexEntry {
  readonly word: string;
  readonly batches: readonly { readonly id: string; readonly title: string }[];
}

export interface Booklet {
  readonly language: string;
  readonly paper: Brewery['paper'];
  readonly title: string;
  readonly author: string | null;
  /** `12 batches, 9 Nov 2024 to 9 Jan 2026`. */
  readonly span: string;
  readonly batches: readonly BookletBatch[];
  readonly styles: readonly IndexEntry[];
  readonly ingredients: readonly IndexEntry[];
}

/** Oldest first, as a book is read; batches without a day stand at the end. */
function inReadingOrder(a: SiteEntry, b: SiteEntry): number {
  const day = (a.batch.brewed ?? '9').localeCompare(b.batch.brewed ?? '9', 'en');
  const number = (a.batch.number ?? 0) - (b.batch.number ?? 0);
  return day || number || a.batch.slug.localeCompare(b.batch.slug, 'en');
}

function indexOf(
  batches: readonly SiteEntry[],
  wordsOf: (entry: SiteEntry) => readonly string[],
): readonly IndexEntry[] {
  const found = new Map<string, { word: string; batches: Map<string, string> }>();
  for (const entry of batches) {
    for (const word of wordsOf(entry)) {
      const key = word.toLocaleLowerCase('en');
      const there = found.get(key) ?? { word: capital(word), batches: new Map<string, string>() };
      found.set(key, { ...there, batches: there.batches.set(idOf(entry), entry.batch.title) });
    }
  }
  return [...found.values()]
    .map(({ word, batches: all }) => ({ word, batches: [...all].map(([id, title]) => ({ id, title })) }))
    .sort((a, b) => a.word.localeCompare(b.word, 'en'));
}

const idOf = ({ batch }: SiteEntry): string => `batch-${batch.slug}`;

function namesOf({ batch: { recipe } }: SiteEntry): readonly string[] {
  const { grain, extract, sugar, hops, other } = recipe;
  return [
    ...[...grain, ...extract, ...sugar, ...hops, ...other].map((item) => item.name),
    ...recipe.yeast.map((item) => `${item.name} yeast`),
  ];
}

function spanText(entries: readonly SiteEntry[], language: string): string {
  const days = entries.flatMap(({ batch }) => batch.brewed ?? []).sort();
  const [first, last] = [days[0], days.at(-1)];
  const count = `${entries.length} ${entries.length === 1 ? 'batch' : 'batches'}`;
  if (first === undefined || last === undefined) return count;
  return first === last
    ? `${count}, ${dateText(first, language)}`
    : `${count}, ${dateText(first, language)} to ${dateText(last, language)}`;
}

/** Gathers the archive as a booklet: the batches that are published as brewed, or with `all` every one. */
export function bookletOf(content: SiteContent, all: boolean, paper?: Brewery['paper']): Booklet {
  const { brewery } = content;
  const markdown = createMarkdown();
  const site = publish(
    all
      ? {
          ...content,
          entries: content.entries.map((entry) => ({
            ...entry,
            batch: { ...entry.batch, publish: 'all' as const },
          })),
        }
      : content,
  );
  const entries = [...site.batches].sort(inReadingOrder);
  return {
    language: brewery.language,
    paper: paper ?? brewery.paper,
    title: brewery.name,
    author: brewery.author,
    span: spanText(entries, brewery.language),
    batches: entries.map((entry) => ({
      id: idOf(entry),
      view: batchView(entry, site, entry.batch.notes.trim() === '' ? '' : markdown.render(entry.batch.notes)),
      makes: echoed(entry.batch.recipe.intoFermenter_L.written, brewery.units),
      card: recipeCard(entry.batch, entry.plan, brewery, null, null),
    })),
    styles: indexOf(entries, ({ batch }) => (batch.style === null ? [] : [batch.style])),
    ingredients: indexOf(entries, namesOf),
  };
}

/** The booklet as one page for a browser to lay out, with the assets beside it. */
export function renderBooklet(environment: Environment, booklet: Booklet): string {
  return environment.render('booklet/booklet.njk', {
    booklet,
    assets: SHEET_ASSETS,
    fonts: sheetFonts(SHEET_ASSETS),
  });
}
