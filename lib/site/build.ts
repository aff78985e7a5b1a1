import { relative, resolve } from 'node:path';
import type Eleventy from '@11ty/eleventy';
import { type LoadedSite, loadSite } from './archive.ts';
import type { Around } from './archive-pages.ts';
import { type BuildCache, sha256 } from './build-cache.ts';
import { type Output, openOutput } from './output.ts';
import { createPages, type Pages, type PagesOptions, pagePaths } from './pages.ts';
import { PAGES, withSlashes } from './paths.ts';
import kettleside, { type EleventyConfig, type PluginOptions, writeOthers } from './plugin.ts';

/** What a site is built from; the files are asked for where something is kept for the next build. */
type Built = Pick<LoadedSite, 'content' | 'problems'> & Partial<Pick<LoadedSite, 'archive'>>;

export interface SiteBuildOptions extends PagesOptions {
  readonly contentDir: string;
  readonly outputDir: string;
  /** The folder of `outputDir` where more is written to it: the caller that opened it removes what is left over. */
  readonly output?: Output;
  /** What earlier builds have left: pages that it knows to be as they should be are not made again. */
  readonly cache?: BuildCache;
  readonly quiet?: boolean;
  /** What has been loaded already: the archive is never read twice. */
  readonly data?: Built;
}

export interface SiteBuildResult {
  /** Files made from a template, below the output folder. */
  readonly pages: readonly string[];
  readonly problems: LoadedSite['problems'];
  readonly data: Pick<LoadedSite, 'content' | 'problems'>;
  /** How many batches there are pages of, and how many of them were rebuilt. */
  readonly batches: { readonly all: number; readonly anew: number };
  /** Keys of pages for the next build, by batch and by the path of a list. */
  readonly keys: ReadonlyMap<string, string>;
}

/** Loading the generator costs more than making so few of the pages without it, which come to the same bytes. */
const FEW = 1 / 4;

type Config = EleventyConfig & { addPlugin(plugin: typeof kettleside, options: object): void };

/** Builds the site of an archive once; batches that could not be planned are left out and named in `problems`. */
export async function buildSite(options: SiteBuildOptions): Promise<SiteBuildResult> {
  const data = options.data ?? (await loadSite(options.contentDir));
  const pages = createPages(data.content, options);
  const output = options.output ?? openOutput(options.outputDir);
  const { keys, isDone, anew } = whatIsDone(data, pages, output, options);
  const wanted = pages.pages.filter((path) => !isDone(path));
  if (wanted.length > FEW * pages.pages.length) await generate(options, { pages, output, isDone });
  else {
    await writeOthers(output, pages, isDone);
    for (const path of wanted) output.write(path, pages.file(path));
  }
  const paths = pagePaths(pages);
  if (options.output === undefined) await output.removeOthers();
  const batches = { all: pages.site.recipes.length, anew: anew.size };
  return { pages: paths, problems: data.problems, data, batches, keys };
}

/** Has the site generator make every page that is not done. */
async function generate(options: SiteBuildOptions, plugin: PluginOptions): Promise<void> {
  // A single build loads no template twice: the generator's own thread for that is not started.
  process.env.ELEVENTY_SKIP_ESM_RESOLVER = 'true';
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
        config.addPlugin(kettleside, { ...options, ...plugin });
      },
    },
  );
  if (options.quiet ?? true) eleventy.disableLogger();
  await eleventy.write();
}

/** Files of one batch. Its form too, though it is written once more by the pages of the paper: that comes to the same again. */
const OF_BATCH = /^(?:batches|recipes)\/([^/]+)\/(?:key-in\/)?[^/]+$/;
/** Files that nothing of the archive goes into: only another version of the program makes others. */
const OF_PROGRAM = /^(?:schema\/|assets\/(?!print-sheet))/;

/** Which pages an earlier build has left as they should be: those for which all that they depend on is the same. */
function whatIsDone(data: Built, pages: Pages, output: Output, { cache, ...options }: SiteBuildOptions) {
  const { brewery, extracts, recipes } = pages.site;
  const { paper, assets, fonts, pdfs } = options;
  const forAll = JSON.stringify([brewery, extracts, paper, assets, fonts, pdfs]);
  const keyOf = (slug: string): unknown => [
    data.archive?.files.get(slug)?.hash,
    cache?.memory.plans.known.get(slug)?.key,
    data.content.photographs?.get(slug),
  ];
  const keyFor = ({ batches, shown }: Around): string =>
    sha256(forAll, JSON.stringify([batches, batches.map(keyOf), shown]));
  const slugs = recipes.map(({ batch }) => batch.slug);
  const keys = new Map(
    cache === undefined
      ? []
      : [
          ...slugs.map((slug) => [slug, keyFor(pages.around(slug))] as const),
          ...[...pages.lists].map(([path, around]) => [path, keyFor(around)] as const),
        ],
  );
  const anew = new Set<string>();
  const isDone = (path: string): boolean => {
    const slug = OF_BATCH.exec(path)?.[1];
    const key = keys.get(slug ?? path);
    const same = key === undefined ? OF_PROGRAM.test(path) : cache?.keyOf(slug ?? path) === key;
    const left = same ? (cache?.asLeft(resolve(output.folder, path)) ?? null) : null;
    if (left !== null) output.leave(path, left);
    else if (slug !== undefined && cache !== undefined) anew.add(slug);
    return left !== null;
  };
  return { keys, isDone, anew };
}
