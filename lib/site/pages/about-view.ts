import { CAUTIONS, type Caution } from '../../words/cautions.ts';
import { ABOUT_PATH, MISSING_PATH } from '../paths.ts';
import type { Published } from '../site.ts';
import { type HeadView, headView } from './head.ts';

export interface PlainView {
  readonly head: HeadView;
}

export interface AboutView extends PlainView {
  readonly cautions: readonly Caution[];
}

/** All but the one that stands over every sheet: the page says the same in its own words. */
const GENERAL = Object.values(CAUTIONS).filter(({ id }) => id !== 'rules');

/** What the figures mean, and the cautions that belong to brewing at home. */
export const aboutView = (site: Published): AboutView => ({
  head: headView(
    site.brewery,
    ABOUT_PATH,
    'About the figures',
    'What each figure on these pages means, how far it can be trusted, and the cautions of brewing at home.',
  ),
  cautions: GENERAL,
});

/** The page for an address that leads nowhere; it may stand at any depth, so its links start at the site's top. */
export function missingView(site: Published, preview: boolean): PlainView {
  const head = headView(site.brewery, MISSING_PATH, 'No such page', 'This address leads to no page.', false);
  const { url } = site.brewery;
  if (preview) return { head: { ...head, root: '/' } };
  return { head: url === null ? head : { ...head, root: new URL(url).pathname } };
}
