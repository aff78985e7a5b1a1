import { newerContent } from '../archive/read-archive.ts';
import { serveSite } from '../site/preview/serve.ts';
import { foldersOf } from './support/folders.ts';
import { printProblems } from './support/report.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec, OUTPUT, PRIVATE_OUTPUT } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'start',
  purpose:
    'Shows the site on this computer only, without PDFs, and as it becomes when a file changes. Writes no page.',
  words: null,
  options: [
    CONTENT,
    { ...OUTPUT, help: 'where sheets were printed to; the forms follow the pages of that paper' },
    { ...PRIVATE_OUTPUT, help: 'the same, of batches that are not published' },
    {
      name: 'port',
      value: 'NUMBER',
      fallback: '8080',
      help: 'port to answer on; the next free one is taken',
    },
    { name: 'lan', value: null, help: 'answer in your own network too, so that a phone can key readings in' },
  ],
  more: [
    'Readings are keyed in at /batches/<slug>/key-in/, with the code that is shown at the start. Ctrl-C ends it.',
  ],
};

await runCommand(SPEC, async (args) => {
  const port = Number(args.text('port'));
  if (!Number.isInteger(port) || port < 1 || port > 65535) {
    throw new UsageError(`--port is "${args.text('port')}"; it is a whole number from 1 to 65535.`);
  }
  const { content: contentDir, output: outputDir, privateOutput: privateDir } = foldersOf(args, false);
  const newer = newerContent(contentDir);
  if (newer.length > 0) {
    printProblems(newer);
    return FAILED;
  }
  for (const signal of ['SIGINT', 'SIGTERM'] as const) process.once(signal, () => process.exit(FINE));
  const lan = args.flag('lan');
  const { token } = await serveSite({ contentDir, outputDir, privateDir, port, lan });
  console.log(`Code for keying readings in: ${token}`);
  if (lan) console.log('Everybody in your network can read the site; only those with the code can write.');
  return FINE;
});
