import { writeFile } from 'node:fs/promises';
import { join } from 'node:path';
import { bundle } from './bundle.ts';
import type { Pages } from './pages.ts';
import { printFrame } from './print-frame.ts';

/** The scripts of the site's pages, by the name of their entry in `lib/browser`. */
const SCRIPTS = {
  'recipe-page': 'recipe.js',
  'archive-page': 'archive.js',
  'search-page': 'search.js',
  'compare-page': 'compare.js',
} as const;

/** Writes what runs in a reader's browser, and the empty sheets that a recipe is printed from. */
export async function writeScripts(
  outputDir: string,
  pages: Pick<Pages, 'environment' | 'site'>,
): Promise<void> {
  const assets = join(outputDir, 'assets');
  for (const [entry, file] of Object.entries(SCRIPTS))
    await writeFile(join(assets, file), await bundle(entry));
  for (const paper of ['a4', 'letter'] as const)
    await writeFile(
      join(assets, `print-sheet-${paper}.html`),
      printFrame(pages.environment, paper, pages.site.brewery.language),
    );
}
