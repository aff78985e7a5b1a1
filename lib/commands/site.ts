import { buildAll } from './support/build-site.ts';
import { runCommand } from './support/run-command.ts';
import { AS_OF, CONTENT, type CommandSpec, OUTPUT, PAPER } from './support/spec.ts';

const SPEC: CommandSpec = {
  name: 'site',
  purpose:
    'Checks your files and builds the site, without PDFs; any that are there from before are taken away.',
  words: null,
  options: [CONTENT, OUTPUT, PAPER, AS_OF],
  more: ['A batch with an error is left out, the rest is built, and the exit code is 1.'],
};

await runCommand(SPEC, (args) => buildAll(args, false));
