/**
 * Times the site's build against the plain loop, plans ready-made in both: `jiti tests/bench/site-times.ts 1000`.
 *
 * Each build runs in a process of its own, so that neither profits from what the other has warmed up.
 */
import { execFileSync } from 'node:child_process';
import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { buildBare } from './bare-site.ts';
import { generateArchive } from './generate-archive.ts';

type Way = 'site' | 'bare';

interface Run {
  readonly pages: number;
  readonly ms: number;
  /** Processor time of all threads: what a busy machine changes least. */
  readonly cpu_ms: number;
  readonly memory_MB: number;
}

async function once(way: Way, contentDir: string, outputDir: string): Promise<void> {
  const data = await loadSite(contentDir);
  const cpu = process.cpuUsage();
  const start = performance.now();
  const pages =
    way === 'site'
      ? (await buildSite({ contentDir, outputDir, data })).pages.length
      : await buildBare(data.content, outputDir);
  const ms = Math.round(performance.now() - start);
  const { user, system } = process.cpuUsage(cpu);
  const memory_MB = Math.round(process.resourceUsage().maxRSS / 1024);
  console.log(JSON.stringify({ way, pages, ms, cpu_ms: Math.round((user + system) / 1000), memory_MB }));
}

async function compare(count: number, rounds: number): Promise<void> {
  const dir = await mkdtemp(join(tmpdir(), 'kettleside-bench-'));
  const content = join(dir, 'content');
  await generateArchive('content', content, count);
  const runs: Record<Way, Run[]> = { site: [], bare: [] };
  for (let round = 0; round < rounds; round++)
    for (const way of ['bare', 'site'] as const) {
      const out = join(dir, `out-${way}-${round}`);
      const jiti = fileURLToPath(new URL('../../node_modules/jiti/lib/jiti-cli.mjs', import.meta.url));
      const text = execFileSync(process.execPath, [jiti, fileURLToPath(import.meta.url), way, content, out], {
        encoding: 'utf8',
      });
      const run = JSON.parse(text.trim().split('\n').at(-1)!) as Run;
      runs[way].push(run);
      console.log(
        `${way}  ${run.pages} pages  ${run.ms} ms  ${run.cpu_ms} ms of processor  ${run.memory_MB} MB`,
      );
      await rm(out, { recursive: true, force: true });
    }
  for (const what of ['ms', 'cpu_ms'] as const) {
    const best = (way: Way): number => Math.min(...runs[way].map((run) => run[what]));
    console.log(
      `${what}: site ${best('site')}, bare ${best('bare')}, ${(best('site') / best('bare')).toFixed(2)} ×`,
    );
  }
  await rm(dir, { recursive: true, force: true });
}

const [first = '1000', second, third] = process.argv.slice(2);
if (first === 'site' || first === 'bare') await once(first, second!, third!);
else await compare(Number(first), Number(second ?? 3));
