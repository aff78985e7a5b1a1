import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { findBrowser } from '../paper/engine/find-browser.ts';
import type { LoadedSite } from '../site/archive.ts';
import { writeAssets } from '../site/assets.ts';
import { openOutput } from '../site/output.ts';
import { publish } from '../site/site.ts';
import { isOfBatch, mayStay } from '../site/stale.ts';
import type { Arguments } from './support/arguments.ts';
import { paperOf, tellNoBrowser } from './support/build-site.ts';
import { foldersOf } from './support/folders.ts';
import { loadArchive, tellProblems } from './support/load-archive.ts';
import { writePagedForms } from './support/paged-forms.ts';
import { printSheets } from './support/print-sheets.ts';
import { announcePrinted, openPrivate, writeSheetPages } from './support/private-files.ts';
import { progressOn } from './support/progress.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { sheetPlaces } from './support/sheet-places.ts';
import { AS_OF, CONTENT, type CommandSpec, OUTPUT, PAPER, PRIVATE_OUTPUT } from './support/spec.ts';
import { noBatch, UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'sheets',
  purpose: 'Prints the sheets of the batches named, or of all of them, to PDF.',
  words: '[slug …]',
  options: [CONTENT, OUTPUT, PRIVATE_OUTPUT, PAPER, AS_OF],
  more: ['A slug is the name of a batch file without .md.'],
};

await runCommand(SPEC, sheets);

async function sheets(args: Arguments): Promise<number> {
  const { content: contentDir, output: outputDir, privateOutput: privateDir } = foldersOf(args);
  const paper = paperOf(args);
  const progress = progressOn();
  progress.say('reading and planning');
  const site = await loadArchive(args);
  progress.end();
  if (site === null) return FAILED;
  const wanted = wantedSlugs(args.words, site);
  const { brewery, entries } = site.content;
  const all = entries.flatMap((entry) => sheetPlaces(entry, outputDir, privateDir));
  const places = all.filter(({ entry }) => wanted.has(entry.batch.slug));

  const published = publish(site.content);
  const slugs = (list: typeof entries) => list.map(({ batch }) => batch.slug);
  const shown = places.some((place) => place.published);
  const output = shown || existsSync(outputDir) ? openOutput(outputDir) : null;
  const own = openPrivate(privateDir, all);
  const browser = await findBrowser();
  const missing = 'missing' in browser;
  if (!missing) announcePrinted(places, output, own);
  const printed = new Set(places.flatMap(({ pdfPath, fieldsPath }) => [pdfPath, fieldsPath]));
  const isOld = (path: string) => missing && printed.has(path);
  const stays = mayStay(slugs(published.batches), slugs(published.recipes));
  await output?.removeOthers((path) => stays(path) && !isOld(join(outputDir, path)));
  const hidden = new Set(
    all
      .filter((place) => !place.published)
      .flatMap(({ htmlPath, pdfPath, folder }) => [
        htmlPath,
        pdfPath,
        join(folder, 'plan.json'),
        join(folder, 'fields.json'),
      ]),
  );
  await own?.removeOthers((path) => {
    const file = join(privateDir, path);
    return !isOld(file) && (hidden.has(file) || !isOfBatch(path));
  });
  if (output !== null && shown) await writeAssets(output);
  await writeSheetPages(places, brewery, output, own, paper);
  if (missing) {
    if (output !== null) await writePagedForms(site.content, contentDir, output);
    tellNoBrowser(browser);
    return FAILED;
  }
  const done = await printSheets({ contentDir, places, brewery, paper, browser, progress });
  if (output !== null) await writePagedForms(site.content, contentDir, output);
  for (const folder of new Set(places.map((place) => place.folder))) console.log(`  ${folder}`);
  const wrong = tellProblems(onlyAbout(site, wanted));
  return wrong || !done ? FAILED : FINE;
}

function wantedSlugs(words: readonly string[], site: LoadedSite): ReadonlySet<string> {
  const known = [...site.content.entries.map(({ batch }) => batch.slug), ...site.failed];
  const unknown = words.filter((word) => !known.includes(word));
  if (unknown.length > 0) throw new UsageError(unknown.map((word) => noBatch(word, known)).join('\n'));
  return new Set(words.length === 0 ? known : words);
}

/** What there is to say of these batches, and of the files that all batches share. */
function onlyAbout(site: LoadedSite, wanted: ReadonlySet<string>): LoadedSite {
  const slugOf = (file: string) => /(?:^|\/)batches\/([^/]+)\.md$/i.exec(file)?.[1];
  return {
    ...site,
    content: {
      ...site.content,
      entries: site.content.entries.filter(({ batch }) => wanted.has(batch.slug)),
    },
    failed: site.failed.filter((slug) => wanted.has(slug)),
    problems: site.problems.filter(
      ({ file }) => wanted.has(slugOf(file) ?? file) || slugOf(file) === undefined,
    ),
  };
}
