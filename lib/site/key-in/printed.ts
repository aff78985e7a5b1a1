import { readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { keptSheets } from '../../archive/printed.ts';
import type { Blank, PaperPages } from '../../key-in/key-in.ts';
import { type Field, PAPER_ROWS } from '../../paper/blanks.ts';
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
    if (statSync(path).size > LARGEST_BYTES) return null;
    return printedOf(JSON.parse(readFileSync(path, 'utf8')), slug, blanks);
  } catch {
    return null;
  }
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
  return { revision, sameNumbers, counts: { kettle: count('kettle'), cellar: count('cellar') }, pages };
}

const groupOf = (data: unknown): Readonly<Record<string, unknown>> =>
  typeof data === 'object' && data !== null ? (data as Record<string, unknown>) : {};

/** Rows that the file has beyond those that there is room for on paper. */
const isBelowPaper = ({ place: { of, row } }: PaperBlank): boolean =>
  (of === 'fermentation' || of === 'tasted') && row !== null && row >= PAPER_ROWS[of];
