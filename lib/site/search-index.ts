import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import type { Pages } from './pages.ts';

/** Files of the index's own user interface: the site has its own. */
const UNUSED = /^pagefind-(?:ui|modular-ui|highlight|component-ui)\b/;

/**
 * Writes the full-text index of batches and recipes below `pagefind/`. Pages are handed over as they are, so that the index
 * says what the site says and no private file is ever looked at.
 */
export async function writeSearchIndex(outputDir: string, pages: Pages): Promise<void> {
  const folder = join(outputDir, 'pagefind');
  await rm(folder, { recursive: true, force: true });
  // Loaded here so that commands which build no site do not pay for it.
  const { close, createIndex } = await import('pagefind');
  const { index, errors } = await createIndex({
    forceLanguage: pages.site.brewery.language,
    writePlayground: false,
  });
  if (index === undefined) throw new Error(`The search index cannot be made: ${errors.join('; ')}`);
  try {
    const add = async (sourcePath: string, content: string): Promise<void> => {
      const { errors: wrong } = await index.addHTMLFile({ sourcePath, content });
      if (wrong.length > 0) throw new Error(`${sourcePath} cannot be indexed: ${wrong.join('; ')}`);
    };
    for (const slug of pages.batchSlugs) await add(`batches/${slug}/index.html`, pages.batch(slug));
    for (const slug of pages.recipeSlugs) await add(`recipes/${slug}/index.html`, pages.recipe(slug));
    const { files } = await index.getFiles();
    for (const { path, content } of files) {
      if (UNUSED.test(path)) continue;
      const file = join(folder, path);
      await mkdir(dirname(file), { recursive: true });
      await writeFile(file, content);
    }
  } finally {
    await close();
  }
}
