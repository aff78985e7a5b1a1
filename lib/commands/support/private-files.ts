import { existsSync } from 'node:fs';
import { join } from 'node:path';
import type { Brewery } from '../../batch/types/brewery.ts';
import { writeAssets } from '../../site/assets.ts';
import { createNunjucks } from '../../site/nunjucks.ts';
import { type Output, openOutput } from '../../site/output.ts';
import { planJson } from '../../site/plan-json.ts';
import { renderSheetHtml } from '../../site/sheets.ts';
import type { SiteEntry } from '../../site/site.ts';
import type { SheetPlace } from './sheet-places.ts';

/** From a batch's folder to the assets beside it. */
const PRIVATE_ASSETS = '../assets';

/** The folder of what is not published; null where there is nothing for it and nothing in it. */
export function openPrivate(privateDir: string, places: readonly SheetPlace[]): Output | null {
  const wanted = places.some(({ published }) => !published);
  return wanted || existsSync(privateDir) ? openOutput(privateDir) : null;
}

/** Lists what is printed of these places, so that it may be there. */
export function announcePrinted(
  places: readonly SheetPlace[],
  site: Output | null,
  own: Output | null,
): void {
  const pdfs = (published: boolean) =>
    places.filter((place) => place.published === published).map(({ pdfPath }) => pdfPath);
  const fields = (published: boolean) =>
    places
      .filter(({ entry }) => (entry.batch.publish === 'all') === published)
      .map(({ fieldsPath }) => fieldsPath);
  site?.announce([...pdfs(true), ...fields(true)].map(site.pathOf));
  own?.announce([...pdfs(false), ...fields(false)].map(own.pathOf));
}

/**
 * Writes sheets as pages, with the plans of unpublished batches and the assets that pages need. For sheets on the site
 * the assets are taken to be there.
 */
export async function writeSheetPages(
  places: readonly SheetPlace[],
  brewery: Brewery,
  site: Output | null,
  own: Output | null,
  paper: Brewery['paper'] | undefined,
): Promise<void> {
  const environment = createNunjucks();
  if (own !== null && places.some(({ published }) => !published)) await writeAssets(own);
  const planned = new Set<SiteEntry>();
  for (const { entry, file, published, folder, htmlPath } of places) {
    const output = published ? site : own;
    const html = renderSheetHtml(environment, file, entry, brewery, {
      ...(published ? {} : { assets: PRIVATE_ASSETS }),
      ...(paper === undefined ? {} : { paper }),
    });
    output?.write(output.pathOf(htmlPath), html);
    if (published || planned.has(entry)) continue;
    planned.add(entry);
    output?.write(output.pathOf(join(folder, 'plan.json')), planJson(entry.plan, brewery));
  }
}
