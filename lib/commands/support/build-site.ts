import type { Brewery } from '../../batch/types/brewery.ts';
import { type FoundBrowser, findBrowser, type MissingBrowser } from '../../paper/engine/find-browser.ts';
import type { LoadedSite } from '../../site/archive.ts';
import { buildSite } from '../../site/build.ts';
import { openBuildCache } from '../../site/build-cache.ts';
import { type Output, openOutput } from '../../site/output.ts';
import type { Arguments } from './arguments.ts';
import { makePictures, picturePaths } from './draw-pictures.ts';
import { foldersOf } from './folders.ts';
import { loadArchive, tellProblems } from './load-archive.ts';
import { writePagedForms } from './paged-forms.ts';
import { printSheets } from './print-sheets.ts';
import { announcePrinted, openPrivate, writeSheetPages } from './private-files.ts';
import { type Progress, progressOn } from './progress.ts';
import { counted } from './report.ts';
import { FAILED, FINE } from './run-command.ts';
import { type SheetPlace, sheetPlaces } from './sheet-places.ts';

export const paperOf = (args: Arguments): Brewery['paper'] | undefined => {
  const paper = args.text('paper');
  return paper === 'a4' || paper === 'letter' ? paper : undefined;
};

/** Checks and builds the site; with sheets, the private pages and every PDF too. Gives the exit code. */
export async function buildAll(args: Arguments, withSheets: boolean): Promise<number> {
  const { content: contentDir, output: outputDir, privateOutput: privateDir } = foldersOf(args, withSheets);
  const progress = progressOn();
  progress.say('reading and planning');
  const cache = openBuildCache([contentDir, outputDir, withSheets ? privateDir : ''], {
    withPlans: withSheets,
  });
  const site = await loadArchive(args, cache.memory);
  progress.end();
  if (site === null) return FAILED;

  const paper = paperOf(args);
  const browser = withSheets ? await findBrowser() : null;
  const canPrint = browser !== null && !('missing' in browser);
  const output = openOutput(outputDir);
  const places = withSheets
    ? site.content.entries.flatMap((entry) => sheetPlaces(entry, outputDir, privateDir))
    : [];
  const own = withSheets ? openPrivate(privateDir, places) : null;
  const whole = cache.wholeKey(site, [paper, withSheets, browser]);
  if (cache.isWhole(whole, [output, own])) {
    const wrong = tellProblems(site);
    console.log(`Nothing has changed: ${counted(output.listed.size, 'file')} in ${outputDir} as they were`);
    return wrong ? FAILED : FINE;
  }
  if (canPrint) {
    announcePrinted(places, output, own);
    output.announce(picturePaths(site.content));
  }
  progress.say(`building the pages of ${counted(site.content.entries.length, 'batch', 'batches')}`);
  const built = await buildSite({
    contentDir,
    outputDir,
    output,
    cache,
    data: site,
    pdfs: canPrint,
    ...(paper === undefined ? {} : { paper }),
  });
  progress.end();

  const drawn =
    browser === null || 'missing' in browser || (await makePictures(site.content, outputDir, browser));
  const printed =
    browser === null ||
    (await makeSheets(site, { contentDir, places, output, own, paper, browser, progress }));
  await output.removeOthers();
  const good = printed && drawn;
  // Before anything is kept, so that what it works out of plans is kept with them.
  const wrong = tellProblems(site);
  const unkept = cache.keep(built.keys, [output, own], good ? whole : null);
  if (unkept !== null) console.log(`What was built cannot be kept for the next build: ${unkept}`);
  const { all, anew } = built.batches;
  console.log(`Rebuilt ${anew} of ${counted(all, 'batch', 'batches')}, and the pages that list them`);
  console.log(`Site: ${counted(built.pages.length, 'file')} in ${outputDir}`);
  return wrong || !good ? FAILED : FINE;
}

interface SheetOrder {
  readonly contentDir: string;
  readonly places: readonly SheetPlace[];
  readonly output: Output;
  readonly own: Output | null;
  readonly paper: Brewery['paper'] | undefined;
  readonly browser: FoundBrowser | MissingBrowser;
  readonly progress: Progress;
}

/** Writes the pages of private sheets, then every PDF; the pages of published sheets are there. True where all went well. */
async function makeSheets({ content }: LoadedSite, order: SheetOrder): Promise<boolean> {
  const { contentDir, places, output, own, paper, browser } = order;
  const { brewery } = content;
  const hidden = places.filter(({ published }) => !published);
  await writeSheetPages(hidden, brewery, output, own, paper);
  await own?.removeOthers();
  if ('missing' in browser) {
    if (places.length > 0) tellNoBrowser(browser);
    return places.length === 0;
  }
  const printed = await printSheets({ ...order, brewery, browser });
  await writePagedForms(content, contentDir, output);
  if (hidden.length > 0) console.log(`Sheets that are not published: ${own?.folder}`);
  return printed;
}

export function tellNoBrowser({ missing, mend }: MissingBrowser): void {
  console.log(`No PDFs were made. ${missing} ${mend}`);
  console.log('The sheets are there as pages all the same, and any browser prints them.\n');
}
