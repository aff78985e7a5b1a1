import { mkdirSync, rmSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { parseArgs } from 'node:util';
import { seeded } from '../fuzz/random.ts';
import type { Mutant } from './bundle-tests.ts';
import { bundleTests } from './bundle-tests.ts';
import type { DryRun, Order } from './messages.ts';
import { caught, percent, type Result, report } from './report.ts';
import { Worker } from './worker.ts';

/*
 * Do the tests notice a change? Every small change ("mutant") that the instrumenter knows is put into the code behind a switch,
 * all at once; then each is switched on in turn, and the tests that pass its place are run until one fails.
 *
 *   npm run mutate                        all of lib/formulas and lib/batch
 *   npm run mutate -- lib/batch/model/kettle-limits.ts   the mutants of files whose path has this in it
 *   npm run mutate -- --sample 1000       a thousand of them, drawn by chance, the same ones each time
 *   npm run mutate -- --processes 1       with one process at a time instead of two
 */
const FOLDER = join(import.meta.dirname, '../../../.cache/mutation');
/**
 * A test that takes a larger share of the time of all is left out: it would be run some thousand times. So much of them is run
 * against one mutant; what needs more to be noticed counts as missed. Shares are the same on a slow machine.
 */
const TOO_LONG_SHARE = 1 / 60;
const BUDGET_SHARE = 1 / 6;
/** What is loaded anew stays in memory. */
const MOST_RELOADS = 400;

function mustPass({ tests }: DryRun): void {
  const failed = tests.filter(({ failure }) => failure !== null);
  if (failed.length === 0) return;
  const lines = failed.map(({ name, failure }) => `${name}: ${failure}`);
  throw new Error(`These tests fail without any change:\n${lines.join('\n')}`);
}

/**
 * How likely tests are to notice a change of a file, the likeliest 0: those that pass any place of it and stand in the folder
 * that mirrors its own, then the others that pass it.
 */
function ranksOf(file: string): readonly number[] {
  const own = mutants.filter((mutant) => mutant.file === file).map(({ id }) => id);
  const mirror = `${dirname(file).replace('lib', 'tests')}/`;
  return dry.tests.map((test, index) => {
    if (!own.some((id) => (dry.by[index]?.[id] ?? 0) > 0)) return 2;
    return built.files[test.file]?.startsWith(mirror) ? 0 : 1;
  });
}

/** The likeliest first and of them the quickest, as far as the budget goes. */
function chosen(tests: readonly number[], ranks: readonly number[]): number[] {
  const rank = (index: number) => (ranks[index] ?? 0) * all_ms + (dry.tests[index]?.time_ms ?? 0);
  let left_ms = BUDGET_SHARE * all_ms;
  return [...tests]
    .sort((a, b) => rank(a) - rank(b))
    .filter((index) => {
      left_ms -= dry.tests[index]?.time_ms ?? 0;
      return left_ms >= 0;
    });
}

/** What can notice a mutant. */
function orderOf({ id, file }: Mutant): Order {
  const tests: number[] = [];
  const testsOfFiles: number[] = [];
  let passes = dry.whileLoading[id] ?? 0;
  for (const [index, test] of dry.tests.entries()) {
    if (test.time_ms > TOO_LONG_SHARE * all_ms) continue;
    const own = dry.by[index]?.[id] ?? 0;
    const byFile = dry.by[`file ${test.file}`]?.[id] ?? 0;
    if (own > 0) tests.push(index);
    else if (byFile > 0) testsOfFiles.push(index);
    passes = Math.max(passes, own, byFile);
  }
  const ranks = ranksByFile.get(file) ?? ranksOf(file);
  ranksByFile.set(file, ranks);
  return {
    kind: 'order',
    mutant: id,
    tests: chosen(tests, ranks),
    files: [...new Set(testsOfFiles.map((index) => dry.tests[index]?.file ?? 0))],
    testsOfFiles: chosen(testsOfFiles, ranks),
    hitLimit: passes * 100 + 1000,
  };
}

/** Every test, for a mutant that was on while the code was loaded. */
function orderOfAll(mutant: Mutant): Order {
  const own = orderOf(mutant);
  const ranks = ranksByFile.get(mutant.file) ?? [];
  const all = [...dry.tests.keys()].filter(
    (index) => (dry.tests[index]?.time_ms ?? 0) <= TOO_LONG_SHARE * all_ms,
  );
  return { ...own, tests: chosen(all, ranks), files: [], testsOfFiles: [] };
}

/** A mutant that is passed while the code is loaded has a process of its own. */
async function tryFromStart(mutant: Mutant): Promise<Result['state']> {
  const worker = new Worker(built, mutant.id);
  const loaded = await worker.ready();
  const outcome = loaded ? await worker.try(orderOfAll(mutant)) : null;
  worker.end();
  if (loaded && outcome === null) return 'timed-out';
  return outcome?.killed === false ? 'survived' : 'killed';
}

/** Takes the next mutant until none is left. */
async function work(queue: Mutant[], tell: (result: Result) => void): Promise<void> {
  let worker = new Worker(built);
  let reloads = 0;
  for (let mutant = queue.shift(); mutant; mutant = queue.shift()) {
    const order = orderOf(mutant);
    const loading = (dry.whileLoading[mutant.id] ?? 0) > 0;
    if (order.tests.length + order.files.length === 0) {
      tell({ mutant, state: loading ? await tryFromStart(mutant) : 'not-covered' });
      continue;
    }
    const outcome = await worker.try(order);
    reloads += order.files.length;
    if (outcome === null || outcome.spoilt || reloads > MOST_RELOADS) {
      worker.end();
      worker = new Worker(built);
      reloads = 0;
    }
    if (outcome?.spoilt) queue.push(mutant);
    else if (outcome?.killed === false)
      tell({ mutant, state: loading ? await tryFromStart(mutant) : 'survived' });
    else tell({ mutant, state: outcome === null ? 'timed-out' : 'killed' });
  }
  worker.end();
}

rmSync(FOLDER, { recursive: true, force: true });
mkdirSync(FOLDER, { recursive: true });
const { values, positionals } = parseArgs({
  options: { sample: { type: 'string' }, processes: { type: 'string', default: '2' } },
  allowPositionals: true,
});
const built = await bundleTests(FOLDER);
const mutants = built.mutants.filter(
  ({ file }) => positionals.length === 0 || positionals.some((word) => file.includes(word)),
);
const first = new Worker(built);
const dry = await first.dryRun();
first.end();
mustPass(dry);
const all_ms = dry.tests.reduce((sum, { time_ms }) => sum + time_ms, 0);
console.log(`${mutants.length} mutants, ${dry.tests.length} tests of ${Math.round(all_ms)} ms in all`);

const ranksByFile = new Map<string, readonly number[]>();
const results: Result[] = [];
const { next } = seeded(1);
// In an order of chance, so that the score is a fair guess from the first hundred on.
const queue = mutants
  .map((mutant) => ({ mutant, at: next() }))
  .sort((a, b) => a.at - b.at)
  .map(({ mutant }) => mutant)
  .slice(0, Number(values.sample ?? mutants.length));
const start = Date.now();
const tell = (result: Result) => {
  results.push(result);
  if (results.length % 100 > 0) return;
  writeFileSync(join(FOLDER, 'report.txt'), report(results));
  const score = percent(results.filter(caught).length, results.length);
  console.log(`${results.length} tried, ${score} killed, ${Math.round((Date.now() - start) / 1000)} s`);
};
await Promise.all(Array.from({ length: Number(values.processes) }, () => work(queue, tell)));
const text = report(results);
writeFileSync(join(FOLDER, 'report.txt'), text);
console.log(text);
