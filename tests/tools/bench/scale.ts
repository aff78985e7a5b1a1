/**
 * How time and memory grow with an archive, a recipe, a log and notes: `npx jiti tests/tools/bench/scale.ts [--quick]`.
 *
 * Times are of the processor, so that other work on the machine changes them little. The last column is the power of the
 * size that the time grows with from the row before: 1 is in proportion, 2 its square.
 */
import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ROOT } from '../../../lib/site/paths.ts';
import { generateArchive } from './generate-archive.ts';
import { apart } from './measured.ts';
import { additions, contentOf, notes, readings } from './much.ts';

interface Series {
  readonly what: string;
  readonly sizes: readonly number[];
  readonly text: ((size: number) => string) | null;
}

const quick = process.argv.includes('--quick');
const SERIES: readonly Series[] = [
  { what: 'additions of hops in one batch', sizes: [50, 100, 200], text: additions },
  { what: 'readings in one log', sizes: [500, 1000, 2000], text: readings },
  { what: 'kB of notes', sizes: [250, 500, 1000], text: notes('words') },
  { what: 'kB of brackets as notes', sizes: [250, 500, 1000], text: notes('brackets') },
  { what: 'batches', sizes: quick ? [100, 200] : [1250, 2500, 5000], text: null },
];

async function run(): Promise<void> {
  const dir = mkdtempSync(join(tmpdir(), 'kettleside-scale-'));
  console.log('| what | read and planned | shown | memory | power |\n| --- | --- | --- | --- | --- |');
  try {
    for (const { what, sizes, text } of SERIES) {
      let before: { size: number; ms: number } | null = null;
      for (const size of sizes) {
        const content = join(dir, `content-${size}`);
        if (text === null) await generateArchive(join(ROOT, 'content'), content, size);
        else contentOf(content, text(size));
        const { plan_ms, show_ms, memory_MB } = apart(text === null ? 'many' : 'one', content);
        const ms = plan_ms + show_ms;
        const power =
          before === null ? '' : (Math.log(ms / before.ms) / Math.log(size / before.size)).toFixed(2);
        console.log(
          `| ${size} ${what} | ${Math.round(plan_ms)} ms | ${Math.round(show_ms)} ms | ${Math.round(memory_MB)} MB | ${power} |`,
        );
        before = { size, ms };
        rmSync(content, { recursive: true, force: true });
        rmSync(`${content}-out`, { recursive: true, force: true });
      }
    }
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

await run();
