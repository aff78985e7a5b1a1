import { pathToFileURL } from 'node:url';
import fc from 'fast-check';
import type { DryRun, Order, Outcome, Passes } from './messages.ts';
import type { CollectedTest } from './test-collector.ts';

/** The instrumented code reads here which mutant is on, and writes which places it passed. */
interface Switchboard {
  activeMutant?: string | undefined;
  currentTestId?: string | undefined;
  hitCount?: number | undefined;
  hitLimit?: number | undefined;
  mutantCoverage?: { static: Record<string, number>; perTest: Record<string, Passes> };
}

const board: Switchboard = {};
(globalThis as { __stryker__?: Switchboard }).__stryker__ = board;

const script = pathToFileURL(process.argv[2] ?? '').href;
let loads = 0;

async function load(): Promise<readonly CollectedTest[]> {
  loads += 1;
  const { TESTS } = (await import(`${script}?${loads}`)) as { TESTS: readonly CollectedTest[] };
  return TESTS;
}

async function failureOf(test: CollectedTest | undefined): Promise<string | null> {
  if (!test) throw new Error('The parent asked for a test that is not there.');
  try {
    await test.run();
    return null;
  } catch (error) {
    return error instanceof Error ? error.message : String(error);
  }
}

async function dryRun(all: readonly CollectedTest[]): Promise<DryRun> {
  const tests = [];
  for (const [index, test] of all.entries()) {
    board.currentTestId = String(index);
    // The processor's time, not the clock's: what else the machine does must not decide which tests are quick.
    const start = process.cpuUsage();
    const failure = await failureOf(test);
    const { user, system } = process.cpuUsage(start);
    tests.push({ name: test.name, file: test.file, time_ms: (user + system) / 1000, failure });
  }
  board.currentTestId = undefined;
  const { static: whileLoading = {}, perTest: by = {} } = board.mutantCoverage ?? {};
  return { kind: 'dry-run', tests, whileLoading, by };
}

/** The first of these tests that fails with the mutant on. */
async function killer(all: readonly CollectedTest[], order: Order, tests: readonly number[]) {
  for (const index of tests) {
    Object.assign(board, { activeMutant: order.mutant, hitCount: 0, hitLimit: order.hitLimit });
    const failure = await failureOf(all[index]);
    board.activeMutant = undefined;
    if (failure !== null) return index;
  }
  return null;
}

async function tryMutant(all: readonly CollectedTest[], order: Order): Promise<Outcome> {
  const found = await killer(all, order, order.tests);
  if (found !== null) {
    const spoilt = (await failureOf(all[found])) !== null;
    return { kind: 'outcome', killed: true, spoilt };
  }
  if (order.reloaded.length === 0) return { kind: 'outcome', killed: false, spoilt: false };
  Object.assign(board, { activeMutant: order.mutant, hitCount: 0, hitLimit: order.hitLimit });
  // Code that does not even load with the mutant on is noticed by every test.
  const anew = await load().catch(() => null);
  board.activeMutant = undefined;
  const killed = anew === null || (await killer(anew, order, order.reloaded)) !== null;
  return { kind: 'outcome', killed, spoilt: false };
}

fc.configureGlobal({ seed: 20, endOnFailure: true });
const all = await load();
process.on('message', (order: Order | 'dry-run') => {
  const answer = order === 'dry-run' ? dryRun(all) : tryMutant(all, order);
  answer.then((message) => process.send?.(message)).catch(() => process.exit(3));
});
process.send?.('ready');
