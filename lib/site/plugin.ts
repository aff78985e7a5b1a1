import type { Environment } from 'nunjucks';
import { formatProblem } from '../files/problem-text.ts';
import { loadSite } from './archive.ts';
import { writeAssets } from './assets.ts';
import { previewMiddleware } from './key-in/middleware.ts';
import { createMarkdown } from './markdown.ts';
import { createNunjucks } from './nunjucks.ts';
import { removeOldFeeds } from './other-files.ts';
import { createPages, type Pages, type PagesOptions } from './pages.ts';
import { withSlashes } from './paths.ts';
import { createPlanner, type Planner, planAnew } from './plan-memo.ts';
import { writeScripts } from './scripts.ts';
import type { SiteEntry } from './site.ts';
import { removeOldWays, removeStale } from './stale.ts';
import { sourceStamp } from './stamp.ts';
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
  addJavaScriptFunction(name: string, render: (...args: readonly string[]) => string): void;
  addTransform(name: string, transform: (content: string) => string | Buffer): void;
  addWatchTarget(glob: string, options?: { readonly resetConfig: boolean }): void;
  on(event: 'eleventy.before', listener: (event: BeforeEvent) => Promise<void>): void;
}

/** What is kept from one round to the next while files are edited. */
interface Kept {
  readonly plan: Planner;
  stamp: string | null;
  environment: Environment;
  written: WeakSet<SiteEntry>;
  /** Texts of files by path; null where there is one round only. */
  readonly texts: Map<string, string> | null;
}

/** Reads and plans the archive; what is wrong with it is told, and the rest of it is built. */
async function read(options: PluginOptions, runMode: BeforeEvent['runMode'], kept: Kept): Promise<Pages> {
  const { content, problems, failed } = await loadSite(options.contentDir ?? 'content', { plan: kept.plan });
  for (const problem of problems) console.error(formatProblem(problem));
  if (failed.length > 0 && runMode === 'build') process.exitCode = 1;
  const { environment } = kept;
  return createPages(content, { ...options, environment, preview: runMode === 'serve' });
}

/**
 * Gives Eleventy the archive: the slugs to paginate over and one synchronous function per kind of page.
 *
 * The brewer's files are data and never templates: nothing in them is ever run.
 */
export default function kettleside(config: EleventyConfig, options: PluginOptions = {}): void {
  let current: Pages | null = null;
  let kept: Kept | null = null;
  // The server sends a page that changed to the browser, as text.
  let served = false;
  const pages = (): Pages => {
    if (current === null) throw new Error('A page was asked for before the archive was read.');
    return current;
  };

  config.setQuietMode(true);
  config.setLibrary('md', createMarkdown());
  config.setServerOptions({ middleware: previewMiddleware(options.contentDir ?? 'content'), port: 8080 });
  config.on('eleventy.before', async ({ directories, runMode }) => {
    config.benchmarks.config.setIsVerbose(false);
    served = runMode !== 'build';
    const stamp = await sourceStamp();
    const fresh = kept === null || kept.stamp !== stamp;
    if (kept === null || fresh)
      kept = {
        plan: kept?.plan ?? (runMode === 'build' ? planAnew : createPlanner()),
        stamp,
        environment: createNunjucks(),
        written: new WeakSet(),
        texts: runMode === 'build' ? null : new Map(),
      };
    current = options.pages ?? (await read(options, runMode, kept));
    config.setLibrary('njk', current.environment);
    const { output } = directories;
    await removeStale(output, current.batchSlugs, current.recipeSlugs);
    await removeOldFeeds(output, current.otherPaths);
    await removeOldWays(output, current.otherPaths);
    if (fresh) {
      await writeAssets(output);
      await writeScripts(output, current);
    }
    writeFiles(output, current, kept.written, kept.texts);
  });
  config.addGlobalData('batchSlugs', () => pages().batchSlugs);
  config.addGlobalData('recipeSlugs', () => pages().recipeSlugs);

  // A template names its page, and the page is made at the last step. All pages are held until the last is written: as bytes
  // they take half the room of a string, and none of it where the garbage collector looks.
  const makers = new Map<string, (key: string) => string>();
  const page = (name: string, make: (key: string) => string): void => {
    makers.set(name, make);
    config.addJavaScriptFunction(name, (key = '') => JSON.stringify([name, key]));
  };
  config.addTransform('page', (named) => {
    const [name = '', key = ''] = JSON.parse(named) as string[];
    const html = makers.get(name)?.(key) ?? '';
    return served ? html : Buffer.from(html);
  });
  page('listPage', () => pages().list());
  page('aboutPage', () => pages().about());
  page('kitPage', () => pages().kit());
  page('dataPage', () => pages().data());
  page('missingPage', () => pages().missing());
  page('batchPage', (slug) => pages().batch(slug));
  page('recipePage', (slug) => pages().recipe(slug));

  config.addWatchTarget(`${withSlashes(options.contentDir ?? 'content')}/**/*.{md,yaml,yml}`);
  config.addWatchTarget('templates/**/*');
  config.addWatchTarget('shared/**/*.yaml');
  config.addWatchTarget('lib/**/*.ts', { resetConfig: true });
}
