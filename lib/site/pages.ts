import type { Environment } from 'nunjucks';
import { evidenceOf } from '../batch/learning-observe.ts';
import { saysOf, usedLines } from '../view/learning-view.ts';
import { archivePages, listedPaths } from './archive-pages.ts';
import { facetsOf, facetsOfBatch } from './facets.ts';
import { openGraph } from './feeds/open-graph.ts';
import { picturePath, pictureWords } from './feeds/picture.ts';
import { dataBlock, recipeData } from './feeds/recipe-data.ts';
import { calendarFiles, formFiles, keyInLinks } from './key-in/site-files.ts';
import { createMarkdown } from './markdown.ts';
import { createNunjucks } from './nunjucks.ts';
import { otherFiles } from './other-files.ts';
import { isSafeSlug, SHEET_FILES, type SheetFile, safeSlug } from './paths.ts';
import { planJson } from './plan-json.ts';
import { renderSheetHtml, type SheetOptions } from './sheets.ts';
import { type Published, publish, type SiteContent, type SiteEntry } from './site.ts';
import { aboutView, missingView } from './views/about-view.ts';
import { batchView } from './views/batch-view.ts';
import { DATA_PATH, dataView } from './views/data-view.ts';
import { facetPath } from './views/facet-view.ts';
import type { HeadView } from './views/head.ts';
import { KIT_PATH, kitView } from './views/kit-view.ts';
import { listView } from './views/list-view.ts';
import { recipeView } from './views/recipe-view.ts';

export interface PagesOptions extends SheetOptions {
  /** True where the build makes the PDFs too: only then do pages link to them. */
  readonly pdfs?: boolean;
  /** True while the site is looked at from this computer: the server's own script may then reload the page. */
  readonly preview?: boolean;
  /** Templates that are compiled already. */
  readonly environment?: Environment;
}

/** Every page of the site by its path, and how to make it; nothing is rendered before it is asked for. */
export interface Pages {
  readonly site: Published;
  readonly environment: Environment;
  readonly batchSlugs: readonly string[];
  readonly recipeSlugs: readonly string[];
  list(): string;
  about(): string;
  missing(): string;
  batch(slug: string): string;
  recipe(slug: string): string;
  plan(slug: string): string;
  sheet(file: SheetFile, slug: string): string;
  kit(): string;
  data(): string;
  /** Feeds, sitemap and data: paths below the top folder, and what goes there. */
  readonly otherPaths: readonly string[];
  other(path: string): string;
}

/** A value that is worked out when it is first asked for, and then kept. */
function once<V>(make: () => V): () => V {
  let made: { readonly value: V } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** A text that is asked for later, as bytes: a string pieced together from lines holds each of them, ten times its room. */
function held(text: string): () => string {
  const bytes = Buffer.from(text);
  return () => bytes.toString();
}

/** Sets up the renderers for what the brewer publishes: one Nunjucks environment, one Markdown renderer. */
export function createPages(content: SiteContent, options: PagesOptions = {}): Pages {
  const site = publish(content);
  const environment = options.environment ?? createNunjucks();
  environment.addGlobal('preview', options.preview ?? false);
  environment.addGlobal('pdfs', options.pdfs ?? false);
  const markdown = createMarkdown();
  const find = (slug: string): SiteEntry => {
    const entry = site.bySlug.get(slug);
    if (entry === undefined) throw new Error(`No published batch has the slug ${JSON.stringify(slug)}.`);
    return entry;
  };
  const notesOf = ({ batch: { notes } }: SiteEntry): string =>
    notes.trim() === '' ? '' : markdown.render(notes);
  const read = content.asRead ?? content.entries.map(({ batch }) => batch);
  const asRead = new Map(read.map((batch) => [batch.slug, batch]));
  // Pictures are drawn by the browser that prints, for those who link to the site from elsewhere.
  const { url } = site.brewery;
  const pictureOf = ({ batch }: SiteEntry): string | null =>
    options.pdfs && url !== null ? picturePath(batch.slug) : null;
  const shownBy = <V extends { readonly head: HeadView }>(view: V, entry: SiteEntry): HeadView => {
    const path = pictureOf(entry);
    if (path === null || url === null) return view.head;
    const picture = { url: new URL(path, url).href, words: pictureWords(entry) };
    return { ...view.head, og: openGraph(view.head, 'article', picture) };
  };
  const facets = facetsOf(site);
  const others = new Map([
    ...otherFiles(site, notesOf, [KIT_PATH, DATA_PATH, ...listedPaths(facets)], pictureOf),
    ...[...calendarFiles(site)].map(([path, text]) => [path, held(text)] as const),
  ]);
  // With a server behind the pages, it makes the forms itself, from the files as they are.
  const forms = options.preview ? new Map<string, () => string>() : formFiles(site, environment);
  const ways = new Map([...archivePages(site, facets, environment), ...forms]);
  const isThere = (path: string) => others.has(path) || forms.has(path);
  const kit = once(() => kitView(site, [...asRead.values()]));
  const kitParts = once(() => new Map(kit().parts.map((part) => [part.path, part])));
  const otherPaths = once(() => [...others.keys(), ...ways.keys(), ...kitParts().keys()]);
  environment.addGlobal('besides', (slug: string) =>
    keyInLinks(find(slug), isThere, options.preview ?? false),
  );
  return {
    site,
    environment,
    batchSlugs: site.batches.map((e) => e.batch.slug),
    recipeSlugs: site.recipes.map((e) => e.batch.slug),
    list: () => environment.render('layouts/index.njk', listView(site, facets)),
    about: () => environment.render('layouts/about.njk', aboutView(site)),
    missing: () => environment.render('layouts/404.njk', missingView(site)),
    batch: (slug) => {
      const entry = find(slug);
      const { units } = site.brewery;
      const view = batchView(entry, site, notesOf(entry));
      return environment.render('layouts/batch.njk', {
        ...view,
        head: shownBy(view, entry),
        ways: facetsOfBatch(facets, slug).map((facet) => ({ href: facetPath(facet), name: facet.name })),
        learned: usedLines(entry.plan.learned ?? [], units),
        says: saysOf(evidenceOf(asRead.get(slug) ?? entry.batch), units),
      });
    },
    recipe: (slug) => {
      const entry = find(slug);
      const view = recipeView(entry, site);
      const data = dataBlock(recipeData(entry, site, pictureOf(entry)));
      const head = { ...shownBy(view, entry), data };
      return environment.render('layouts/recipe.njk', { ...view, head });
    },
    plan: (slug) => planJson(find(slug).plan),
    sheet: (file, slug) => renderSheetHtml(environment, file, find(slug), site.brewery, options),
    kit: () => environment.render('layouts/kit.njk', kit()),
    data: () => environment.render('layouts/data.njk', dataView(site)),
    get otherPaths() {
      return otherPaths();
    },
    other: (path) => {
      const part = kitParts().get(path);
      if (part !== undefined) return environment.render('layouts/kit-part.njk', part);
      const text = (others.get(path) ?? ways.get(path))?.();
      if (text === undefined) throw new Error(`There is no file ${JSON.stringify(path)}.`);
      return text;
    },
  };
}

/** Paths of everything that is made from a template, below the output folder. */
export function pagePaths(pages: Pages): string[] {
  const batchFiles = ['index.html', 'plan.json', ...SHEET_FILES.map((file) => `${file}.html`)];
  const shown = new Set(pages.batchSlugs);
  return [
    'index.html',
    'about/index.html',
    '404.html',
    KIT_PATH,
    DATA_PATH,
    ...pages.otherPaths,
    ...pages.batchSlugs.flatMap((slug) => batchFiles.map((file) => `batches/${safeSlug(slug)}/${file}`)),
    ...pages.recipeSlugs.map((slug) => `recipes/${safeSlug(slug)}/index.html`),
    ...pages.recipeSlugs
      .filter((slug) => isSafeSlug(slug) && !shown.has(slug))
      .map((slug) => `batches/${slug}/recipe-card.html`),
  ];
}
