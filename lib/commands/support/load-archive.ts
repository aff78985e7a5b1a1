import { visible } from '../../files/problem-text.ts';
import { type LoadedSite, loadSite } from '../../site/archive.ts';
import { printProblems, summary } from './report.ts';

/** Without these there is nothing to build from, and nothing says what may be taken away. */
const STOPPING = new Set(['content-missing', 'tables-missing', 'link-outside']);

/** Reads and plans the content folder; null, with everything told, where nothing can be built from it. */
export async function loadArchive(contentDir: string): Promise<LoadedSite | null> {
  const site = await loadSite(contentDir);
  const none = site.content.entries.length === 0 && site.failed.length > 0;
  const stopped = site.problems.some(({ code, file }) => STOPPING.has(code) && !file.endsWith('.md'));
  if (!none && !stopped) return site;
  printProblems(site.problems);
  console.log(summary(site));
  console.log('Nothing could be built; what was built before stands as it was.');
  return null;
}

/** Prints what is wrong or doubtful and how many batches were left out; true where a file has an error. */
export function tellProblems(site: LoadedSite): boolean {
  printProblems(site.problems);
  console.log(summary(site));
  if (site.failed.length > 0) console.log(`Left out because of errors: ${visible(site.failed.join(', '))}`);
  return site.problems.some(({ severity }) => severity === 'error');
}
