import { spelled } from '../../words/words.ts';
import { ARCHIVE_JSON, csvPath, markedCsvPath } from '../data/files.ts';
import { entriesOf, TABLES } from '../data/tables.ts';
import { ATOM_PATH, JSON_FEED_PATH } from '../paths.ts';
import type { Published } from '../site.ts';
import { headView } from './head.ts';

export const DATA_PATH = 'data/index.html';

/** The dictionary of everything that can be taken away from the site as data. */
export const dataView = (site: Published) => ({
  head: headView(
    site.brewery,
    DATA_PATH,
    'Archive as data',
    'Every batch, ingredient and reading as CSV and JSON, with the meaning and the unit of each column.',
  ),
  json: ARCHIVE_JSON,
  feeds: site.brewery.url === null ? null : { atom: ATOM_PATH, json: JSON_FEED_PATH },
  tables: TABLES.map(({ name, title, row, columns, rows }) => ({
    name,
    title,
    row,
    csv: csvPath(name),
    /** The same with a byte order mark. */
    marked: markedCsvPath(name),
    rows: entriesOf(site).reduce((sum, entry) => sum + rows(entry).count, 0),
    columns: columns.map((one) => ({ ...one, meaning: spelled(one.meaning, site.brewery.language) })),
  })),
});
