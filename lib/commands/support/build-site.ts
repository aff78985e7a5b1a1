import type { Brewery } from '../../batch/types/brewery.ts';
import { type FoundBrowser, findBrowser, type MissingBrowser } from '../../paper/engine/find-browser.ts';
import type { LoadedSite } from '../../site/archive.ts';
import { buildSite } from '../../site/build.ts';
import type { Arguments } from './arguments.ts';
import { makePictures } from './draw-pictures.ts';
import { checkFolders, claim } from './folders.ts';
import { loadArchive, tellProblems } from './load-archive.ts';
import { writePagedForms } from './paged-forms.ts';
import { printSheets } from './print-sheets.ts';
import { removePdfs, removePrinted, removeStalePrivate, writeSheetPages } from './private-files.ts';
import { type Progress, progressOn } from './progress.ts';
import { counted } from './report.ts';
import { FAILED, FINE } from './run-command.ts';
import { sheetPlaces } from './sheet-places.ts';

export const paperOf = (args: Arguments): Brewery['paper'] | undefined => {
  const paper = args.text('paper');
  return paper === 'a4' || paper === 'letter' ? paper : undefined;
};

/** Checks and builds the site; with sheets, the private pages and every PDF too. Gives the exit code. */
export async function buildAll(args: Arguments, withSheets: boolean): Promise<number> {
  const contentDir = args.text('content') ?? '';
  const outputDir = args.text('output') ?? '';
  const privateDir = args.text('private-output') ?? '';
  checkFolders({
    content: contentDir,
    output: outputDir,
    ...(withSheets ? { privateOutput: privateDir } : {}),
  });
  const progress = progressOn();
  progress.say('reading and planning');
  const site = await loadArchive(args);
  progress.end();
  if (site === null) return FAILED;

  const paper = paperOf(args);
  const browser = withSheets ? await findBrowser() : null;
  const canPrint = browser !== null && !('missing' in browser);
  await claim(outputDir);
  progress.say(`building the pages of ${counted(site.content.entries.length, 'batch', 'batches')}`);
  const built = await buildSite({
    contentDir,
    outputDir,
    data: site,
    pdfs: canPrint,
    ...(paper === undefined ? {} : { paper }),
  });
  if (!withSheets) await removePrinted(outputDir);
  progress.end();

  const drawn =
    browser === null || 'missing' in browser || (await makePictures(site.content, outputDir, browser));
  const printed =
    browser === null || (await makeSheets(site, { outputDir, privateDir, paper, browser, progress }));
  const wrong = tellProblems(site);
  console.log(`Site: ${counted(built.pages.length, 'file')} in ${outputDir}`);
  return wrong || !printed || !drawn ? FAILED : FINE;
}

interface SheetOrder {
  readonly outputDir: string;
  readonly privateDir: string;
  readonly paper: Brewery['paper'] | undefined;
  readonly browser: FoundBrowser | MissingBrowser;
  readonly progress: Progress;
}

/** Writes the pages of private sheets, then every PDF; the pages of published sheets are there. True where all went well. */
async function makeSheets({ content }: LoadedSite, order: SheetOrder): Promise<boolean> {
  const { outputDir, privateDir, paper, browser } = order;
  const { brewery, entries } = content;
  const places = entries.flatMap((entry) => sheetPlaces(entry, outputDir, privateDir));
  const own = places.filter(({ published }) => !published);
  await removeStalePrivate(privateDir, places);
  await writeSheetPages(own, brewery, privateDir, paper);
  if ('missing' in browser) {
    await removePdfs(places, outputDir, privateDir);
    if (places.length > 0) tellNoBrowser(browser);
    return places.length === 0;
  }
  const printed = await printSheets({ ...order, places, brewery, browser });
  await writePagedForms(content, outputDir);
  if (own.length > 0) console.log(`Sheets that are not published: ${privateDir}`);
  return printed;
}

export function tellNoBrowser({ missing }: MissingBrowser): void {
  console.log(`No PDFs were made. ${missing}`);
  console.log('The sheets are there as pages all the same, and any browser prints them.\n');
}
