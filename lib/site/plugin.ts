import { relative } from 'node:path';
import type { Environment } from 'nunjucks';
import { formatProblem } from '../archive/problem-text.ts';
import { createSiteMemory, loadSite, type SiteMemory } from './archive.ts';
import { type AssetFiles, type AssetMaker, assetFiles, writeAssetFiles } from './assets.ts';
import { createMarkdown } from './markdown.ts';
import { createNunjucks } from './nunjucks.ts';
import { type Output, openOutput } from './output.ts';
import { createPages, type Pages, type PagesOptions, pagePaths } from './pages.ts';
import { batchPath, contentGlob, PAGES, ROOT, recipePath, withSlashes } from './paths.ts';
import { pictureFiles } from './pictures.ts';
import { previewMiddleware } from './preview/middleware.ts';
import type { Shown } from './preview/preview.ts';
import { running } from './preview/running.ts';
import { frameFiles, scriptFiles, siteAssets } from './scripts.ts';
import { sourceStamp } from './stamp.ts';
import { dayOf } from './today.ts';

export interface PluginOptions extends PagesOptions {
  /** The brewer's folder; read when no pages are handed in. */
  readonly contentDir?: string;
  /** Pages of an archive that somebody has read and planned already. */
  readonly pages?: Pages;
  /** Where the pages go, whole; without it the site generator writes them itself. */
  readonly output?: Output;
  /** Tells files that are there as they should be. */
  readonly isDone?: (path: string) => boolean;
}

interface BeforeEvent {
  readonly directories: { readonly output: string };
  readonly runMode: 'build' | 'serve' | 'watch';
}

/** The part of Eleventy's configuration that the plugin speaks to. */
export interface EleventyConfig {
  readonly ignores: Set<string>;
  setLibrary(name: string, library: unknown): void;
  readonly benchmarks: { readonly config: { setIsVerbose(verbose: boolean): void } };
  setUseGitIgnore(use: boolean): void;
  setQuietMode(quiet: boolean): void;
  setServerOptions(options: object): void;
  addGlobalData(name: string, value: () => readonly string[]): void;
  addJavaScriptFunction(name: string, render: (path: string) => string): void;
  addPreprocessor(name: string, formats: string, keep: () => false | undefined): void;
  addTransform(name: string, transform: (content: string) => Buffer): void;
  addWatchTarget(glob: string, options?: { readonly resetConfig: boolean }): void;
  on(event: 'eleventy.before', listener: (event: BeforeEvent) => Promise<void>): void;
}

/** What a preview keeps from one build to the next, and what of it is made again where the project's own files change. */
interface Kept {
  readonly memory: SiteMemory;
  /** Problems that were shown in the last round. */
  readonly told: Set<string>;
  readonly stamp: string;
  readonly environment: Environment;
  readonly assets: AssetFiles;
}

/** Reads and plans the archive; what is wrong with it is said, and the rest of it is shown. */
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

/**
 * Writes what needs nothing of the site generator, each file as soon as it is made: sheets, plans, data and the pages that lead
 * through the archive. The generator would hold all of them until the last is made.
 */
export async function writeOthers(
  output: Output,
  pages: Pages,
  isDone: (path: string) => boolean,
): Promise<void> {
  const assets = siteAssets(pages);
  output.announce([...pagePaths(pages), ...assets.keys()]);
  // Before anything else, so that what was withdrawn is gone whatever happens.
  await output.removeOthers();
  await writeAssetFiles(output, assets, isDone);
  for (const path of pages.others) if (!isDone(path)) output.write(path, pages.made(path));
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
  const isDone = options.isDone ?? (() => false);
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
    assets: new Map([
      ...(kept?.assets ?? []),
      ...frameFiles(pages()),
      ...pictureFiles(pages().site.photographs),
    ]),
  });

  // An installed program lies where the generator would not look: what is to be ignored, no page of ours is.
  config.ignores.delete('**/node_modules/**');
  config.setUseGitIgnore(false);
  // Looking on needs no page template, and the generator would load each again at every change and never let go of it.
  if (running() !== null) config.ignores.add(`${withSlashes(relative(process.cwd(), PAGES))}/**`);
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
      await writeOthers(options.output ?? openOutput(directories.output), current, isDone);
    } else {
      kept = await renewed(kept);
      current = await read(options, kept);
    }
    config.setLibrary('njk', current.environment);
  });
  const toMake = (slugs: readonly string[], path: (slug: string) => string) =>
    slugs.filter((slug) => !isDone(path(slug)));
  config.addGlobalData('batchSlugs', () => toMake(pages().batchSlugs, batchPath));
  config.addGlobalData('recipeSlugs', () => toMake(pages().recipeSlugs, recipePath));

  config.addPreprocessor('made on demand', '*', () => (kept === null ? undefined : false));
  // A template names its page, and the page is made at the last step. The generator holds all that it is to write until the last
  // is made, and writes over what is there: where a folder was opened for the pages, each goes there at once.
  config.addJavaScriptFunction('made', (path) => path);
  config.addTransform('made', (path) => {
    const made = pages().file(path);
    options.output?.write(path, made);
    return Buffer.from(options.output === undefined ? made : '');
  });

  config.addWatchTarget(contentGlob(options.contentDir ?? 'content'));
  const own = withSlashes(relative(process.cwd(), ROOT)) || '.';
  config.addWatchTarget(`${own}/templates/**/*`);
  config.addWatchTarget(`${own}/shared/**/*.yaml`);
  config.addWatchTarget(`${own}/lib/**/*.ts`, { resetConfig: true });
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
