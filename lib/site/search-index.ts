import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import type { Output } from './output.ts';

/** Files of the index's own user interface: the site has its own. */
const UNUSED = /^pagefind-(?:ui|modular-ui|highlight|component-ui)\b/;

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

/** Pages with words: batches and recipes; what only leads to them holds none of its own. */
const hasWords = (path: string): boolean => /^(?:batches|recipes)\/[^/]+\/index\.html$/.test(path);
/** Where the index lies. */
export const INDEX = 'pagefind/';

/** One page a beer: a recipe stands for itself only where its batch is not shown. */
export function pagesWithWords(paths: readonly string[]): readonly string[] {
  const there = new Set(paths);
  return paths
    .filter(hasWords)
    .filter((path) => path.startsWith('batches/') || !there.has(path.replace('recipes/', 'batches/')))
    .sort();
}

/** Writes the full-text index of batches and recipes below `pagefind/`, from the pages as they were published. */
export async function writeSearchIndex(
  output: Output,
  paths: readonly string[],
  language: string,
): Promise<void> {
  // Loaded here so that commands which build no site do not pay for it.
  const { close, createIndex } = await import('pagefind');
  const { index, errors } = await createIndex({
    forceLanguage: language,
    writePlayground: false,
  });
  if (index === undefined) throw new Error(`The search index cannot be made: ${errors.join('; ')}`);
  try {
    for (const sourcePath of pagesWithWords(paths)) {
      const content = wordsApart(await readFile(join(output.folder, sourcePath), 'utf8'));
      const { errors: wrong } = await index.addHTMLFile({ sourcePath, content });
      if (wrong.length > 0) throw new Error(`The site cannot be indexed: ${wrong.join('; ')}`);
    }
    const files = (await index.getFiles()).files.filter(({ path }) => !UNUSED.test(path));
    output.announce(files.map(({ path }) => `${INDEX}${path}`));
    for (const { path, content } of files) output.write(`${INDEX}${path}`, content);
  } finally {
    await close();
  }
}
