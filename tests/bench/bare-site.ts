/** The comparator of the site's build: the same pages by the same libraries, rendered and written in a plain loop. */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { writeAssets } from '../../lib/site/assets.ts';
import { createPages, type Pages, pagePaths } from '../../lib/site/pages.ts';
import { SHEET_FILES } from '../../lib/site/paths.ts';
import { writeScripts } from '../../lib/site/scripts.ts';
import { writeSearchIndex } from '../../lib/site/search-index.ts';
import type { SiteContent } from '../../lib/site/site.ts';
import { DATA_PATH } from '../../lib/site/views/data-view.ts';
import { KIT_PATH } from '../../lib/site/views/kit-view.ts';

function render(pages: Pages, path: string, others: ReadonlySet<string>): string {
  if (path === 'index.html') return pages.list();
  if (path === 'about/index.html') return pages.about();
  if (path === '404.html') return pages.missing();
  if (path === KIT_PATH) return pages.kit();
  if (path === DATA_PATH) return pages.data();
  if (others.has(path)) return pages.other(path);
  const [folder, slug = '', file = ''] = path.split('/');
  if (folder === 'recipes') return pages.recipe(slug);
  if (file === 'index.html') return pages.batch(slug);
  if (file === 'plan.json') return pages.plan(slug);
  const sheet = SHEET_FILES.find((name) => file === `${name}.html`);
  if (sheet === undefined) throw new Error(`No page has the path ${path}.`);
  return pages.sheet(sheet, slug);
}

/** Renders and writes the whole site of plans that are ready; gives the number of pages. */
export async function buildBare(
  content: SiteContent,
  outputDir: string,
  wanted: (path: string) => boolean = () => true,
): Promise<number> {
  const pages = createPages(content);
  await mkdir(outputDir, { recursive: true });
  await writeAssets(outputDir);
  await writeScripts(outputDir, pages);
  const paths = pagePaths(pages).filter(wanted);
  const others = new Set(pages.otherPaths);
  for (const path of paths) {
    const file = join(outputDir, path);
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, render(pages, path, others));
  }
  await writeSearchIndex(outputDir, pages.site.brewery.language);
  return paths.length;
}
