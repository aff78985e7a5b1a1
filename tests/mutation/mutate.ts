import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
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
 *   npm run mutate -- lib/batch/fits.ts   the mutants of files whose path has this in it
 *   npm run mutate -- --sample 1000       a thousand of them, drawn by chance, the same ones each time
 */
const FOLDER = join(import.meta.dirname, '../../.cache/mutation');
const TESTS = join(FOLDER, 'tests.mjs');
const RUNNER = join(FOLDER, 'run-tests.mjs');
/** A test that takes longer is left out: it would be run some thousand times. */
const TOO_LONG_MS = 150;
const PROCESSES = 2;
/** As much of its tests, by their time without a change, is run against one mutant; what it needs more to be noticed counts as missed. */
const BUDGET_MS = 3000;
/** What was loaded anew stays in memory. */
const RELOADS = 40;

function mustPass({ tests }: DryRun): void {
  const failed = tests.filter(({ failure }) => failure !== null);
  if (failed.length === 0) return;
  const lines = failed.map(({ name, failure }) => `${name}: ${failure}`);
  throw new Error(`These tests fail without any change:\n${lines.join('\n')}`);
}

/** The tests that pass any place of a file: they are the likeliest to notice what it works out while it is loaded. */
function passersOf(file: string): ReadonlySet<number> {
  const own = mutants.filter((mutant) => mutant.file === file).map(({ id }) => id);
  const passes = (index: number) => own.some((id) => (dry.by[index]?.[id] ?? 0) > 0);
  return new Set([...dry.tests.keys()].filter(passes));
}

/** The likeliest first and of them the quickest, as far as the budget goes. */
function chosen(tests: readonly number[], likely: ReadonlySet<number>): number[] {
  const rank = (index: number) => (likely.has(index) ? 0 : TOO_LONG_MS) + (dry.tests[index]?.time_ms ?? 0);
  let left_ms = BUDGET_MS;
  return [...tests]
    .sort((a, b) => rank(a) - rank(b))
    .filter((index) => {
      left_ms -= dry.tests[index]?.time_ms ?? 0;
      return left_ms >= 0;
    });
}

/** The tests that can notice a mutant. */
function orderOf({ id, file }: Mutant): Order {
  const whileLoading = dry.whileLoading[id] ?? 0;
  const tests: number[] = [];
  const reloaded: number[] = [];
  let passes = whileLoading;
  for (const [index, test] of dry.tests.entries()) {
    if (test.time_ms > TOO_LONG_MS) continue;
    const own = dry.by[index]?.[id] ?? 0;
    const byFile = dry.by[`file ${test.file}`]?.[id] ?? 0;
    if (own > 0) tests.push(index);
    if (whileLoading > 0 || byFile > 0) reloaded.push(index);
    passes = Math.max(passes, own, byFile);
  }
  const likely = passers.get(file) ?? passersOf(file);
  passers.set(file, likely);
  return {
    kind: 'order',
    mutant: id,
    tests: chosen(tests, likely),
    reloaded: chosen(reloaded, likely),
    hitLimit: passes * 100 + 1000,
  };
}

/** Takes the next mutant until none is left. */
async function work(queue: Mutant[], tell: (result: Result) => void): Promise<void> {
  let worker = new Worker(RUNNER, TESTS);
  let reloads = 0;
  for (let mutant = queue.shift(); mutant; mutant = queue.shift()) {
    const order = orderOf(mutant);
    if (order.tests.length + order.reloaded.length === 0) {
      tell({ mutant, state: 'not-covered' });
      continue;
    }
    const outcome = await worker.try(order);
    reloads += order.reloaded.length > 0 && !outcome?.killed ? 1 : 0;
    if (outcome === null || outcome.spoilt || reloads > RELOADS) {
      worker.end();
      worker = new Worker(RUNNER, TESTS);
      reloads = 0;
    }
    if (outcome?.spoilt) queue.push(mutant);
    else tell({ mutant, state: outcome === null ? 'timed-out' : outcome.killed ? 'killed' : 'survived' });
  }
  worker.end();
}

mkdirSync(FOLDER, { recursive: true });
const { values, positionals } = parseArgs({
  options: { sample: { type: 'string' } },
  allowPositionals: true,
});
const mutants = (await bundleTests(TESTS, RUNNER)).filter(
  ({ file }) => positionals.length === 0 || positionals.some((word) => file.includes(word)),
);
const first = new Worker(RUNNER, TESTS);
const dry = await first.dryRun();
first.end();
mustPass(dry);
const all_ms = dry.tests.reduce((sum, { time_ms }) => sum + time_ms, 0);
console.log(`${mutants.length} mutants, ${dry.tests.length} tests of ${Math.round(all_ms)} ms in all`);

const passers = new Map<string, ReadonlySet<number>>();
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
await Promise.all(Array.from({ length: PROCESSES }, () => work(queue, tell)));
const text = report(results);
writeFileSync(join(FOLDER, 'report.txt'), text);
console.log(text);
