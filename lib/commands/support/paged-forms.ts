import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { writeWhole } from '../../archive/write/write-whole.ts';
import { formFiles } from '../../site/key-in/site-files.ts';
import { createNunjucks } from '../../site/nunjucks.ts';
import { publish, type SiteContent } from '../../site/site.ts';

/**
 * Writes the forms on the site once more, by the pages of the paper: where a blank stands is known once it is printed. Forms
 * whose batch has no page on the site are left out.
 */
export async function writePagedForms(content: SiteContent, outputDir: string): Promise<void> {
  const forms = formFiles(publish(content), createNunjucks(), [join(outputDir, 'batches')]);
  for (const [path, form] of forms) {
    const file = join(outputDir, path);
    if (existsSync(join(dirname(file), '../index.html'))) await writeWhole(file, form());
  }
}
