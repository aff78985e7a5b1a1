/**
 * How time and memory grow with an archive, a recipe, a log and notes: `npx jiti tests/bench/scale.ts [--quick]`.
 *
 * Times are of the processor, so that other work on the machine changes them little. The last column is the power of the
 * size that the time grows with from the row before: 1 is in proportion, 2 its square.
 */
import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { cp } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { createPages } from '../../lib/site/pages.ts';
import { ROOT } from '../../lib/site/paths.ts';
import { generateArchive } from './generate-archive.ts';

const JITI = join(ROOT, 'node_modules/jiti/lib/jiti-cli.mjs');
const TABLES = ['brewery.yaml', 'setups.yaml', 'ingredients.yaml'];

interface Measured {
  readonly plan_ms: number;
  readonly show_ms: number;
  readonly memory_MB: number;
}

const processor_ms = (since?: NodeJS.CpuUsage): number => {
  const { user, system } = process.cpuUsage(since);
  return (user + system) / 1000;
};

/** In a process of its own: an archive is read and planned, and its site is built or its one batch is shown. */
async function measure(way: string, content: string): Promise<Measured> {
  if (way === 'one') {
    // What is loaded and compiled on first use is no part of the growth.
    const warm = await loadSite(join(ROOT, 'content'));
    createPages(warm.content).list();
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
      pages.batch(slug);
      pages.recipe(slug);
      pages.plan(slug);
      for (const file of ['kettle-sheet', 'cellar-sheet', 'recipe-card'] as const) pages.sheet(file, slug);
    }
  }
  return { plan_ms, show_ms: processor_ms(start), memory_MB: process.resourceUsage().maxRSS / 1024 };
}

const head = ['---', 'title: Very much', 'setup: stove', 'brewed: 2026-02-14', 'recipe:'];
const basis = [
  '  into_fermenter: 10 L',
  '  boil: 60 min',
  '  extract:',
  '    - { name: light dry extract, weight: 1.2 kg }',
  '  yeast:',
  '    - { name: English ale, form: dry, amount: 11 g }',
];

function additions(count: number): string {
  const hops = Array.from(
    { length: count },
    (_, at) => `    - { name: Fuggle, weight: 0.5 g, alpha: 4.6 %, add: ${at % 61} min }`,
  );
  return [...head, ...basis, '  hops:', ...hops, '---', ''].join('\n');
}

function readings(count: number): string {
  const log = Array.from({ length: count }, (_, at) => {
    const on = new Date(Date.UTC(2026, 1, 15) + at * 3_600_000).toISOString().slice(0, 16).replace('T', ' ');
    const gravity = 1.01 + 0.03 * Math.exp(-at / (count / 4));
    return `    - { on: ${on}, gravity: ${gravity.toFixed(4)}, temperature: 19 °C }`;
  });
  return [
    ...head,
    ...basis,
    'readings:',
    '  original_gravity: 1.040',
    '  fermentation:',
    ...log,
    '---',
    '',
  ].join('\n');
}

const notes = (kind: 'words' | 'brackets') => (kilobytes: number) => {
  const unit =
    kind === 'words' ? 'More **roast** next time, and [less](https://example.org) water.\n\n' : '![[';
  return [...head, ...basis, '---', unit.repeat(Math.floor((kilobytes * 1000) / unit.length)), ''].join('\n');
};

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
        else {
          mkdirSync(join(content, 'batches'), { recursive: true });
          for (const table of TABLES) await cp(join(ROOT, 'content', table), join(content, table));
          writeFileSync(join(content, 'batches/much.md'), text(size));
        }
        const args = [JITI, import.meta.filename, text === null ? 'many' : 'one', content];
        const told = execFileSync(process.execPath, args, { encoding: 'utf8', cwd: ROOT });
        const { plan_ms, show_ms, memory_MB } = JSON.parse(told.trim().split('\n').at(-1) ?? '') as Measured;
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

const [way = '', content = ''] = process.argv.slice(2).filter((word) => !word.startsWith('--'));
if (way === '') await run();
else console.log(JSON.stringify(await measure(way, content)));
