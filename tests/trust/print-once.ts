/** Prints the sheets of a site with a cache of its own: `jiti print-once.ts <site folder> <cache folder> <slug/sheet …>`. */
import { join } from 'node:path';
import { renderSheets } from '../../lib/paper/engine/render-sheets.ts';

const [site = '', cacheDir = '', ...names] = process.argv.slice(2);
const jobs = names.map((id) => {
  const path = join(site, 'batches', id);
  return { id, htmlPath: `${path}.html`, pdfPath: `${path}.pdf`, paper: 'a4' as const };
});
const { results } = await renderSheets(jobs, { cacheDir });
for (const { id, error } of results) if (error !== undefined) console.error(`${id}: ${error.found}`);
process.exitCode = results.every(({ status }) => status === 'rendered') ? 0 : 1;
