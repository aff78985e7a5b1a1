/** One measurement in a process of its own: `jiti measured.ts one|many CONTENT`. */
import { execFileSync } from 'node:child_process';
import { join } from 'node:path';
import { loadSite } from '../../../lib/site/archive.ts';
import { buildSite } from '../../../lib/site/build.ts';
import { createPages } from '../../../lib/site/pages.ts';
import { ROOT } from '../../../lib/site/paths.ts';

const JITI = join(ROOT, 'node_modules/jiti/lib/jiti-cli.mjs');

/** Times of the processor, so that other work on the machine changes them little, and the largest memory. */
export interface Measured {
  readonly plan_ms: number;
  readonly show_ms: number;
  readonly memory_MB: number;
}

const processor_ms = (since?: NodeJS.CpuUsage): number => {
  const { user, system } = process.cpuUsage(since);
  return (user + system) / 1000;
};

/** An archive is read and planned, and its site is built or its one batch is shown. */
async function measure(way: string, content: string): Promise<Measured> {
  if (way === 'one') {
    // What is loaded and compiled on first use is no part of the growth.
    const warm = await loadSite(join(ROOT, 'content'));
    createPages(warm.content).file('index.html');
  }
  let start = process.cpuUsage();
  const site = await loadSite(content);
  const plan_ms = processor_ms(start);
  if (site.content.entries.length === 0) throw new Error(JSON.stringify(site.problems.slice(0, 3)));
  start = process.cpuUsage();
  if (way === 'many') await buildSite({ contentDir: content, outputDir: `${content}-out`, data: site });
  else {
    const pages = createPages(site.content);
    for (const slug of pages.batchSlugs) {
      pages.file(`batches/${slug}/index.html`);
      pages.file(`recipes/${slug}/index.html`);
      pages.file(`batches/${slug}/plan.json`);
      for (const file of ['kettle-sheet', 'cellar-sheet', 'recipe-card'] as const)
        pages.file(`batches/${slug}/${file}.html`);
    }
  }
  return { plan_ms, show_ms: processor_ms(start), memory_MB: process.resourceUsage().maxRSS / 1024 };
}

/** Measures in a process of its own. */
export function apart(way: 'one' | 'many', content: string): Measured {
  const args = [JITI, import.meta.filename, way, content];
  const told = execFileSync(process.execPath, args, { encoding: 'utf8', cwd: ROOT });
  return JSON.parse(told.trim().split('\n').at(-1) ?? '') as Measured;
}

const [own, way = '', content = ''] = process.argv.slice(1);
if (own === import.meta.filename) console.log(JSON.stringify(await measure(way, content)));
