/** The comparator of the site's build: the same pages by the same libraries, rendered and written in a plain loop. */
import { mkdir, writeFile } from 'node:fs/promises';
import { dirname, join } from 'node:path';
import { writeAssetFiles } from '../../../lib/site/assets.ts';
import { openOutput } from '../../../lib/site/output.ts';
import { createPages, pagePaths } from '../../../lib/site/pages.ts';
import { siteAssets } from '../../../lib/site/scripts.ts';
import type { SiteContent } from '../../../lib/site/site.ts';

/** Renders and writes the whole site of plans that are ready; gives the number of pages. */
export async function buildBare(
  content: SiteContent,
  outputDir: string,
  wanted: (path: string) => boolean = () => true,
): Promise<number> {
  const pages = createPages(content);
  const output = openOutput(outputDir);
  await writeAssetFiles(output, siteAssets(pages));
  const paths = pagePaths(pages).filter(wanted);
  for (const path of paths) {
    const file = join(outputDir, path);
    await mkdir(dirname(file), { recursive: true });
    await writeFile(file, pages.file(path));
  }
  return paths.length;
}
