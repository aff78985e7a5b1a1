import { FILE_PROBLEMS } from '../../archive/codes.ts';
import { SCHEMA_PROBLEMS } from '../../archive/schema/codes.ts';
import { BATCH_PROBLEMS } from '../../batch/types/problem.ts';
import { KEY_IN_PROBLEMS } from '../../key-in/complete.ts';
import { SHEET_PROBLEMS } from '../../paper/engine/faults.ts';
import { UNIT_PROBLEMS } from '../../units/codes.ts';
import { type Catalogue, inGeneral } from '../../units/problem.ts';
import { CAUTIONS } from '../../words/cautions.ts';
import { spelled } from '../../words/words.ts';
import { SITE_PROBLEMS } from '../check-links.ts';
import { ABOUT_PATH, MESSAGES_PATH, MISSING_PATH } from '../paths.ts';
import type { Published } from '../site.ts';
import { type HeadView, headView } from './head.ts';

/** All but the one at the head of every sheet: the page says the same in its own words. */
const GENERAL = Object.values(CAUTIONS).filter(({ id }) => id !== 'rules');

/** What the figures mean, and the cautions that belong to brewing at home. */
export const aboutView = (site: Published) => ({
  head: headView(
    site.brewery,
    ABOUT_PATH,
    'About the figures',
    'What each figure on these pages means, how far it can be trusted, and the cautions of brewing at home.',
  ),
  cautions: GENERAL.map((one) => ({ ...one, hazard: spelled(one.hazard, site.brewery.language) })),
  colour: spelled('Colour', site.brewery.language),
});

/** Every code that a message may carry, by what it is about. */
const MESSAGES: readonly (readonly [title: string, rows: Catalogue])[] = [
  ['Figures', UNIT_PROBLEMS],
  ['Keys and values', SCHEMA_PROBLEMS],
  ['Files and YAML', FILE_PROBLEMS],
  ['The plan', BATCH_PROBLEMS],
  ['Keying in', KEY_IN_PROBLEMS],
  ['Printing', SHEET_PROBLEMS],
  ['The built site', SITE_PROBLEMS],
];

/** What each code of a message means and how it is mended: the codes are permanent, so that a search finds them. */
export const messagesView = (site: Published) => ({
  head: headView(site.brewery, MESSAGES_PATH, 'Messages', 'Every message of the program by its code.', false),
  groups: MESSAGES.map(([title, rows]) => ({
    title,
    codes: Object.entries(rows).map(([code, row]) => ({ code, ...inGeneral(row) })),
  })),
});

/** The page for an address that leads nowhere; it may stand at any depth, so its links start at the site's top. */
export function missingView(site: Published, preview: boolean): { readonly head: HeadView } {
  const head = headView(site.brewery, MISSING_PATH, 'No such page', 'This address leads to no page.', false);
  const { url } = site.brewery;
  if (preview) return { head: { ...head, root: '/' } };
  return { head: url === null ? head : { ...head, root: new URL(url).pathname } };
}

export const SEARCH_PATH = 'search/index.html';

/** The page on which the archive is searched by word; it has nothing to be found by itself. */
export const searchView = (site: Published): { readonly head: HeadView } => ({
  head: headView(
    site.brewery,
    SEARCH_PATH,
    'Search',
    `Search the batches and recipes of ${site.brewery.name} by word.`,
    false,
  ),
});
