import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { keptSheets } from '../../archive/printed.ts';
import { placeOf } from '../../batch/types/places.ts';
import type { Blank, PaperPages } from '../../key-in/key-in.ts';
import type { PhotoField, PhotoPage } from '../../photo/strip.ts';
import { isSafeSlug, type SheetFile, sheetKindOf } from '../paths.ts';

/** What is known of the paper that a batch was last printed on. */
export interface Printed {
  /** Of the plan that was printed; it is at the head of every page. */
  readonly revision: string;
  /** Null where the blanks on that paper have other numbers than those of the plan as it is now. */
  readonly paper: PaperPages | null;
  /** What a photograph of it is read by; empty for paper that has no code strip. */
  readonly photo: readonly PhotoPage[];
}

type PaperBlank = Pick<Blank, 'id' | 'key' | 'onPaper'>;

const LARGEST_BYTES = 1024 * 1024;

/** Where printed paper is known from: the content folder that keeps it, and folders that sheets are printed to. */
export interface PaperPlaces {
  readonly contentDir: string;
  readonly printedTo: readonly string[];
}

/** Where the blanks of a batch are on its paper; null where nothing was printed from here, or what is there cannot be read. */
export function readPrinted(
  places: PaperPlaces,
  slug: string,
  blanks: readonly PaperBlank[],
): Printed | null {
  const files = filesOf(places, slug);
  const [last] = files;
  if (last === undefined) return null;
  const { revision, pages: counts, fields } = last;
  const ids = new Map(fields.map(({ id, key }) => [key, id]));
  const onPaper = blanks.filter((blank) => blank.onPaper);
  const sameNumbers = onPaper.length === ids.size && onPaper.every(({ id, key }) => ids.get(key) === id);
  const paper = {
    counts: { kettle: counts['kettle-sheet'], cellar: counts['cellar-sheet'] },
    pages: Object.fromEntries(fields.map(({ key, page }) => [key, page])),
  };
  return { revision, paper: sameNumbers ? paper : null, photo: photoPages(files) };
}

/** The batches whose pages can be known on a photograph, each with its pages. */
export function photoBatches(
  places: PaperPlaces,
): readonly { readonly slug: string; readonly photo: readonly PhotoPage[] }[] {
  const folders = [join(places.contentDir, 'printed'), ...places.printedTo].filter((each) =>
    existsSync(each),
  );
  const slugs = new Set(folders.flatMap((folder) => readdirSync(folder)));
  return [...slugs]
    .map((slug) => ({ slug, photo: photoPages(filesOf(places, slug)) }))
    .filter(({ photo }) => photo.length > 0);
}

/** The `fields.json` of a batch below a folder; null where there is none that can be read. */
function fieldsIn(folder: string, slug: string): unknown {
  const path = join(folder, slug, 'fields.json');
  try {
    return statSync(path).size > LARGEST_BYTES ? null : JSON.parse(readFileSync(path, 'utf8'));
  } catch {
    return null;
  }
}

const FIELD = z.looseObject({
  id: z.string(),
  key: z.string(),
  sheet: z.string().default(''),
  page: z.int(),
});
const FIELDS_FILE = z.looseObject({
  version: z.number().optional(),
  slug: z.string(),
  revision: z.string(),
  pages: z
    .object({ 'kettle-sheet': z.number().default(0), 'cellar-sheet': z.number().default(0) })
    .prefault({}),
  strips: z.record(z.string(), z.array(z.string())).default({}),
  fields: z.array(FIELD),
});

/** What is known of the paper of a batch: as it was kept, the last first, then as it lies beside its PDFs. */
function filesOf({ contentDir, printedTo }: PaperPlaces, slug: string) {
  if (!isSafeSlug(slug)) return [];
  return [...keptSheets(contentDir, slug), ...printedTo.map((folder) => fieldsIn(folder, slug))]
    .flatMap((data) => FIELDS_FILE.safeParse(data).data ?? [])
    .filter((file) => file.slug === slug);
}

/** Every page of a batch that a photograph may show: the sheet in hand may be older than the one printed last. */
function photoPages(files: ReturnType<typeof filesOf>): readonly PhotoPage[] {
  const pages = files.flatMap((file) => pagesOf(file, file.revision === files[0]?.revision));
  return [...new Map(pages.reverse().map((page) => [page.strip, page])).values()].reverse();
}

/**
 * The pages that a `fields.json` of version 2 describes; it was written by `lib/paper`, boxes and all. Additions are counted
 * from the recipe, so that those of an older print may be others by now: they are left out.
 */
export function pagesOf(data: unknown, isNewest = true): readonly PhotoPage[] {
  const { data: file } = FIELDS_FILE.safeParse(data);
  if (file?.version !== 2) return [];
  const { strips, fields, paper_mm, corner_marks_mm } = file;
  return Object.entries(strips).flatMap(([of, codes]) =>
    codes.map((strip, at) => ({
      ...{ sheet: sheetKindOf(of as SheetFile), page: at + 1, strip, paper_mm, corner_marks_mm },
      fields: fields
        .filter(
          ({ sheet, page, key }) =>
            sheet === of && page === at + 1 && (isNewest || placeOf(key)?.of !== 'additions'),
        )
        .map(({ sheet: _, page: __, ...field }) => field as unknown as PhotoField),
    })),
  ) as readonly PhotoPage[];
}
