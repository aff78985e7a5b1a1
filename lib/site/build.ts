import { relative } from 'node:path';
import type Eleventy from '@11ty/eleventy';
import { type LoadedSite, loadSite } from './archive.ts';
import { createPages, type PagesOptions, pagePaths } from './pages.ts';
import { PAGES, withSlashes } from './paths.ts';
import kettleside, { type EleventyConfig } from './plugin.ts';
import { writeSearchIndex } from './search-index.ts';

export interface SiteBuildOptions extends PagesOptions {
  readonly contentDir: string;
  readonly outputDir: string;
  readonly quiet?: boolean;
  /** What has been loaded already: the archive is never read twice. */
  readonly data?: Pick<LoadedSite, 'content' | 'problems'>;
}

export interface SiteBuildResult {
  /** Files made from a template, below the output folder. */
  readonly pages: readonly string[];
  readonly problems: LoadedSite['problems'];
  readonly data: Pick<LoadedSite, 'content' | 'problems'>;
}

type Config = EleventyConfig & { addPlugin(plugin: typeof kettleside, options: object): void };

/** Builds the site of an archive once; batches that could not be planned are left out and told in `problems`. */
export async function buildSite(options: SiteBuildOptions): Promise<SiteBuildResult> {
  const data = options.data ?? (await loadSite(options.contentDir));
  const pages = createPages(data.content, options);
  // Loaded here so that commands which never build do not pay for it.
  const { default: Builder } = await import('@11ty/eleventy');
  const eleventy: Eleventy = new Builder(
    withSlashes(relative(process.cwd(), PAGES)) || '.',
    options.outputDir,
    {
      configPath: '',
      quietMode: options.quiet ?? true,
      runMode: 'build',
      config: (config: Config) => {
        config.addPlugin(kettleside, { ...options, pages });
      },
    },
  );
  if (options.quiet ?? true) eleventy.disableLogger();
  await eleventy.write();
  await writeSearchIndex(options.outputDir, pages.site.brewery.language);
  return { pages: pagePaths(pages), problems: data.problems, data };
}
