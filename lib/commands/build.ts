import { buildAll } from './support/build-site.ts';
import { runCommand } from './support/run-command.ts';
import { AS_OF, CONTENT, type CommandSpec, OUTPUT, PAPER, PRIVATE_OUTPUT } from './support/spec.ts';

const SPEC: CommandSpec = {
  name: 'build',
  purpose: 'Checks your files, builds the site and prints every sheet to PDF.',
  words: null,
  options: [CONTENT, OUTPUT, PRIVATE_OUTPUT, PAPER, AS_OF],
  more: [
    'A batch with an error is left out, the rest is built, and the exit code is 1.',
    'Sheets that have not changed are not printed again.',
  ],
};

await runCommand(SPEC, (args) => buildAll(args, true));
