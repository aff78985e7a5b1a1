import { readdir, rm, rmdir } from 'node:fs/promises';
import { join } from 'node:path';
import { writeAtomic } from '../../archive/write/atomic-write.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import { writeAssets } from '../../site/assets.ts';
import { createNunjucks } from '../../site/nunjucks.ts';
import { SHEET_FILES } from '../../site/paths.ts';
import { planJson } from '../../site/plan-json.ts';
import { renderSheetHtml } from '../../site/sheets.ts';
import type { SiteEntry } from '../../site/site.ts';
import { sweep } from '../../site/stale.ts';
import { claim } from './folders.ts';
import { ownFolder, type SheetPlace } from './sheet-places.ts';

/** From a batch's folder to the assets beside it. */
const PRIVATE_ASSETS = '../assets';

/**
 * Writes sheets as pages, with the plans of unpublished batches and the assets that pages need. For sheets on the site
 * the assets are taken to be there.
 */
export async function writeSheetPages(
  places: readonly SheetPlace[],
  brewery: Brewery,
  privateDir: string,
  paper: Brewery['paper'] | undefined,
): Promise<void> {
  const environment = createNunjucks();
  if (places.some(({ published }) => !published)) {
    await claim(privateDir);
    await writeAssets(privateDir);
  }
  const planned = new Set<SiteEntry>();
  for (const { entry, file, published, folder, htmlPath } of places) {
    const html = renderSheetHtml(environment, file, entry, brewery, {
      ...(published ? {} : { assets: PRIVATE_ASSETS }),
      ...(paper === undefined ? {} : { paper }),
    });
    await writeAtomic(htmlPath, html);
    if (published || planned.has(entry)) continue;
    planned.add(entry);
    await writeAtomic(join(folder, 'plan.json'), planJson(entry.plan, brewery.units));
  }
}

const SHEET_NAMES = SHEET_FILES.flatMap((file) => [`${file}.html`, `${file}.pdf`]);
const OWN_NAMES = [...SHEET_NAMES, 'plan.json', 'fields.json'];

/** Takes away what an earlier run left in the private folder of batches that are gone or have been published since. */
export async function removeStalePrivate(privateDir: string, places: readonly SheetPlace[]): Promise<void> {
  const kept = new Map<string, Set<string>>();
  for (const { folder, file, published } of places) {
    if (published) continue;
    const names = kept.get(folder) ?? new Set(['plan.json', 'fields.json']);
    kept.set(folder, names.add(`${file}.html`).add(`${file}.pdf`));
  }
  const found = await readdir(privateDir, { withFileTypes: true }).catch(() => []);
  for (const { name } of found.filter((each) => each.isDirectory())) {
    const folder = join(privateDir, name);
    await sweep(folder);
    for (const own of OWN_NAMES)
      if (!kept.get(folder)?.has(own)) await rm(join(folder, own), { force: true });
    if (!kept.has(folder)) await rmdir(folder).catch(() => undefined);
  }
}

/** Takes printed sheets away from a site whose pages do not speak of them. */
export async function removePrinted(outputDir: string): Promise<void> {
  const batches = join(outputDir, 'batches');
  const found = await readdir(batches, { withFileTypes: true }).catch(() => []);
  for (const { name } of found.filter((each) => each.isDirectory())) {
    for (const file of SHEET_FILES) await rm(join(batches, name, `${file}.pdf`), { force: true });
    await rm(join(batches, name, 'fields.json'), { force: true });
  }
}

/** Takes away what was printed earlier of sheets whose pages are new: an older PDF would say something else. */
export async function removePdfs(
  places: readonly SheetPlace[],
  outputDir: string,
  privateDir: string,
): Promise<void> {
  for (const { entry, pdfPath } of places) {
    await rm(pdfPath, { force: true });
    await rm(join(ownFolder(entry, outputDir, privateDir), 'fields.json'), { force: true });
  }
}
