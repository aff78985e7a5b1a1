import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { z } from 'zod';
import { keptSheets } from '../../archive/printed.ts';
import type { Blank, PaperPages } from '../../key-in/key-in.ts';
import { PAPER_ROWS } from '../../paper/blanks.ts';
import { isSafeSlug } from '../paths.ts';

/** What is known of the paper that a batch was last printed on. */
export interface Printed extends PaperPages {
  /** Of the plan that was printed; stands at the head of every page. */
  readonly revision: string;
  /** False where the blanks on that paper have other numbers than those of the plan as it is now. */
  readonly sameNumbers: boolean;
}

type PaperBlank = Pick<Blank, 'id' | 'key' | 'place' | 'onPaper'>;

const LARGEST_BYTES = 1024 * 1024;

/** Where paper is told of: the content folder that keeps it, and folders that sheets are printed to, each batch in one of its own. */
export interface PaperPlaces {
  readonly contentDir: string;
  readonly printedTo: readonly string[];
}

/**
 * Where the blanks of a batch stand on paper, as it was kept, else from the `fields.json` that was written beside its PDFs; the
 * first of the folders that has one for it counts. Null where nothing was printed from here, or what is there cannot be read.
 */
export function readPrinted(
  { contentDir, printedTo }: PaperPlaces,
  slug: string,
  blanks: readonly PaperBlank[],
): Printed | null {
  if (!isSafeSlug(slug)) return null;
  const [last] = keptSheets(contentDir, slug);
  const kept = printedOf(last, slug, blanks);
  if (kept !== null) return kept;
  for (const folder of printedTo) {
    const printed = printedIn(join(folder, slug, 'fields.json'), slug, blanks);
    if (printed !== null) return printed;
  }
  return null;
}

function printedIn(path: string, slug: string, blanks: readonly PaperBlank[]): Printed | null {
  try {
    return statSync(path).size > LARGEST_BYTES
      ? null
      : printedOf(JSON.parse(readFileSync(path, 'utf8')), slug, blanks);
  } catch {
    return null;
  }
}

const FIELDS_FILE = z.object({
  slug: z.string(),
  revision: z.string(),
  pages: z.object({ 'kettle-sheet': z.number().default(0), 'cellar-sheet': z.number().default(0) }),
  fields: z.array(z.object({ id: z.string(), key: z.string(), page: z.int() })),
});

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
  };
}

/** Rows that the file has beyond those that there is room for on paper. */
const isBelowPaper = ({ place: { of, row } }: PaperBlank): boolean =>
  (of === 'fermentation' || of === 'tasted') && row !== null && row >= PAPER_ROWS[of];
