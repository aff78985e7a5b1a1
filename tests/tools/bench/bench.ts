/** `npm run bench`: how long the work takes, each figure beside that of the least code that could do it, in the same run. */
import { execFileSync } from 'node:child_process';
import { mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { cpus, tmpdir } from 'node:os';
import { join } from 'node:path';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import { refit } from '../../../lib/batch/scaling/scale-recipe.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import { progressOn } from '../../../lib/commands/support/progress.ts';
import { FINE, runCommand } from '../../../lib/commands/support/run-command.ts';
import { CONTENT, type CommandSpec } from '../../../lib/commands/support/spec.ts';
import { type LoadedSite, loadSite } from '../../../lib/site/archive.ts';
import { ROOT } from '../../../lib/site/paths.ts';
import { buildBare } from './bare-site.ts';
import { generateArchive } from './generate-archive.ts';
import { changeShown } from './looking-on.ts';
import { apart } from './measured.ts';
import { additions, contentOf, notes, readings } from './much.ts';
import { measureAgainstPlainPrinting } from './printing.ts';
import type { SiteRun } from './site-run.ts';

const SPEC: CommandSpec = {
  name: 'bench',
  purpose: 'Times planning, building and printing, each beside the least code that could do it.',
  words: null,
  options: [
    { ...CONTENT, help: 'archive that the others are made from' },
    { name: 'large', value: null, help: 'a site of 5,000 batches too, which takes some minutes' },
    { name: 'quick', value: null, help: 'smaller archives, fewer sheets, one round' },
  ],
};

interface Row {
  readonly what: string;
  readonly ours: string;
  readonly least: string;
  readonly ratio: number | null;
}

const JITI = join(ROOT, 'node_modules/jiti/lib/jiti-cli.mjs');
const KETTLESIDE = join(ROOT, 'lib/commands/kettleside.js');
const progress = progressOn();

/** Tells at the end of a process what it took of the processor. */
const TELL_CPU =
  'data:text/javascript,process.on("exit",()=>{const{user,system}=process.cpuUsage();console.log((user+system)/1000)})';

const node = (args: readonly string[]): string =>
  execFileSync(process.execPath, args, { encoding: 'utf8', cwd: ROOT, stdio: ['ignore', 'pipe', 'inherit'] });

const ms = (time_ms: number): string =>
  time_ms < 1000 ? `${time_ms.toFixed(time_ms < 10 ? 1 : 0)} ms` : `${(time_ms / 1000).toFixed(2)} s`;

await runCommand(SPEC, async (args) => {
  const content = args.text('content') ?? '';
  const quick = args.flag('quick');
  const dir = await mkdtemp(join(tmpdir(), 'kettleside-bench-'));
  try {
    const demo = await loadSite(content);
    // Before anything is taken away: some file systems are slow at making files for minutes after many were deleted.
    const changes = await again(content, dir, quick ? 100 : 1000);
    const rows: Row[] = plans(demo, quick ? 1000 : 4000);
    for (const count of quick ? [10, 100] : [10, 100, 1000])
      rows.push(...(await site(content, dir, count, quick ? 1 : 3)));
    if (args.flag('large')) rows.push(...(await site(content, dir, 5000, 1)));
    rows.push(...changes);
    rows.push(await lookingOn(dir, quick ? 100 : 1000));
    rows.push(...much(dir));
    rows.push(await sheets(demo, dir, quick ? 4 : 12));
    rows.push(startUp(content, quick ? 3 : 9));
    progress.end();
    const [cpu] = cpus();
    console.log(`Node ${process.version}, ${cpus().length} × ${cpu?.model ?? 'unknown'}\n`);
    console.log(table(rows));
  } finally {
    await rm(dir, { recursive: true, force: true });
  }
  return FINE;
});

/** One act on every batch of the archive over and over, once everything is warm. */
function each(what: string, batches: readonly Batch[], time_ms: number, act: (batch: Batch) => void): Row {
  progress.say(what);
  for (let warm = 0; warm < 3; warm++) batches.forEach(act);
  const start = performance.now();
  let done = 0;
  while (performance.now() - start < time_ms) {
    batches.forEach(act);
    done += batches.length;
  }
  const each_ms = (performance.now() - start) / done;
  return {
    what,
    ours: `${ms(each_ms)} (${Math.round(1000 / each_ms)} a second)`,
    least: '',
    ratio: null,
  };
}

/** Plans with and without readings, and recipes fitted to another volume. */
function plans({ content, archive: { brewery } }: LoadedSite, time_ms: number): Row[] {
  const batches = content.entries.map(({ batch }) => batch);
  const unread = batches.map((batch): Batch => ({ ...batch, readings: {} }));
  return [
    each('one plan with its uncertainty, warm', unread, time_ms, (batch) => planBatch(batch, brewery)),
    each('the same with readings and verdicts', batches, time_ms, (batch) => planBatch(batch, brewery)),
    each('one recipe fitted to 0.9 of its volume', unread, time_ms, (batch) => {
      refit(batch, { intoFermenter_L: 0.9 * batch.recipe.intoFermenter_L.value, rounding: 'kitchen' });
    }),
  ];
}

/** The site through Eleventy against the plain loop, in processes of their own, in turns; the fastest of each counts. */
async function site(demo: string, dir: string, count: number, rounds: number): Promise<Row[]> {
  const content = join(dir, `content-${count}`);
  await generateArchive(demo, content, count);
  const runs: { site: SiteRun[]; bare: SiteRun[] } = { site: [], bare: [] };
  for (let round = 0; round < rounds; round++) {
    for (const way of ['bare', 'site'] as const) {
      progress.say(`site of ${count} batches, round ${round + 1} of ${rounds}: ${way}`);
      const output = join(dir, `out-${way}`);
      const told = node([JITI, join(import.meta.dirname, 'site-run.ts'), way, content, output]);
      runs[way].push(JSON.parse(told.trim().split('\n').at(-1) ?? '') as SiteRun);
      await rm(output, { recursive: true, force: true });
    }
  }
  const least = (way: 'site' | 'bare', key: keyof SiteRun) => Math.min(...runs[way].map((run) => run[key]));
  const { pages = 0, batches = 0 } = runs.site[0] ?? {};
  const both = (key: keyof SiteRun) => ({ ours: least('site', key), bare: least('bare', key) });
  const [build, memory] = [both('build_ms'), both('memory_MB')];
  return [
    {
      what: `site of ${batches} batches, ${pages} files, plans ready`,
      ours: ms(build.ours),
      least: `${ms(build.bare)} plain loop`,
      ratio: build.ours / build.bare,
    },
    {
      what: '  reading and planning before that',
      ours: ms(least('site', 'plan_ms')),
      least: '',
      ratio: null,
    },
    {
      what: '  largest memory, planning included',
      ours: `${Math.round(memory.ours)} MB`,
      least: `${Math.round(memory.bare)} MB plain loop`,
      ratio: memory.ours / memory.bare,
    },
  ];
}

/** The command for the site into a new folder, then with a title changed, then with nothing changed: times of the processor. */
async function again(demo: string, dir: string, count: number): Promise<Row[]> {
  const content = join(dir, `again-${count}`);
  await generateArchive(demo, content, count);
  const output = join(dir, 'again-out');
  const build = (what: string): number => {
    progress.say(`site of ${count} batches, ${what}`);
    const site = [KETTLESIDE, 'site', '--content', content, '--output', output];
    return Number(
      node(['--import', TELL_CPU, ...site])
        .trim()
        .split('\n')
        .at(-1),
    );
  };
  const file = join(content, 'batches/batch-00007.md');
  const full = build('for the first time');
  const first = {
    what: `npm run site, a batch of ${count} with its files, processor`,
    ours: ms(full / count),
  };
  const rows: Row[] = [{ ...first, least: '', ratio: null }];
  await writeFile(file, (await readFile(file, 'utf8')).replace(/^title:.*$/m, 'title: Renamed'));
  for (const what of ['a title changed', 'nothing changed']) {
    const took = build(what);
    const of = `npm run site of ${count} batches, ${what}, processor`;
    rows.push({ what: of, ours: ms(took), least: `${ms(full)} for all of it`, ratio: took / full });
  }
  return rows;
}

/** A change under `npm start`, in archives that are there from before, beside the same in a small one. */
async function lookingOn(dir: string, count: number): Promise<Row> {
  progress.say('looking on while a file changes');
  const shown = (batches: number) => changeShown(join(dir, `content-${batches}`), join(dir, 'looking-on'), 5);
  const [few, many] = [await shown(10), await shown(count)];
  return {
    what: `a change under npm start with ${count} batches, until it is shown`,
    ours: ms(many),
    least: `${ms(few)} with 10 batches`,
    ratio: many / few,
  };
}

/** Very much of one thing in one batch, beside half of it: twice the time is growth in proportion. */
function much(dir: string): Row[] {
  const kinds = [
    { size: 200, what: 'additions of hops', text: additions },
    { size: 2000, what: 'readings of a fermentation', text: readings },
    { size: 1000, what: 'kB of notes', text: notes('words') },
    { size: 1000, what: 'kB of brackets as notes', text: notes('brackets') },
  ];
  return kinds.map(({ size, what, text }) => {
    progress.say(`a batch with ${size} ${what}`);
    const [half = 0, whole = 0] = [size / 2, size].map((each) => {
      const content = join(dir, 'much');
      contentOf(content, text(each));
      const { plan_ms, show_ms } = apart('one', content);
      return plan_ms + show_ms;
    });
    return {
      what: `a batch with ${size} ${what}, planned and shown`,
      ours: ms(whole),
      least: `${ms(half)} with half of it`,
      ratio: whole / half,
    };
  });
}

async function sheets({ content }: LoadedSite, dir: string, count: number): Promise<Row> {
  progress.say('printing sheets');
  const output = join(dir, 'sheets');
  await buildBare(content, output);
  const slugs = content.entries.filter(({ batch }) => batch.publish === 'all').map(({ batch }) => batch.slug);
  const paths = slugs.slice(0, count).map((slug) => join(output, 'batches', slug, 'kettle-sheet.html'));
  const { sheet_ms, plain_ms, ratio } = await measureAgainstPlainPrinting(paths);
  return {
    what: `one of ${paths.length} kettle sheets, warm, not from the cache`,
    ours: ms(sheet_ms),
    least: `${ms(plain_ms)} printed without pagination`,
    ratio,
  };
}

function startUp(content: string, rounds: number): Row {
  const check = [KETTLESIDE, 'check', '--content', content];
  const fastest = (args: readonly string[]): number => {
    const times = Array.from({ length: rounds }, () => {
      const start = performance.now();
      node(args);
      return performance.now() - start;
    });
    return Math.min(...times);
  };
  progress.say('starting the check');
  const [ours, least] = [fastest(check), fastest(['-e', ''])];
  return {
    what: 'npm run check on the demo, from start to end',
    ours: ms(ours),
    least: `${ms(least)} starting Node`,
    ratio: ours / least,
  };
}

function table(rows: readonly Row[]): string {
  const cells = rows.map(({ what, ours, least, ratio }) => [
    what,
    ours,
    least,
    ratio === null ? '' : `${ratio.toFixed(2)} ×`,
  ]);
  const all = [['what', 'Kettleside', 'the least code', 'ratio'], ...cells];
  const widths = [0, 1, 2, 3].map((at) => Math.max(...all.map((row) => row[at]?.length ?? 0)));
  const lines = all.map((row) => `| ${row.map((cell, at) => cell.padEnd(widths[at] ?? 0)).join(' | ')} |`);
  lines.splice(1, 0, `| ${widths.map((width) => '-'.repeat(width)).join(' | ')} |`);
  return lines.join('\n');
}
