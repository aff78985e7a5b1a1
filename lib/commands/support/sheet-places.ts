import { join } from 'node:path';
import { SHEET_FILES, type SheetFile, safeSlug } from '../../site/paths.ts';
import type { SiteEntry } from '../../site/site.ts';

/** One sheet of one batch and the files that it is written to. */
export interface SheetPlace {
  readonly entry: SiteEntry;
  readonly file: SheetFile;
  /** False for what stays out of the site. */
  readonly published: boolean;
  /** Folder of the sheet's own files. */
  readonly folder: string;
  readonly htmlPath: string;
  readonly pdfPath: string;
  /** Where the blanks of the batch's sheets are described, once printed. */
  readonly fieldsPath: string;
}

/**
 * Where the three sheets of a batch go. A published batch has them beside its page; of one that is published as a
 * recipe only the card is on the site; everything else is in the private folder.
 */
export function sheetPlaces(entry: SiteEntry, outputDir: string, privateDir: string): SheetPlace[] {
  const { slug, publish } = entry.batch;
  return SHEET_FILES.map((file) => {
    const published = publish === 'all' || (publish === 'recipe' && file === 'recipe-card');
    const folder = published ? join(outputDir, 'batches', safeSlug(slug)) : join(privateDir, safeSlug(slug));
    return {
      entry,
      file,
      published,
      folder,
      htmlPath: join(folder, `${file}.html`),
      pdfPath: join(folder, `${file}.pdf`),
      fieldsPath: join(ownFolder(entry, outputDir, privateDir), 'fields.json'),
    };
  });
}

/** The folder of what belongs to a batch as brewed: its plan and the blanks of its sheets. */
function ownFolder({ batch }: SiteEntry, outputDir: string, privateDir: string): string {
  const slug = safeSlug(batch.slug);
  return batch.publish === 'all' ? join(outputDir, 'batches', slug) : join(privateDir, slug);
}
