import { mkdirSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import type { Pages } from './pages.ts';

/**
 * Writes what needs nothing of the site generator, each file as soon as it is made: sheets, plans, data and the pages that lead
 * through the archive. The generator would hold all of them until the last is made, three quarters of the site.
 */
export function writeFiles(outputDir: string, pages: Pages): void {
  const made = new Set<string>();
  for (const path of pages.others) {
    const file = join(outputDir, path);
    const folder = dirname(file);
    if (!made.has(folder)) mkdirSync(folder, { recursive: true });
    made.add(folder);
    writeFileSync(file, pages.file(path));
  }
}
