import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { ROOT } from '../site/paths.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import type { CommandSpec } from './support/spec.ts';

const SPEC: CommandSpec = {
  name: 'test',
  purpose: 'Checks formatting and style, then the types, then runs the tests; all three, whatever fails.',
  words: '[test file …]',
  options: [{ name: 'long', value: null, help: 'runs only the long tests: npm run test:long' }],
  more: ['A test file that is named is run in whichever lane it is.'],
};

const require = createRequire(import.meta.url);

/** The program of an installed package, run by this Node: no shell, so that it works on every system. */
function program(name: string, bin: string): string {
  return join(dirname(require.resolve(`${name}/package.json`)), bin);
}

const CHECKS = [
  { title: 'Formatting and style', command: [program('@biomejs/biome', 'bin/biome'), 'check', '.'] },
  { title: 'Types', command: [program('typescript', 'bin/tsc'), '--noEmit'] },
];
const TESTS = [program('vitest', 'vitest.mjs'), 'run', '--config', 'tests/vitest.config.ts'];
const lane = (...names: string[]): string[] => names.flatMap((name) => ['--project', name]);

await runCommand(SPEC, async ({ words, flag }) => {
  const long = flag('long');
  const which = words.length > 0 ? words : long ? lane('long') : lane('pure', 'pages');
  // Last, so that the closing line of the tests is the last.
  const tests = { title: long ? 'Long tests' : 'Tests', command: [...TESTS, ...which] };
  const failed = [...(long ? [] : CHECKS), tests].filter((step) => {
    console.log(`${step.title}:`);
    const { status } = spawnSync(process.execPath, step.command, { cwd: ROOT, stdio: 'inherit' });
    if (status === 0) console.log(step === tests ? '' : 'fine\n');
    return status !== 0;
  });
  if (failed.length === 0) return FINE;
  console.log(`Failed: ${failed.map(({ title }) => title.toLowerCase()).join(', ')}`);
  return FAILED;
});
