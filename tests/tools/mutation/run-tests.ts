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

/** The mutant that is on from the start, where one is named; then the scripts of the test files. */
const [fromStart = '', ...scripts] = process.argv.slice(2);

const board: Switchboard = {};
(globalThis as { __stryker__?: Switchboard }).__stryker__ = board;

let loads = 0;

/** The tests of a file; its body runs anew each time, the code that it tests does not. */
async function load(file: number): Promise<readonly CollectedTest[]> {
  loads += 1;
  const url = `${pathToFileURL(scripts[file] ?? '').href}?${loads}`;
  const { tests } = (await import(url)) as { tests: readonly CollectedTest[] };
  return tests;
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

interface Loaded {
  readonly test: CollectedTest;
  readonly file: number;
  /** Its place in the file. */
  readonly at: number;
}

async function dryRun(all: readonly Loaded[]): Promise<DryRun> {
  const tests = [];
  for (const [index, { test, file }] of all.entries()) {
    board.currentTestId = String(index);
    // The processor's time, not the clock's: what else the machine does must not decide which tests are quick.
    const start = process.cpuUsage();
    const failure = await failureOf(test);
    const { user, system } = process.cpuUsage(start);
    tests.push({ name: test.name, file, time_ms: (user + system) / 1000, failure });
  }
  board.currentTestId = undefined;
  const { static: whileLoading = {}, perTest: by = {} } = board.mutantCoverage ?? {};
  return { kind: 'dry-run', tests, whileLoading, by };
}

function switchOn({ mutant, hitLimit }: Order): void {
  Object.assign(board, { activeMutant: mutant, hitCount: 0, hitLimit });
}

const switchOff = (): void => {
  board.activeMutant = undefined;
};

/** The first of these tests that fails with the mutant on. */
async function killer(order: Order, tests: readonly CollectedTest[]): Promise<CollectedTest | null> {
  for (const test of tests) {
    switchOn(order);
    const failure = await failureOf(test);
    switchOff();
    if (failure !== null) return test;
  }
  return null;
}

async function tryMutant(all: readonly Loaded[], order: Order): Promise<Outcome> {
  const answer = (killed: boolean, spoilt = false): Outcome => ({ kind: 'outcome', killed, spoilt });
  const found = await killer(
    order,
    order.tests.map((index) => all[index]!.test),
  );
  if (found !== null) return answer(true, fromStart === '' && (await failureOf(found)) !== null);
  for (const file of order.files) {
    switchOn(order);
    // A file that does not even load with the mutant on has noticed it.
    const anew = await load(file).catch(() => null);
    switchOff();
    if (anew === null) return answer(true);
    const own = order.testsOfFiles.filter((index) => all[index]!.file === file);
    if (
      (await killer(
        order,
        own.map((index) => anew[all[index]!.at]!),
      )) !== null
    )
      return answer(true);
  }
  return answer(false);
}

fc.configureGlobal({ seed: 20, endOnFailure: true });
if (fromStart !== '') board.activeMutant = fromStart;
const all: Loaded[] = [];
for (const file of scripts.keys()) {
  const tests = await load(file);
  all.push(...tests.map((test, at) => ({ test, file, at })));
}
switchOff();
process.on('message', (order: Order | 'dry-run') => {
  const answer = order === 'dry-run' ? dryRun(all) : tryMutant(all, order);
  answer.then((message) => process.send?.(message)).catch(() => process.exit(3));
});
// Nobody is left to tell.
process.on('disconnect', () => process.exit());
process.send?.('ready');
