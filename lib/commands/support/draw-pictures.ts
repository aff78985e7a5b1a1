import { readFile } from 'node:fs/promises';
import { join } from 'node:path';
import { drawPictures } from '../../paper/engine/draw-pictures.ts';
import type { FoundBrowser } from '../../paper/engine/find-browser.ts';
import { PICTURE_SIZE } from '../../site/feeds/open-graph.ts';
import { pictureHtml, picturePath } from '../../site/feeds/picture.ts';
import { cacheFolder } from '../../site/paths.ts';
import { publish, type SiteContent } from '../../site/site.ts';

const CACHE = cacheFolder('pictures');

/** Where the pictures go, below the top folder; none where the site has no address. */
export function picturePaths(content: SiteContent): readonly string[] {
  const { brewery, recipes } = publish(content);
  return brewery.url === null ? [] : recipes.map(({ batch }) => picturePath(batch.slug));
}

/** Draws the pictures that links show, where the site has an address; true where every one was drawn. */
export async function makePictures(
  content: SiteContent,
  outputDir: string,
  browser: FoundBrowser,
): Promise<boolean> {
  const { brewery, recipes } = publish(content);
  if (brewery.url === null || recipes.length === 0) return true;
  const font = async (weight: number): Promise<string> => {
    const name = `atkinson-hyperlegible-next-latin-${weight}-normal.woff2`;
    const bytes = await readFile(join(outputDir, 'assets', 'fonts', name));
    return `data:font/woff2;base64,${bytes.toString('base64')}`;
  };
  const fonts = { regular: await font(400), bold: await font(700) };
  const of = { siteName: brewery.name, units: brewery.units, fonts };
  const jobs = recipes.map((entry) => ({
    id: entry.batch.slug,
    html: pictureHtml(entry, of),
    path: join(outputDir, picturePath(entry.batch.slug)),
  }));
  const faults = await drawPictures(jobs, { browser, size: PICTURE_SIZE, cacheDir: CACHE });
  for (const fault of faults) console.log(`The picture of ${fault}`);
  return faults.length === 0;
}
