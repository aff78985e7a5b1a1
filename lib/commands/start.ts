import { serveSite } from '../site/serve.ts';
import { checkFolders, claim } from './support/folders.ts';
import { FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec, OUTPUT } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'start',
  purpose:
    'Builds the site without PDFs, shows it on this computer only, and builds it anew when a file changes.',
  words: null,
  options: [
    CONTENT,
    OUTPUT,
    {
      name: 'port',
      value: 'NUMBER',
      fallback: '8080',
      help: 'port to answer on; the next free one is taken',
    },
  ],
  more: ['Ctrl-C ends it.'],
};

await runCommand(SPEC, async (args) => {
  const contentDir = args.text('content') ?? '';
  const outputDir = args.text('output') ?? '';
  const port = Number(args.text('port'));
  if (!Number.isInteger(port) || port < 1 || port > 65535) {
    throw new UsageError(`--port is "${args.text('port')}"; it is a whole number from 1 to 65535.`);
  }
  checkFolders({ content: contentDir, output: outputDir });
  await claim(outputDir);
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => process.exit(FINE));
  await serveSite({ contentDir, outputDir, port });
  return FINE;
});
