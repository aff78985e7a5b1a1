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

async function once(way: Way, contentDir: string, outputDir: string): Promise<void> {
  const data = await loadSite(contentDir);
  const start = performance.now();
  const pages =
    way === 'site'
      ? (await buildSite({ contentDir, outputDir, data })).pages.length
      : await buildBare(data.content, outputDir);
  console.log(JSON.stringify({ way, pages, ms: Math.round(performance.now() - start) }));
}

async function compare(count: number, rounds: number): Promise<void> {
  const dir = await mkdtemp(join(tmpdir(), 'kettleside-bench-'));
  const content = join(dir, 'content');
  await generateArchive('content', content, count);
  const times: Record<Way, number[]> = { site: [], bare: [] };
  for (let round = 0; round < rounds; round++)
    for (const way of ['bare', 'site'] as const) {
      const out = join(dir, `out-${way}-${round}`);
      const jiti = fileURLToPath(new URL('../../node_modules/jiti/lib/jiti-cli.mjs', import.meta.url));
      const text = execFileSync(process.execPath, [jiti, fileURLToPath(import.meta.url), way, content, out], {
        encoding: 'utf8',
      });
      const { ms, pages } = JSON.parse(text.trim().split('\n').at(-1)!) as { ms: number; pages: number };
      times[way].push(ms);
      console.log(`${way}  ${pages} pages  ${ms} ms`);
      await rm(out, { recursive: true, force: true });
    }
  const best = (way: Way): number => Math.min(...times[way]);
  console.log(
    `fastest: site ${best('site')} ms, bare ${best('bare')} ms, ${(best('site') / best('bare')).toFixed(2)} ×`,
  );
  await rm(dir, { recursive: true, force: true });
}

const [first = '1000', second, third] = process.argv.slice(2);
if (first === 'site' || first === 'bare') await once(first, second!, third!);
else await compare(Number(first), Number(second ?? 3));
