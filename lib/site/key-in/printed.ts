import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import type { Blank, PaperPages } from '../../key-in/key-in.ts';
import { type Field, PAPER_ROWS } from '../../paper/blanks.ts';
import type { PhotoPage } from '../../photo/strip.ts';
import { isSafeSlug } from '../paths.ts';

/** What is known of the paper that a batch was last printed on. */
export interface Printed extends PaperPages {
  /** Of the plan that was printed; stands at the head of every page. */
  readonly revision: string;
  /** False where the blanks on that paper have other numbers than those of the plan as it is now. */
  readonly sameNumbers: boolean;
  /** What a photograph of it is read by; empty for paper that has no code strip. */
  readonly photo: readonly PhotoPage[];
}

type PaperBlank = Pick<Blank, 'id' | 'key' | 'place' | 'onPaper'>;

const LARGEST_BYTES = 1024 * 1024;

/**
 * Where the blanks of a batch stand on paper, from the `fields.json` that was written beside its PDFs; the first of some
 * folders that has one for it counts. Null where nothing was printed from here, or what is there cannot be read.
 */
export function readPrinted(
  folders: readonly string[],
  slug: string,
  blanks: readonly PaperBlank[],
): Printed | null {
  if (!isSafeSlug(slug)) return null;
  for (const folder of folders) {
    const printed = printedOf(fieldsIn(folder, slug), slug, blanks);
    if (printed !== null) return printed;
  }
  return null;
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

/** The batches that were printed to a folder and can be known on a photograph, with their pages. */
export function photoBatches(
  folder: string,
): readonly { readonly slug: string; readonly photo: readonly PhotoPage[] }[] {
  if (!existsSync(folder)) return [];
  return readdirSync(folder).flatMap((slug) => {
    const photo = photoPages(fieldsIn(folder, slug));
    return isSafeSlug(slug) && photo.length > 0 ? [{ slug, photo }] : [];
  });
}

/** What a `fields.json` says of the blanks of a batch. */
export function printedOf(data: unknown, slug: string, blanks: readonly PaperBlank[]): Printed | null {
  const { slug: of, revision, pages: counts, fields } = groupOf(data);
  if (of !== slug || typeof revision !== 'string' || !Array.isArray(fields)) return null;
  const ids = new Map<string, string>();
  const pages = new Map<string, number>();
  for (const field of fields) {
    const { id, key, page } = groupOf(field);
    if (typeof id !== 'string' || typeof key !== 'string' || !Number.isInteger(page)) return null;
    ids.set(key, id);
    pages.set(key, Number(page));
  }
  const onPaper = blanks.filter((blank) => blank.onPaper && !isBelowPaper(blank));
  const sameNumbers = onPaper.length === ids.size && onPaper.every(({ id, key }) => ids.get(key) === id);
  const count = (sheet: Field['sheet']) => Number(groupOf(counts)[`${sheet}-sheet`] ?? 0);
  return {
    revision,
    sameNumbers,
    counts: { kettle: count('kettle'), cellar: count('cellar') },
    pages,
    photo: photoPages(data),
  };
}

/** The pages that a `fields.json` of version 2 describes. */
export function photoPages(data: unknown): readonly PhotoPage[] {
  const { version, strips, fields, paper_mm, corner_marks_mm } = groupOf(data);
  if (version !== 2) return [];
  const all = fields as readonly (PhotoPage['fields'][number] & { sheet: string; page: number })[];
  return Object.entries(strips as Readonly<Record<string, readonly string[]>>).flatMap(([file, codes]) =>
    codes.map((strip, at) => ({
      ...{ sheet: file.replace(/^recipe-|-sheet$/g, ''), page: at + 1, strip, paper_mm, corner_marks_mm },
      fields: all
        .filter(({ sheet, page }) => sheet === file && page === at + 1)
        .map(({ id, key, kind, groups, box_mm, circle_mm }) => ({
          id,
          key,
          kind,
          groups,
          box_mm,
          circle_mm,
        })),
    })),
  ) as readonly PhotoPage[];
}

const groupOf = (data: unknown): Readonly<Record<string, unknown>> =>
  typeof data === 'object' && data !== null ? (data as Record<string, unknown>) : {};

/** Rows that the file has beyond those that there is room for on paper. */
const isBelowPaper = ({ place: { of, row } }: PaperBlank): boolean =>
  (of === 'fermentation' || of === 'tasted') && row !== null && row >= PAPER_ROWS[of];
