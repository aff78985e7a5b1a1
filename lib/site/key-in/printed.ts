import { existsSync, readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import type { Blank, PaperPages } from '../../key-in/key-in.ts';
import { PAPER_ROWS } from '../../paper/blanks.ts';
import type { PhotoPage } from '../../photo/strip.ts';
import { isSafeSlug } from '../paths.ts';

/** What is known of the paper that a batch was last printed on. */
export interface Printed extends PaperPages {
  /** Of the plan that was printed; stands at the head of every page. */
  readonly revision: string;
  /** False where the blanks on that paper have other numbers than those of the plan as it is now. */
  readonly sameNumbers: boolean;
  /** What a photograph of it is read by; empty for paper without a code strip. */
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

const FIELDS_FILE = z.object({
  slug: z.string(),
  revision: z.string(),
  pages: z.object({ 'kettle-sheet': z.number().default(0), 'cellar-sheet': z.number().default(0) }),
  fields: z.array(z.object({ id: z.string(), key: z.string(), page: z.int() })),
});

const BOX = z.object({ x: z.number(), y: z.number(), width: z.number(), height: z.number() });
const SHEETS = { 'kettle-sheet': 'kettle', 'cellar-sheet': 'cellar', 'recipe-card': 'card' } as const;
const FILES = z.enum(['kettle-sheet', 'cellar-sheet', 'recipe-card']);
const KINDS = [
  'clock',
  'gravity',
  'volume',
  'temperature',
  'mass',
  'count',
  'date',
  'text',
  'score',
] as const;
const CELL = z.object({ kind: z.enum(['digit', 'letter', 'sign', 'gap']), text: z.string(), box_mm: BOX });
const PHOTO_FILE = z.object({
  version: z.literal(2),
  strips: z.partialRecord(FILES, z.array(z.string())),
  paper_mm: z.object({ width: z.number(), height: z.number() }),
  corner_marks_mm: z.array(BOX).length(4),
  fields: z.array(
    z.object({
      sheet: FILES,
      page: z.int(),
      id: z.string(),
      key: z.string(),
      kind: z.enum(KINDS),
      groups: z.array(z.object({ part: z.enum(['value', 'sample', 'day', 'clock']), cells: z.array(CELL) })),
      box_mm: BOX,
      circle_mm: BOX.nullable(),
    }),
  ),
});

/** The pages that a `fields.json` of version 2 describes; none where it is another file. */
export function photoPages(data: unknown): readonly PhotoPage[] {
  const read = PHOTO_FILE.safeParse(data);
  if (!read.success) return [];
  const { strips, fields, paper_mm, corner_marks_mm } = read.data;
  return FILES.options.flatMap((file) =>
    (strips[file] ?? []).map((strip, at) => ({
      ...{ sheet: SHEETS[file], page: at + 1, strip, paper_mm, corner_marks_mm },
      fields: fields
        .filter(({ sheet, page }) => sheet === file && page === at + 1)
        .map(({ sheet: _sheet, page: _page, ...field }) => field),
    })),
  );
}

/** What a `fields.json` says of the blanks of a batch; null where it is none of that batch. */
function printedOf(data: unknown, slug: string, blanks: readonly PaperBlank[]): Printed | null {
  const read = FIELDS_FILE.safeParse(data);
  if (!read.success || read.data.slug !== slug) return null;
  const { revision, pages: counts, fields } = read.data;
  const ids = new Map(fields.map(({ id, key }) => [key, id]));
  const onPaper = blanks.filter((blank) => blank.onPaper && !isBelowPaper(blank));
  return {
    revision,
    sameNumbers: onPaper.length === ids.size && onPaper.every(({ id, key }) => ids.get(key) === id),
    counts: { kettle: counts['kettle-sheet'], cellar: counts['cellar-sheet'] },
    pages: new Map(fields.map(({ key, page }) => [key, page])),
    photo: photoPages(data),
  };
}

/** Rows that the file has beyond those that there is room for on paper. */
const isBelowPaper = ({ place: { of, row } }: PaperBlank): boolean =>
  (of === 'fermentation' || of === 'tasted') && row !== null && row >= PAPER_ROWS[of];
