import { existsSync } from 'node:fs';
import { join } from 'node:path';
import { loadSite } from '../site/archive.ts';
import { checkSite } from '../site/check-site.ts';
import { tellDanger, todayOf } from './support/load-archive.ts';
import { counted, hasErrors, printProblems, summary } from './support/report.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { AS_OF, CONTENT, type CommandSpec, OUTPUT } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'check',
  purpose: 'Reads and plans every batch, and lists all that is wrong or doubtful in your files.',
  words: null,
  options: [
    CONTENT,
    { name: 'site', value: null, help: 'looks over the built site too, before you publish it' },
    { ...OUTPUT, help: 'folder of the built site, for --site' },
    AS_OF,
  ],
  more: [
    'Ends with exit code 1 where a file has an error; warnings alone do not fail.',
    'With --site it fails as well on a broken link, a page without a description, anything that the site would ask of',
    'others, and any word under private: or names a batch that is not published.',
  ],
};

/** One wrong link in a frame is on every page: who mends these has mended the rest. */
const MOST_SHOWN = 40;

await runCommand(SPEC, async (args) => {
  const contentDir = args.text('content') ?? '';
  const outputDir = args.text('output') ?? '';
  if (args.flag('site') && !existsSync(join(outputDir, 'index.html'))) {
    throw new UsageError(`There is no site in ${outputDir}: build it first.`);
  }
  const site = await loadSite(contentDir, { today: todayOf(args) });
  printProblems(site.problems);
  tellDanger(site);
  console.log(summary(site));
  const wrong = hasErrors(site.problems);
  if (!args.flag('site')) return wrong ? FAILED : FINE;

  const { faults, pages, files } = await checkSite(outputDir, contentDir, site.archive);
  for (const { file, code, found, expected, mend } of faults.slice(0, MOST_SHOWN)) {
    console.log(`\n${outputDir}/${file}  [${code}]`);
    console.log(`  found     ${found}\n  expected  ${expected}\n  mend      ${mend}`);
  }
  if (faults.length > MOST_SHOWN) console.log(`\n… and ${faults.length - MOST_SHOWN} more`);
  const verdict = faults.length === 0 ? 'fit to publish' : counted(faults.length, 'fault', 'faults');
  console.log(`Site: ${counted(pages, 'page', 'pages')} in ${counted(files, 'file', 'files')}, ${verdict}`);
  return wrong || faults.length > 0 ? FAILED : FINE;
});
