import { spawnSync } from 'node:child_process';
import { createRequire } from 'node:module';
import { dirname, join } from 'node:path';
import { ROOT } from '../site/paths.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import type { CommandSpec } from './support/spec.ts';

const SPEC: CommandSpec = {
  name: 'test',
  purpose: 'Checks formatting and style, then the types, then runs all tests; all three, whatever fails.',
  words: '[test file …]',
  options: [],
};

const require = createRequire(import.meta.url);

/** The program of an installed package, run by this Node: no shell, so that it works on every system. */
function program(name: string, bin: string): string {
  return join(dirname(require.resolve(`${name}/package.json`)), bin);
}

const STEPS: readonly { readonly title: string; readonly command: readonly string[] }[] = [
  { title: 'Formatting and style', command: [program('@biomejs/biome', 'bin/biome'), 'check', '.'] },
  { title: 'Types', command: [program('typescript', 'bin/tsc'), '--noEmit'] },
  // Last, so that its closing line is the last.
  { title: 'Tests', command: [program('vitest', 'vitest.mjs'), 'run', '--config', 'tests/vitest.config.ts'] },
];

await runCommand(SPEC, async ({ words }) => {
  const failed = STEPS.filter(({ title, command }, at) => {
    console.log(`${title}:`);
    const args = at === STEPS.length - 1 ? [...command, ...words] : command;
    const { status } = spawnSync(process.execPath, args, { cwd: ROOT, stdio: 'inherit' });
    if (status === 0) console.log(at === STEPS.length - 1 ? '' : 'fine\n');
    return status !== 0;
  });
  if (failed.length === 0) return FINE;
  console.log(`Failed: ${failed.map(({ title }) => title.toLowerCase()).join(', ')}`);
  return FAILED;
});
