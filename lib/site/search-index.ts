import { mkdir, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** Files of the index's own user interface: the site has its own. */
const UNUSED = /^pagefind-(?:ui|modular-ui|highlight|component-ui)\b/;

/** Batches and recipes; what only leads to them holds no words of its own. */
const PAGES_WITH_WORDS = '{batches,recipes}/*/index.html';

/** Writes the full-text index of batches and recipes below `pagefind/`, from the pages as they were published. */
export async function writeSearchIndex(outputDir: string, language: string): Promise<void> {
  const folder = join(outputDir, 'pagefind');
  await rm(folder, { recursive: true, force: true });
  // Loaded here so that commands which build no site do not pay for it.
  const { close, createIndex } = await import('pagefind');
  const { index, errors } = await createIndex({
    forceLanguage: language,
    writePlayground: false,
  });
  if (index === undefined) throw new Error(`The search index cannot be made: ${errors.join('; ')}`);
  try {
    const { errors: wrong } = await index.addDirectory({ path: outputDir, glob: PAGES_WITH_WORDS });
    if (wrong.length > 0) throw new Error(`The site cannot be indexed: ${wrong.join('; ')}`);
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
