import { existsSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { formFiles } from '../../site/key-in/site-files.ts';
import { createNunjucks } from '../../site/nunjucks.ts';
import type { Output } from '../../site/output.ts';
import { publish, type SiteContent } from '../../site/site.ts';

/**
 * Writes the forms on the site once more, by the pages of the paper: the place of a blank is known once it is printed. Forms
 * whose batch has no page on the site are left out.
 */
export async function writePagedForms(
  content: SiteContent,
  contentDir: string,
  output: Output,
): Promise<void> {
  const places = { contentDir, printedTo: [join(output.folder, 'batches')] };
  const forms = formFiles(publish(content), createNunjucks(), places);
  for (const [path, form] of forms) {
    const page = join(output.folder, dirname(path), '../index.html');
    if (existsSync(page)) output.write(path, form());
  }
}
