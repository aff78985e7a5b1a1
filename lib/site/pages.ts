import type { Environment } from 'nunjucks';
import type { Batch } from '../batch/types/batch.ts';
import { type Says, usedLines } from '../words/learning-view.ts';
import { familiesOf } from './ancestry.ts';
import { type Around, archivePages, listedPaths, listsOf } from './archive-pages.ts';
import { type Facets, facetsOf, facetsOfBatch } from './facets.ts';
import { openGraph } from './feeds/open-graph.ts';
import { picturePath, pictureWords } from './feeds/picture.ts';
import { dataBlock, recipeData } from './feeds/recipe-data.ts';
import { calendarFiles, formFiles, keyInLinks } from './key-in/site-files.ts';
import { createMarkdown } from './markdown.ts';
import { createNunjucks } from './nunjucks.ts';
import { otherFiles } from './other-files.ts';
import type { Text } from './output.ts';
import { aboutView, messagesView, missingView } from './pages/about-view.ts';
import { batchView, todayFor } from './pages/batch-view.ts';
import { DATA_PATH, dataView } from './pages/data-view.ts';
import { facetPath } from './pages/facet-view.ts';
import type { HeadView } from './pages/head.ts';
import { KIT_PATH, kitView } from './pages/kit-view.ts';
import { listView } from './pages/list-view.ts';
import { recipeView } from './pages/recipe-view.ts';
import { saysView } from './pages/says-view.ts';
import {
  ABOUT_PATH,
  batchPath,
  LIST_PATH,
  MESSAGES_PATH,
  MISSING_PATH,
  recipePath,
  SHEET_FILES,
  type SheetFile,
  safeSlug,
} from './paths.ts';
import { photographsKey } from './pictures.ts';
import { planJson } from './plan-json.ts';
import { renderSheetHtml, type SheetOptions } from './sheets.ts';
import { type Published, publish, type SiteContent, type SiteEntry } from './site.ts';

export interface PagesOptions extends SheetOptions {
  /** True where the build makes the PDFs too: only then do pages link to them. */
  readonly pdfs?: boolean;
  /** True while the site is looked at from this computer: the server's own script may then reload the page. */
  readonly preview?: boolean;
  /** Templates that are compiled already. */
  readonly environment?: Environment;
}

/** Every file of the site by its path, and how to make it; nothing is rendered before it is asked for. */
export interface Pages {
  readonly site: Published;
  readonly environment: Environment;
  readonly batchSlugs: readonly string[];
  readonly recipeSlugs: readonly string[];
  /** Pages that a template of the site generator asks for, below the top folder. */
  readonly pages: readonly string[];
  /** All other files: sheets, plans, data, feeds, calendars, and the pages that lead through the archive. */
  readonly others: readonly string[];
  /** What the pages of a batch show of others. */
  around(slug: string): Around;
  /** What pages show that list some of the batches, by their path. */
  readonly lists: ReadonlyMap<string, Around>;
  has(path: string): boolean;
  /** The text of one file; throws where there is none of that path. */
  file(path: string): string;
  /** The same, where it was made in parts, without putting them together. */
  made(path: string): Text;
}

/** Files by path below the top folder, each made when it is asked for. */
type Files = ReadonlyMap<string, () => Text>;

/** A value that is worked out when it is first asked for, and then kept. */
function once<V>(make: () => V): () => V {
  let made: { readonly value: V } | null = null;
  return () => {
    made ??= { value: make() };
    return made.value;
  };
}

/** What all pages of a site are made from. */
interface Workshop {
  readonly site: Published;
  readonly facets: Facets;
  readonly options: PagesOptions;
  readonly environment: Environment;
  render(layout: string, view: object): string;
  /** The HTML of a batch's notes. */
  notesOf(entry: SiteEntry): string;
  /** Batches before anything learned was put in, by slug. */
  readonly asRead: ReadonlyMap<string, Batch>;
  readonly says: (batch: Batch) => readonly Says[];
  /** Where the picture of a batch lies, for those who link to the site from elsewhere; null where none is drawn. */
  pictureOf(entry: SiteEntry): string | null;
}

function openWorkshop(content: SiteContent, options: PagesOptions): Workshop {
  const site = publish(content);
  const environment = options.environment ?? createNunjucks();
  environment.addGlobal('preview', options.preview ?? false);
  environment.addGlobal('pdfs', options.pdfs ?? false);
  const markdown = createMarkdown();
  const rendered = new Map<string, string>();
  const read = content.asRead ?? content.entries.map(({ batch }) => batch);
  return {
    site,
    facets: facetsOf(site),
    options,
    environment,
    render: (layout, view) => environment.render(`layouts/${layout}.njk`, view),
    notesOf: ({ batch: { notes } }) => {
      const html = rendered.get(notes) ?? (notes.trim() === '' ? '' : markdown.render(notes));
      rendered.set(notes, html);
      return html;
    },
    asRead: new Map(read.map((batch) => [batch.slug, batch])),
    says: saysView(site, read),
    // Pictures are drawn by the browser that prints.
    pictureOf: ({ batch }) => (options.pdfs && site.brewery.url !== null ? picturePath(batch.slug) : null),
  };
}

/** What is in the head of a page about one batch, with its picture where there is one. */
function headOf({ site, pictureOf }: Workshop, head: HeadView, entry: SiteEntry): HeadView {
  const path = pictureOf(entry);
  const { url } = site.brewery;
  if (path === null || url === null) return head;
  const picture = { url: new URL(path, url).href, words: pictureWords(entry) };
  return { ...head, og: openGraph(head, 'article', picture) };
}

/** What a batch that is shown says of its setup and its yeast. */
function saysOf({ site, asRead, says }: Workshop, slug: string): readonly Says[] {
  const batch = asRead.get(slug) ?? site.bySlug.get(slug)?.batch;
  return batch === undefined ? [] : says(batch);
}

function batchPage(shop: Workshop, entry: SiteEntry): string {
  const { site, facets, notesOf, render } = shop;
  const { units } = site.brewery;
  const { slug } = entry.batch;
  const view = batchView(entry, site, notesOf(entry));
  return render('batch', {
    ...view,
    head: headOf(shop, view.head, entry),
    ways: facetsOfBatch(facets, slug).map((facet) => ({ href: facetPath(facet), name: facet.name })),
    learned: usedLines(entry.plan.learned ?? [], units),
    says: saysOf(shop, slug),
  });
}

function recipePage(shop: Workshop, entry: SiteEntry): string {
  const { site, pictureOf, render } = shop;
  const view = recipeView(entry, site);
  const data = dataBlock(recipeData(entry, site, pictureOf(entry)));
  return render('recipe', { ...view, head: { ...headOf(shop, view.head, entry), data } });
}

/** Sheets and plans, by path. */
function papers({ site, environment, options }: Workshop): Files {
  const sheet = (entry: SiteEntry, file: SheetFile) =>
    [
      `batches/${safeSlug(entry.batch.slug)}/${file}.html`,
      () => renderSheetHtml(environment, file, entry, site.brewery, options),
    ] as const;
  return new Map([
    ...site.batches.flatMap((entry) => [
      [`batches/${safeSlug(entry.batch.slug)}/plan.json`, () => planJson(entry.plan, site.brewery)] as const,
      ...SHEET_FILES.map((file) => sheet(entry, file)),
    ]),
    ...site.recipesAlone.map((entry) => sheet(entry, 'recipe-card')),
  ]);
}

/** Sets up the renderers for what the brewer publishes: one Nunjucks environment, one Markdown renderer. */
export function createPages(content: SiteContent, options: PagesOptions = {}): Pages {
  const shop = openWorkshop(content, options);
  const { site, facets, environment, render, notesOf, pictureOf } = shop;
  const families = once(() => familiesOf(site));
  const places = once(() => new Map(site.batches.map(({ batch }, at) => [batch.slug, at] as const)));
  const neighbours = (slug: string): string[] => {
    const at = places().get(slug);
    if (at === undefined) return [];
    return [at + 1, at - 1].map((each) => site.batches[each]?.batch.slug ?? '');
  };
  const kit = once(() => kitView(site, [...shop.asRead.values()]));
  const pages: Files = new Map([
    [LIST_PATH, () => render('index', listView(site, facets))],
    [ABOUT_PATH, () => render('about', aboutView(site))],
    [MISSING_PATH, () => render('404', missingView(site, options.preview ?? false))],
    [KIT_PATH, () => render('kit', kit())],
    [DATA_PATH, () => render('data', dataView(site))],
    ...site.batches.map((entry) => [batchPath(entry.batch.slug), () => batchPage(shop, entry)] as const),
    ...site.recipes.map((entry) => [recipePath(entry.batch.slug), () => recipePage(shop, entry)] as const),
  ]);
  // With a server behind the pages, it makes the forms itself, from the files as they are.
  const forms: Files = options.preview ? new Map() : formFiles(site, environment);
  const calendars = calendarFiles(site);
  const others: Files = new Map([
    [MESSAGES_PATH, () => render('messages', messagesView(site))] as const,
    ...papers(shop),
    ...otherFiles(site, notesOf, [KIT_PATH, DATA_PATH, ...listedPaths(facets)], pictureOf),
    ...calendars,
    ...archivePages(site, facets, environment, notesOf),
    ...forms,
  ]);
  // How the pages of the setups are parted shows when its figures are worked out.
  const kitParts: () => Files = once(
    () => new Map(kit().parts.map((part) => [part.path, () => render('kit-part', part)])),
  );
  const makerOf = (path: string): (() => Text) | undefined =>
    pages.get(path) ?? others.get(path) ?? (path.startsWith('kit/') ? kitParts().get(path) : undefined);
  environment.addGlobal('besides', (slug: string) => {
    const entry = site.bySlug.get(slug);
    if (entry === undefined) return [];
    return keyInLinks(entry, (path) => calendars.has(path) || forms.has(path), options.preview ?? false);
  });
  const made = (path: string): Text => {
    const make = makerOf(path);
    if (make === undefined) throw new Error(`There is no file ${JSON.stringify(path)}.`);
    return make();
  };
  return {
    site,
    environment,
    batchSlugs: site.batches.map(({ batch }) => batch.slug),
    recipeSlugs: site.recipes.map(({ batch }) => batch.slug),
    pages: [...pages.keys()],
    get others() {
      return [...others.keys(), ...kitParts().keys()];
    },
    around: (slug) => ({
      batches: [...(families().get(slug) ?? [slug]), '', ...neighbours(slug)],
      shown: [
        photographsKey(site.photographs.get(slug) ?? []),
        site.bySlug.has(slug) ? todayFor(site.bySlug.get(slug)!.batch, site) : null,
        facetsOfBatch(facets, slug).map((facet) => [facetPath(facet), facet.name]),
        site.bySlug.get(slug)?.batch.publish === 'all' ? saysOf(shop, slug) : null,
      ],
    }),
    lists: listsOf(site, facets),
    has: (path) => makerOf(path) !== undefined,
    made,
    file: (path) => [made(path)].flat().join(''),
  };
}

/** Paths of everything that is made from a template, below the output folder. */
export const pagePaths = (pages: Pages): string[] => [...pages.pages, ...pages.others];
