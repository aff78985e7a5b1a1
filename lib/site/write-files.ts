import { existsSync, mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { comparablePath } from './archive-pages.ts';
import type { Pages } from './pages.ts';
import { SHEET_FILES, safeSlug } from './paths.ts';
import type { SiteEntry } from './site.ts';

/**
 * Writes what needs nothing of the site generator, each file as soon as it is made: sheets, plans, data and the pages that lead
 * through the archive. The generator would hold all of them until the last is made, three quarters of the site.
 *
 * @param done entries whose sheets and plan lie there from an earlier round
 * @param texts what earlier rounds wrote by path: a file that would be the same is left alone; null where nothing is kept
 */
export function writeFiles(
  outputDir: string,
  pages: Pages,
  done: WeakSet<SiteEntry> = new WeakSet(),
  texts: Map<string, string> | null = null,
): void {
  const made = new Set<string>();
  const write = (path: string, text: string): void => {
    const file = join(outputDir, path);
    if (texts !== null) {
      if (texts.get(path) === text && existsSync(file)) return;
      texts.set(path, text);
    }
    const folder = dirname(file);
    if (!made.has(folder)) mkdirSync(folder, { recursive: true });
    made.add(folder);
    writeFileSync(file, text);
  };
  const shown = new Set(pages.batchSlugs);
  const there = new Set<string>();
  for (const slug of pages.recipeSlugs) {
    const entry = pages.site.bySlug.get(slug);
    if (entry === undefined) continue;
    if (done.has(entry)) {
      if (shown.has(slug)) there.add(comparablePath(slug));
      continue;
    }
    done.add(entry);
    const folder = `batches/${safeSlug(slug)}`;
    if (shown.has(slug)) write(`${folder}/plan.json`, pages.plan(slug));
    for (const file of SHEET_FILES)
      if (file === 'recipe-card' || shown.has(slug)) write(`${folder}/${file}.html`, pages.sheet(file, slug));
  }
  for (const path of pages.otherPaths) if (!there.has(path)) write(path, pages.other(path));
}
