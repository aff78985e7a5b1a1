import { relative } from 'node:path';
import type Eleventy from '@11ty/eleventy';
import { type LoadedSite, loadSite } from './archive.ts';
import { type Output, openOutput } from './output.ts';
import { createPages, type PagesOptions, pagePaths } from './pages.ts';
import { PAGES, withSlashes } from './paths.ts';
import kettleside, { type EleventyConfig } from './plugin.ts';
import { writeSearchIndex } from './search-index.ts';

export interface SiteBuildOptions extends PagesOptions {
  readonly contentDir: string;
  readonly outputDir: string;
  /** The folder of `outputDir` where more is written to it: whoever opened it takes away what is left over. */
  readonly output?: Output;
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
  const output = options.output ?? openOutput(options.outputDir);
  // Loaded here so that commands which never build do not pay for it.
  const { default: Builder } = await import('@11ty/eleventy');
  const eleventy: Eleventy = new Builder(
    withSlashes(relative(process.cwd(), PAGES)) || '.',
    options.outputDir,
    {
      configPath: '',
      quietMode: options.quiet ?? true,
      runMode: 'build',
      dryRun: true,
      config: (config: Config) => {
        config.addPlugin(kettleside, { ...options, pages, output });
      },
    },
  );
  if (options.quiet ?? true) eleventy.disableLogger();
  await eleventy.write();
  const paths = pagePaths(pages);
  await writeSearchIndex(output, paths, pages.site.brewery.language);
  if (options.output === undefined) await output.removeOthers();
  return { pages: paths, problems: data.problems, data };
}
