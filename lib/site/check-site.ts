import { readdir, readFile } from 'node:fs/promises';
import { extname, join, relative } from 'node:path';
import type { Archive } from '../archive/archive.ts';
import {
  brokenLinks,
  foreignRequests,
  loosePolicy,
  missingDescription,
  type SiteFault,
} from './check-links.ts';
import { privateFigures, privateWords, secretsOf } from './check-private.ts';
import { ROOT, withSlashes } from './paths.ts';

const WITH_WORDS = new Set(['.html', '.json', '.xml', '.csv', '.ics', '.md', '.txt']);
/** Scripts that are the project's own; others hold data of the archive. */
const OWN_SCRIPTS = /^assets\//;

/** Files of the site that hold words of the brewer. */
const holdsWords = (path: string): boolean =>
  WITH_WORDS.has(extname(path)) || (path.endsWith('.js') && !OWN_SCRIPTS.test(path));
const VOCABULARY = ['templates', 'lib', 'shared'];
const VOCABULARY_FILES = new Set(['.njk', '.ts', '.js', '.yaml']);

async function filesBelow(folder: string): Promise<string[]> {
  const entries = await readdir(folder, { recursive: true, withFileTypes: true });
  return entries
    .filter((entry) => entry.isFile())
    .map((entry) => withSlashes(relative(folder, join(entry.parentPath, entry.name))))
    .sort();
}

/** Every word that the project itself may put on a page, and all of the brewer's files besides the batches. */
async function vocabulary(contentDir: string): Promise<string> {
  const own = await Promise.all(
    VOCABULARY.map(async (folder) => {
      const names = (await filesBelow(join(ROOT, folder))).filter((name) =>
        VOCABULARY_FILES.has(extname(name)),
      );
      return Promise.all(names.map((name) => readFile(join(ROOT, folder, name), 'utf8')));
    }),
  );
  const names = (await readdir(contentDir)).filter((name) => name.endsWith('.yaml'));
  const brewers = await Promise.all(names.map((name) => readFile(join(contentDir, name), 'utf8')));
  return [...own.flat(), ...brewers].join(' ');
}

export interface CheckedSite {
  readonly faults: readonly SiteFault[];
  readonly pages: number;
  readonly files: number;
}

/**
 * Looks over a built site: links that lead nowhere, pages without a description, anything that would be asked of others, and
 * words that the brewer keeps to themselves. Reads files only; nothing is asked of the network.
 */
export async function checkSite(siteDir: string, contentDir: string, archive: Archive): Promise<CheckedSite> {
  const paths = await filesBelow(siteDir);
  const texts = new Map<string, string>();
  for (const path of paths)
    if (holdsWords(path) || path.endsWith('.css'))
      texts.set(path, await readFile(join(siteDir, path), 'utf8'));
  const html = new Map([...texts].filter(([path]) => path.endsWith('.html')));
  const site = { paths: new Set(paths), html, url: archive.brewery.url };
  const secrets = secretsOf(archive, await vocabulary(contentDir));
  const faults: SiteFault[] = [];
  for (const [path, text] of texts) {
    if (path.endsWith('.html')) {
      faults.push(...brokenLinks(path, text, site), ...foreignRequests(path, text));
      faults.push(...loosePolicy(path, text), ...missingDescription(path, text));
      faults.push(...privateFigures(path, text, archive));
    } else if (path.endsWith('.css')) faults.push(...foreignRequests(path, text));
    if (holdsWords(path)) faults.push(...privateWords(path, text, secrets));
  }
  return { faults, pages: html.size, files: paths.length };
}
