import type { Environment } from 'nunjucks';
import { formatProblem } from '../archive/problem-text.ts';
import { createSiteMemory, loadSite, type SiteMemory } from './archive.ts';
import { type AssetFiles, type AssetMaker, assetFiles, writeAssets } from './assets.ts';
import { createMarkdown } from './markdown.ts';
import { createNunjucks } from './nunjucks.ts';
import { removeOldFeeds } from './other-files.ts';
import { createPages, type Pages, type PagesOptions } from './pages.ts';
import { contentGlob } from './paths.ts';
import { previewMiddleware } from './preview/middleware.ts';
import type { Shown } from './preview/preview.ts';
import { frameFiles, scriptFiles, writeScripts } from './scripts.ts';
import { removeOldWays, removeStale } from './stale.ts';
import { sourceStamp } from './stamp.ts';
import { dayOf } from './today.ts';
import { writeFiles } from './write-files.ts';

export interface PluginOptions extends PagesOptions {
  /** The brewer's folder; read when no pages are handed in. */
  readonly contentDir?: string;
  /** Pages of an archive that somebody has read and planned already. */
  readonly pages?: Pages;
}

interface BeforeEvent {
  readonly directories: { readonly output: string };
  readonly runMode: 'build' | 'serve' | 'watch';
}

/** The part of Eleventy's configuration that the plugin speaks to. */
export interface EleventyConfig {
  setLibrary(name: string, library: unknown): void;
  readonly benchmarks: { readonly config: { setIsVerbose(verbose: boolean): void } };
  setQuietMode(quiet: boolean): void;
  setServerOptions(options: object): void;
  addGlobalData(name: string, value: () => readonly string[]): void;
  addJavaScriptFunction(name: string, render: (path: string) => string): void;
  addPreprocessor(name: string, formats: string, keep: () => false | undefined): void;
  addTransform(name: string, transform: (content: string) => Buffer): void;
  addWatchTarget(glob: string, options?: { readonly resetConfig: boolean }): void;
  on(event: 'eleventy.before', listener: (event: BeforeEvent) => Promise<void>): void;
}

/** What looking on keeps from one round to the next, and what of it is made anew where the project's own files change. */
interface Kept {
  readonly memory: SiteMemory;
  /** Problems that were told in the last round. */
  readonly told: Set<string>;
  readonly stamp: string;
  readonly environment: Environment;
  readonly assets: AssetFiles;
}

/** Reads and plans the archive; what is wrong with it is told, and the rest of it is shown. */
async function read(options: PluginOptions, kept: Kept | null): Promise<Pages> {
  const { content, problems, failed } = await loadSite(options.contentDir ?? 'content', {
    today: dayOf(undefined),
    ...(kept === null ? {} : { memory: kept.memory }),
  });
  tell(problems.map(formatProblem), kept?.told ?? new Set());
  if (kept !== null) console.log(`${content.entries.length} batches read and planned.`);
  if (failed.length > 0 && kept === null) process.exitCode = 1;
  return createPages(content, {
    ...options,
    ...(kept === null ? {} : { environment: kept.environment, preview: true }),
  });
}

/** Says what was not said in the round before: somebody who mends one line wants to see what became of that. */
function tell(found: readonly string[], told: Set<string>): void {
  for (const problem of found) if (!told.has(problem)) console.error(problem);
  told.clear();
  for (const problem of found) told.add(problem);
}

async function write(output: string, pages: Pages): Promise<void> {
  await removeStale(output, pages.batchSlugs, pages.recipeSlugs);
  await removeOldFeeds(output, pages.others);
  await removeOldWays(output, pages.others);
  await writeAssets(output);
  await writeScripts(output, pages);
  writeFiles(output, pages);
}

/**
 * Gives Eleventy the archive: the slugs to paginate over and one synchronous function that makes a page. While somebody looks on,
 * it watches and serves, and nothing is written: pages are made when they are asked for.
 *
 * The brewer's files are data and never templates: nothing in them is ever run.
 */
export default function kettleside(config: EleventyConfig, options: PluginOptions = {}): void {
  let current: Pages | null = null;
  let kept: Kept | null = null;
  const pages = (): Pages => {
    if (current === null) throw new Error('A page was asked for before the archive was read.');
    return current;
  };
  const keptOf = () => {
    if (kept === null) throw new Error('A form was asked for before the archive was read.');
    return { environment: kept.environment, reads: kept.memory.reads };
  };
  const shown = (): Shown => ({
    pages: pages(),
    assets: new Map([...(kept?.assets ?? []), ...frameFiles(pages())]),
  });

  config.setQuietMode(true);
  config.setLibrary('md', createMarkdown());
  config.setServerOptions({
    middleware: previewMiddleware(options.contentDir ?? 'content', shown, keptOf),
    port: 8080,
  });
  config.on('eleventy.before', async ({ directories, runMode }) => {
    config.benchmarks.config.setIsVerbose(false);
    if (runMode === 'build') {
      current = options.pages ?? (await read(options, null));
      await write(directories.output, current);
    } else {
      kept = await renewed(kept);
      current = await read(options, kept);
    }
    config.setLibrary('njk', current.environment);
  });
  config.addGlobalData('batchSlugs', () => pages().batchSlugs);
  config.addGlobalData('recipeSlugs', () => pages().recipeSlugs);

  config.addPreprocessor('made on demand', '*', () => (kept === null ? undefined : false));
  // A template names its page, and the page is made at the last step. All pages are held until the last is written: as bytes
  // they take half the room of a string, and none of it where the garbage collector looks.
  config.addJavaScriptFunction('made', (path) => path);
  config.addTransform('made', (path) => Buffer.from(pages().file(path)));

  config.addWatchTarget(contentGlob(options.contentDir ?? 'content'));
  config.addWatchTarget('templates/**/*');
  config.addWatchTarget('shared/**/*.yaml');
  config.addWatchTarget('lib/**/*.ts', { resetConfig: true });
}

/** What is kept, with templates and assets as they are now. */
async function renewed(kept: Kept | null): Promise<Kept> {
  const stamp = await sourceStamp();
  if (kept?.stamp === stamp) return kept;
  let environment: Environment;
  try {
    environment = createNunjucks();
  } catch (error) {
    if (kept === null) throw error;
    // The brewer's files are followed all the same; the template is tried again in the next round.
    console.error(error instanceof Error ? error.message : error);
    return kept;
  }
  return {
    memory: kept?.memory ?? createSiteMemory(),
    told: kept?.told ?? new Set(),
    stamp,
    environment,
    assets: madeOnce(new Map([...assetFiles(), ...scriptFiles()])),
  };
}

/** The same files, each made at its first asking and then kept. */
function madeOnce(files: AssetFiles): AssetFiles {
  const made = new Map<string, ReturnType<AssetMaker>>();
  return new Map(
    [...files].map(([path, make]): readonly [string, AssetMaker] => [
      path,
      () => {
        const known = made.get(path) ?? make();
        made.set(path, known);
        return known;
      },
    ]),
  );
}
