import { existsSync } from 'node:fs';
import { mkdir, readdir, readFile, rm, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';

/** Files of the index's own user interface: the site has its own. */
const UNUSED = /^pagefind-(?:ui|modular-ui|highlight|component-ui)\b/;

/** Batches and recipes; what only leads to them holds no words of its own. */
const FOLDERS_WITH_WORDS = ['batches', 'recipes'];

/** The pages with words, by their path in the site. */
async function pagesWithWords(outputDir: string): Promise<readonly string[]> {
  const found = await Promise.all(
    FOLDERS_WITH_WORDS.map(async (folder) => {
      const there = await readdir(join(outputDir, folder), { withFileTypes: true }).catch(() => []);
      const paths = there
        .filter((entry) => entry.isDirectory())
        .map(({ name }) => `${folder}/${name}/index.html`);
      return paths.filter((path) => existsSync(join(outputDir, path))).sort();
    }),
  );
  const [batches = [], recipes = []] = found;
  const brewed = new Set(batches.map((path) => path.split('/')[1]));
  // One hit a beer: a recipe stands for itself only where its batch is not shown.
  return [...batches, ...recipes.filter((path) => !brewed.has(path.split('/')[1]))];
}

/**
 * A page as its words are taken: heads of tables say nothing of a beer, and cells, lines and figures that only their boxes keep
 * apart get blanks between them.
 */
export const wordsApart = (html: string): string =>
  html
    .replaceAll(/<thead\b[\s\S]*?<\/thead>/g, '')
    .replaceAll(/<\/(?:td|th|dt|dd|li|p|caption|figcaption|summary|h[1-6])>/g, '$& ')
    .replaceAll('</span><span', '</span> <span')
    .replaceAll(/\u00a0|&nbsp;/g, ' ');

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
    for (const sourcePath of await pagesWithWords(outputDir)) {
      const content = wordsApart(await readFile(join(outputDir, sourcePath), 'utf8'));
      const { errors: wrong } = await index.addHTMLFile({ sourcePath, content });
      if (wrong.length > 0) throw new Error(`The site cannot be indexed: ${wrong.join('; ')}`);
    }
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
