import { visible } from '../../archive/problem-text.ts';
import { type LoadedSite, loadSite, type SiteMemory } from '../../site/archive.ts';
import { commandLine } from '../../site/command-line.ts';
import { printProblems, summary } from './report.ts';

/** Without these there is nothing to build from, and nothing says what may be taken away. */
const STOPPING = new Set(['content-missing', 'tables-missing', 'link-outside', 'newer-format']);

/** Reads and plans the content folder; null, with everything told, where nothing can be built from it. */
export async function loadArchive(contentDir: string, memory?: SiteMemory): Promise<LoadedSite | null> {
  const site = await loadSite(contentDir, memory === undefined ? {} : { memory });
  const none = site.content.entries.length === 0 && site.failed.length > 0;
  const stopped = site.problems.some(({ code, file }) => STOPPING.has(code) && !file.endsWith('.md'));
  if (!none && !stopped) return site;
  printProblems(site.problems);
  console.log(summary(site));
  console.log('Nothing could be built; what was built before stands as it was.');
  return null;
}

/** Doubts that are told on every build, because somebody may get hurt, or something is left out. */
const LOUD = new Set(['bottle-danger', 'bottle-too-weak', 'picture-unusable']);

/**
 * Prints what is wrong, what may hurt somebody, and how many batches were left out; true where a file has an error.
 *
 * Other doubts are counted: said anew on every build, they would no longer be read.
 */
export function tellProblems(site: LoadedSite): boolean {
  const told = site.problems.filter(({ severity, code }) => severity === 'error' || LOUD.has(code));
  printProblems(told);
  console.log(summary(site));
  if (told.length < site.problems.length) {
    console.log(
      `${commandLine('check')} prints the other warnings; they stand on the pages and sheets as well.`,
    );
  }
  if (site.failed.length > 0) console.log(`Left out because of errors: ${visible(site.failed.join(', '))}`);
  return site.problems.some(({ severity }) => severity === 'error');
}
