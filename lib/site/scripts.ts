import { type AssetFiles, assetFiles } from './assets.ts';
import { bundle } from './bundle.ts';
import type { Pages } from './pages.ts';
import { pictureFiles } from './pictures.ts';
import { printFrame } from './print-frame.ts';

/** The scripts of the site's pages, by the name of their entry in `lib/browser`. */
const SCRIPTS = {
  'recipe/recipe-page': 'recipe.js',
  'recipe/recipe-out': 'recipe-out.js',
  'archive/archive-page': 'archive.js',
  'archive/search-page': 'search.js',
  'compare/compare-page': 'compare.js',
} as const;

/** What runs in a reader's browser. */
export const scriptFiles = (): AssetFiles =>
  new Map(Object.entries(SCRIPTS).map(([entry, file]) => [`assets/${file}`, () => bundle(entry)] as const));

/** The empty sheets that a recipe is printed from. */
export const frameFiles = ({ environment, site }: Pick<Pages, 'environment' | 'site'>): AssetFiles =>
  new Map(
    (['a4', 'letter'] as const).map((paper) => [
      `assets/print-sheet-${paper}.html`,
      async () => printFrame(environment, paper, site.brewery.language),
    ]),
  );

/** All files of a site that are no pages of its archive. */
export const siteAssets = (pages: Pick<Pages, 'environment' | 'site'>): AssetFiles =>
  new Map([...assetFiles(), ...scriptFiles(), ...frameFiles(pages), ...pictureFiles(pages.site.photographs)]);
