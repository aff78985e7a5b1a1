import { readdir, rm, rmdir } from 'node:fs/promises';
import { join } from 'node:path';
import { sweepUnfinished } from '../archive/write/atomic-write.ts';
import { sweepParts } from '../paper/engine/write-whole.ts';
import { KIT_PATH } from './pages/kit-view.ts';
import { SHEET_FILES } from './paths.ts';
import { isPublishedPicture } from './pictures.ts';

const SHEET_ENDINGS = ['.html', '.pdf', '.fields.json'];
const CARD_FILES = SHEET_ENDINGS.map((ending) => `recipe-card${ending}`);
const BATCH_FILES = [
  'index.html',
  'plan.json',
  'compare.js',
  'fields.json',
  ...SHEET_FILES.flatMap((file) => SHEET_ENDINGS.map((ending) => `${file}${ending}`)),
];

const BOOKLET_FILES = ['booklet.html', 'booklet.pdf'];

async function foldersIn(folder: string): Promise<string[]> {
  try {
    const entries = await readdir(folder, { withFileTypes: true });
    return entries.filter((entry) => entry.isDirectory()).map((entry) => entry.name);
  } catch {
    return [];
  }
}

/** What a run that was killed half-way left under a name of its own may be of a batch that has been withdrawn since. */
export async function sweep(folder: string): Promise<void> {
  await sweepUnfinished(folder);
  await sweepParts(folder);
}

async function remove(folder: string, files: readonly string[]): Promise<void> {
  for (const file of files) await rm(join(folder, file), { force: true });
  try {
    await rmdir(folder);
  } catch {
    // Something else lies in it: not ours to take away.
  }
}

/**
 * Takes away what an earlier build left of batches that are no longer shown, so that a name that was withdrawn
 * does not stay on the site. Only files that a build writes are ever removed.
 */
export async function removeStale(
  outputDir: string,
  batchSlugs: readonly string[],
  recipeSlugs: readonly string[],
): Promise<void> {
  const batches = new Set(batchSlugs);
  // A booklet from before may tell of a batch that has been withdrawn since; the next one is made on demand.
  await sweep(outputDir);
  for (const file of BOOKLET_FILES) await rm(join(outputDir, file), { force: true });
  const recipes = new Set(recipeSlugs);
  for (const slug of await foldersIn(join(outputDir, 'batches'))) {
    await sweep(join(outputDir, 'batches', slug));
    await sweep(join(outputDir, 'batches', slug, 'key-in'));
    // A form is there only as long as something can be keyed in; the build writes it again.
    await remove(join(outputDir, 'batches', slug, 'key-in'), ['index.html']);
    if (batches.has(slug)) continue;
    const gone = recipes.has(slug) ? BATCH_FILES.filter((file) => !CARD_FILES.includes(file)) : BATCH_FILES;
    const names = await readdir(join(outputDir, 'batches', slug));
    const pictures = names.filter(isPublishedPicture);
    await remove(join(outputDir, 'batches', slug), [...gone, ...pictures, `${slug}.ics`]);
  }
  for (const slug of await foldersIn(join(outputDir, 'recipes'))) {
    await sweep(join(outputDir, 'recipes', slug));
    if (!recipes.has(slug)) await remove(join(outputDir, 'recipes', slug), ['index.html', 'picture.png']);
  }
}

/** Folders of pages that lead through the archive, and of the index of words: all in them is a build's own. */
const WAYS = ['archive', 'by', 'kit', 'years'];
const INDEX = 'pagefind';

/**
 * Takes away pages by ingredient and by year that are no longer written, and the index of words, which is made anew when the
 * site is built: both would go on telling of what was withdrawn.
 */
export async function removeOldWays(outputDir: string, written: readonly string[]): Promise<void> {
  const kept = new Set([...written, KIT_PATH]);
  await rm(join(outputDir, INDEX), { recursive: true, force: true });
  const visit = async (path: string): Promise<void> => {
    for (const name of await foldersIn(join(outputDir, path))) await visit(`${path}/${name}`);
    if (!kept.has(`${path}/index.html`)) await remove(join(outputDir, path), ['index.html']);
  };
  for (const way of WAYS) await visit(way);
}
