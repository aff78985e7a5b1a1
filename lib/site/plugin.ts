import { loadSite } from './archive.ts';
import { writeAssets } from './assets.ts';
import { createMarkdown } from './markdown.ts';
import { createPages, type Pages, type PagesOptions } from './pages.ts';
import { SHEET_KINDS } from './paths.ts';

export interface PluginOptions extends PagesOptions {
  /** The brewer's folder; read when no content is handed in. */
  readonly contentDir?: string;
  /** Pages of an archive that somebody has read and planned already. */
  readonly pages?: Pages;
}

/** The part of Eleventy's configuration that the plugin speaks to. */
export interface EleventyConfig {
  setLibrary(name: string, library: unknown): void;
  addGlobalData(name: string, value: () => Promise<readonly string[]>): void;
  addJavaScriptFunction(name: string, render: (...args: readonly string[]) => string): void;
  addWatchTarget(glob: string, options?: { readonly resetConfig: boolean }): void;
  on(
    event: 'eleventy.before',
    listener: (event: { readonly directories: { readonly output: string } }) => Promise<void>,
  ): void;
}

/** `slug/kind` of every sheet page: all three of a shown batch, the card alone of a recipe. */
function sheetNames(pages: Pages): string[] {
  const shown = new Set(pages.batchSlugs);
  return pages.recipeSlugs.flatMap((slug) =>
    SHEET_KINDS.filter((kind) => kind === 'recipe-card' || shown.has(slug)).map((kind) => `${slug}/${kind}`),
  );
}

const isSheetKind = (kind: string): kind is (typeof SHEET_KINDS)[number] =>
  (SHEET_KINDS as readonly string[]).includes(kind);

/**
 * Gives Eleventy the archive: the slugs to paginate over and one synchronous function per kind of page.
 *
 * The brewer's files are data and never templates: nothing in them is ever run.
 */
export default function kettleside(config: EleventyConfig, options: PluginOptions = {}): void {
  const contentDir = options.contentDir ?? 'content';
  let loading: Promise<Pages> | null = null;
  let pages: Pages | null = null;

  const load = async (): Promise<Pages> => {
    pages = options.pages ?? createPages((await loadSite(contentDir)).content, options);
    config.setLibrary('njk', pages.environment);
    return pages;
  };
  const ready = (): Promise<Pages> => {
    loading ??= load();
    return loading;
  };
  const loaded = (): Pages => {
    if (pages === null) throw new Error('A page was rendered before the archive was read.');
    return pages;
  };

  config.setLibrary('md', createMarkdown());
  config.on('eleventy.before', async ({ directories }) => {
    loading = null;
    await ready();
    await writeAssets(directories.output);
  });
  config.addGlobalData('batchSlugs', async () => (await ready()).batchSlugs);
  config.addGlobalData('recipeSlugs', async () => (await ready()).recipeSlugs);
  config.addGlobalData('sheetNames', async () => sheetNames(await ready()));

  config.addJavaScriptFunction('listPage', () => loaded().list());
  config.addJavaScriptFunction('aboutPage', () => loaded().about());
  config.addJavaScriptFunction('missingPage', () => loaded().missing());
  config.addJavaScriptFunction('batchPage', (slug) => loaded().batch(String(slug)));
  config.addJavaScriptFunction('recipePage', (slug) => loaded().recipe(String(slug)));
  config.addJavaScriptFunction('planFile', (slug) => loaded().plan(String(slug)));
  config.addJavaScriptFunction('sheetPage', (name) => {
    const [slug, kind] = String(name).split('/');
    if (slug === undefined || kind === undefined || !isSheetKind(kind)) throw new Error(`No sheet ${name}.`);
    return loaded().sheet(kind, slug);
  });

  config.addWatchTarget(`${contentDir}/**/*.{md,yaml,yml}`);
  config.addWatchTarget('templates/**/*');
  config.addWatchTarget('lib/**/*.ts', { resetConfig: true });
}
