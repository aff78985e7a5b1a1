/** `npm run fuzz`: ill files by the thousand, and work that is killed half-way. */
import { mkdirSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { progressOn } from '../../../lib/commands/support/progress.ts';
import { FAILED, FINE, runCommand } from '../../../lib/commands/support/run-command.ts';
import type { CommandSpec } from '../../../lib/commands/support/spec.ts';
import { UsageError } from '../../../lib/commands/support/usage-error.ts';
import { ROOT } from '../../../lib/site/paths.ts';
import { killAtMoments } from './kill.ts';
import { seeded } from './random.ts';
import { Bench, ROUND_LIMIT_MS } from './watched.ts';

const SPEC: CommandSpec = {
  name: 'fuzz',
  purpose:
    'Reads, plans and shows mutated files, and tells of each that ends in a crash, a hang or nonsense.',
  words: null,
  options: [
    { name: 'runs', value: 'N', fallback: '20000', help: 'files' },
    {
      name: 'kill',
      value: 'N',
      help: 'in place of files: commands that are killed at so many random moments',
    },
    { name: 'seed', value: 'S', fallback: '1', help: 'the same seed gives the same files' },
  ],
  more: [
    'Files that are trouble are kept below .cache/fuzz; once mended, they belong into tests/tools/fuzz/corpus.',
  ],
};

const FILES = 100;
const SHOWN = 0.25;
const BUILD_EVERY = 50;
const KEPT = join(ROOT, '.cache', 'fuzz');

const numberOf = (text: string | undefined, option: string): number => {
  const value = Number(text);
  if (Number.isInteger(value) && value >= 0) return value;
  throw new UsageError(`--${option} takes a whole number, not ${JSON.stringify(text)}.`);
};

const progress = progressOn();

await runCommand(SPEC, (args) => {
  const seed = numberOf(args.text('seed'), 'seed');
  const kill = args.text('kill');
  if (kill !== undefined) return kills(numberOf(kill, 'kill'), seed);
  return files(numberOf(args.text('runs'), 'runs'), seed);
});

async function kills(moments: number, seed: number): Promise<number> {
  if (process.platform === 'win32')
    throw new UsageError('Groups of processes are killed; Windows knows none.');
  const result = await killAtMoments(moments, seeded(seed), {
    onMoment: (done, faults) => progress.say(`${done} of ${moments} moments, ${faults} faults`),
    onFault: (what) => {
      progress.end();
      console.log(what);
    },
  });
  progress.end();
  const told = Object.entries(result.each)
    .map(([command, count]) => `${count} moments of ${command}`)
    .join(', ');
  console.log(`${told}: ${result.early} of them before the work was done, ${result.faults.length} faults`);
  return result.faults.length === 0 ? FINE : FAILED;
}

async function files(runs: number, seed: number): Promise<number> {
  const bench = new Bench();
  const sum = { files: 0, planned: 0, shown: 0, faults: 0 };
  for (let round = 0; sum.files < runs; round += 1) {
    const count = Math.min(FILES, runs - sum.files);
    const options = { seed: seed + round, files: count, shown: SHOWN, build: round % BUILD_EVERY === 0 };
    progress.say(`${sum.files} of ${runs} files, ${sum.faults} faults`);
    const result = await bench.run(options);
    sum.files += count;
    if (result === 'hang') {
      sum.faults += 1;
      console.log(`seed ${options.seed}: not finished after ${ROUND_LIMIT_MS / 1000} s`);
      continue;
    }
    sum.planned += result.planned;
    sum.shown += result.shown;
    sum.faults += result.faults.length;
    for (const [at, { slug, what, bytes }] of result.faults.entries()) {
      mkdirSync(KEPT, { recursive: true });
      const kept = join(KEPT, `${options.seed}-${at}.md`);
      writeFileSync(kept, bytes);
      console.log(`seed ${options.seed}, ${JSON.stringify(slug)}: ${what}\n  ${kept}`);
    }
  }
  progress.end();
  await bench.close();
  console.log(
    `${sum.files} files: ${sum.planned} planned, pages of ${sum.shown} looked at, ${sum.faults} faults`,
  );
  return sum.faults === 0 ? FINE : FAILED;
}
