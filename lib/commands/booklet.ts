import { existsSync } from 'node:fs';
import { rm } from 'node:fs/promises';
import { join } from 'node:path';
import { findBrowser } from '../paper/engine/find-browser.ts';
import { renderSheets } from '../paper/engine/render-sheets.ts';
import { writeAssets } from '../site/assets.ts';
import { bookletOf, renderBooklet } from '../site/booklet.ts';
import { createNunjucks } from '../site/nunjucks.ts';
import { openOutput } from '../site/output.ts';
import { cacheFolder } from '../site/paths.ts';
import type { Arguments } from './support/arguments.ts';
import { paperOf, tellNoBrowser } from './support/build-site.ts';
import { foldersOf } from './support/folders.ts';
import { loadArchive, tellProblems } from './support/load-archive.ts';
import { progressOn } from './support/progress.ts';
import { counted } from './support/report.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { AS_OF, CONTENT, type CommandSpec, OUTPUT, PAPER, PRIVATE_OUTPUT } from './support/spec.ts';

const SPEC: CommandSpec = {
  name: 'booklet',
  purpose: 'Prints the archive as a booklet: contents, a spread for each batch, indexes.',
  words: null,
  options: [
    CONTENT,
    OUTPUT,
    PRIVATE_OUTPUT,
    PAPER,
    AS_OF,
    { name: 'all', value: null, help: 'every batch, also those that are not published' },
  ],
  more: [
    'It is booklet.pdf in the output folder; with --all in the private one.',
    'Building the site takes an older booklet away: print it again afterwards.',
  ],
};

/** A page takes some 50 ms; an archive of a lifetime still has to fit. */
const LIMIT_MS = 30 * 60_000;

await runCommand(SPEC, booklet);

async function booklet(args: Arguments): Promise<number> {
  const { output, privateOutput } = foldersOf(args);
  const all = args.flag('all');
  const progress = progressOn();
  progress.say('reading and planning');
  const site = await loadArchive(args);
  progress.end();
  if (site === null) return FAILED;
  const folder = all ? privateOutput : output;
  const htmlPath = join(folder, 'booklet.html');
  const pdfPath = join(folder, 'booklet.pdf');
  const made = bookletOf(site.content, all, paperOf(args));
  if (made.batches.length === 0) {
    if (existsSync(folder)) await openOutput(folder).removeOthers((path) => !path.startsWith('booklet.'));
    console.log(all ? 'There is no batch yet.' : 'No batch is published; --all takes every one.');
    return tellProblems(site) ? FAILED : FINE;
  }
  const to = openOutput(folder);
  await writeAssets(to);
  to.announce(['booklet.html', 'booklet.pdf']);
  to.write('booklet.html', renderBooklet(createNunjucks(), made));
  const browser = await findBrowser();
  if ('missing' in browser) {
    await rm(pdfPath, { force: true });
    tellNoBrowser(browser);
    return FAILED;
  }
  progress.say(`laying out ${counted(made.batches.length, 'batch', 'batches')}`);
  const job = { id: 'booklet', htmlPath, pdfPath, paper: made.paper };
  const cacheDir = cacheFolder('sheets');
  const { results } = await renderSheets([job], { browser, cacheDir, timeout_ms: LIMIT_MS });
  progress.end();
  const [result] = results;
  const wrong = tellProblems(site);
  if (result === undefined || result.error !== undefined) {
    await rm(pdfPath, { force: true });
    console.log(`booklet  [${result?.error?.code}]`);
    console.log(`  found     ${result?.error?.found}\n  mend      ${result?.error?.mend}`);
    return FAILED;
  }
  for (const sentence of result.overflow) console.log(`booklet  [sheet-overflow]  ${sentence}`);
  console.log(`Booklet: ${counted(result.pages, 'page')} in ${pdfPath}`);
  return wrong ? FAILED : FINE;
}
