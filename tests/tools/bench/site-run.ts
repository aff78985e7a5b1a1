/** One build of a site in a process of its own, for the table of times: `jiti site-run.ts site|bare CONTENT OUTPUT`. */
import { loadSite } from '../../../lib/site/archive.ts';
import { buildSite } from '../../../lib/site/build.ts';
import { buildBare } from './bare-site.ts';

export interface SiteRun {
  readonly batches: number;
  readonly pages: number;
  readonly plan_ms: number;
  readonly build_ms: number;
  /** Largest resident memory of the process so far, MB. */
  readonly memory_MB: number;
}

const [way = '', contentDir = '', outputDir = ''] = process.argv.slice(2);
const start = performance.now();
const data = await loadSite(contentDir);
const planned = performance.now();
const pages =
  way === 'bare'
    ? await buildBare(data.content, outputDir)
    : (await buildSite({ contentDir, outputDir, data })).pages.length;
const run: SiteRun = {
  batches: data.content.entries.length,
  pages,
  plan_ms: planned - start,
  build_ms: performance.now() - planned,
  // Node gives kilobytes on every system.
  memory_MB: process.resourceUsage().maxRSS / 1024,
};
console.log(JSON.stringify(run));
