import { type ArchiveRow, type ArchiveRows, ROWS } from '../../browser/archive/page-data.ts';
import type { Facets } from '../facets.ts';
import { colourOf, type Published } from '../site.ts';
import { listRow } from './list-view.ts';

export const ROWS_PATH = `${ROWS}.js`;

/** Every batch that is shown as a row of figures, for pages that sort, filter and choose. */
export function rowsView(site: Published, facets: Facets): ArchiveRows {
  const places = new Map<string, number>();
  const placeOf = (token: string): number => {
    const known = places.get(token);
    if (known !== undefined) return known;
    places.set(token, places.size);
    return places.size - 1;
  };
  const rows = site.batches.map((entry): ArchiveRow => {
    const tokens = facets.tokens.get(entry.batch.slug) ?? [];
    const row = listRow(entry, site.brewery, '', tokens);
    return [
      entry.batch.slug,
      row.title,
      row.number,
      row.style,
      row.day?.iso ?? '',
      row.gravity,
      row.alcohol,
      row.bitterness,
      colourOf(entry) ?? '',
      row.statusWords,
      row.score ?? '–',
      tokens.map(placeOf),
    ];
  });
  return { tokens: [...places.keys()], rows };
}
