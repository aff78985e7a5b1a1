import { recipeItems } from '../batch/types/recipe.ts';
import { type SearchPart, type SearchRow, searchName } from '../browser/archive/page-data.ts';
import { dateText } from '../words/measures.ts';
import { dataScript } from './data-script.ts';
import { noteHtml } from './pages/comparable-view.ts';
import { scoreOf } from './pages/status.ts';
import { pageCount, rowsOfPage } from './paging.ts';
import { ofEntry, type Published, type SiteEntry } from './site.ts';

const SIGNS: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', '#39': "'" };

/** The words of HTML of our own. */
const wordsOf = (html: string): string =>
  html
    .replaceAll(/<[^>]*>/g, ' ')
    .replaceAll(/&(amp|lt|gt|quot|#39);/g, (_, name: string) => SIGNS[name] ?? '')
    .replaceAll(/\s+/g, ' ')
    .trim();

const list = (all: readonly (string | null)[], by: string): string =>
  [...new Set(all.filter(Boolean))].join(by);

/** What a beer is found by: the brewer's own words, of a recipe alone nothing but what is on its page. */
function rowOf(entry: SiteEntry, language: string, notes: (entry: SiteEntry) => string): SearchRow {
  const { batch } = entry;
  const { slug, title, style, readings } = batch;
  const items = recipeItems(batch.recipe);
  const names = [style, ...items.map(({ name }) => name)];
  if (batch.publish !== 'all') return [`recipes/${slug}`, `${title} (recipe)`, '', '', list(names, ', '), ''];
  const log = typeof readings.fermentation === 'object' ? readings.fermentation : [];
  const more = [...items, ...log].map(({ note }) => note);
  return [
    `batches/${slug}`,
    title,
    batch.brewed === null ? '' : dateText(batch.brewed, language),
    scoreOf(batch) ?? '',
    list([...names, ...batch.tags, batch.setup.title], ', '),
    list([wordsOf(noteHtml(batch, notes(entry))), ...more], ' '),
  ];
}

/** What the page for searching takes in, in parts: all that is published, one row a beer. */
export function searchFiles(
  { batches, recipesAlone, brewery: { language } }: Published,
  notes: (entry: SiteEntry) => string,
): ReadonlyMap<string, () => string> {
  const entries = [...recipesAlone, ...[...batches].reverse()];
  const count = pageCount(entries.length);
  return new Map(
    Array.from({ length: count }, (_, i) => {
      const part = (): SearchPart => ({
        rows: rowsOfPage(entries, i + 1).map((entry) =>
          ofEntry(entry, 'words', () => rowOf(entry, language, notes)),
        ),
        more: i + 1 < count,
      });
      const name = searchName(i + 1);
      return [`${name}.js`, () => dataScript(name, part())] as const;
    }),
  );
}
