import { join } from 'node:path';
import { createInterface } from 'node:readline';
import { commandLine } from '../site/command-line.ts';
import { beginSession, readKit } from '../site/key-in/session.ts';
import { askBlanks } from './support/key-in-ask.ts';
import { fromFile } from './support/key-in-from-file.ts';
import { type Keyed, keyIn } from './support/key-in-save.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec, OUTPUT, PRIVATE_OUTPUT } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';

const SPEC: CommandSpec = {
  name: 'key-in',
  purpose: 'Keys in what was written on the sheets, blank by blank in the order of the paper.',
  words: '<slug>',
  options: [
    CONTENT,
    {
      name: 'set',
      value: 'BLANK=TEXT',
      many: true,
      help: 'key in one blank without asking, by its key or number; as often as needed',
    },
    { name: 'file', value: 'FILE', help: 'key in the readings of a file that the form on the site has made' },
    { name: 'over', value: null, help: 'with --file: write over what has been keyed in since it was made' },
    { name: 'all', value: null, help: 'ask for blanks again that have been keyed in already' },
    { name: 'sure', value: null, help: 'with --set or --file: take unlikely values too' },
    OUTPUT,
    PRIVATE_OUTPUT,
  ],
  more: [
    'An empty line leaves a blank, a hyphen says that it was not taken, two hyphens take it out of the file again, q',
    'stops; what was keyed in is kept, and the next run goes on where this one stopped.',
    '--set with nothing behind the = takes a reading out of the file again.',
    'For scripts: --set original_gravity="1.049 @ 24 °C" --set "fermentation[next].on=18 Feb 08:00"',
  ],
};

await runCommand(SPEC, async (args) => {
  const [slug, more] = args.words;
  if (slug === undefined)
    throw new UsageError(`Which batch? Give its slug: ${commandLine('key-in', 'harbour-lantern')}`);
  if (more !== undefined) throw new UsageError(`"${more}" is not expected here: one batch at a time.`);
  const kit = await readKit(args.text('content') ?? '', [
    join(args.text('output') ?? '', 'batches'),
    args.text('private-output') ?? '',
  ]);
  const begun = beginSession(kit, slug);
  if (!begun.ok) {
    if (begun.missing) throw new UsageError(`${slug}: ${begun.why}`);
    console.error(begun.why);
    return FAILED;
  }
  const path = args.text('file');
  const none = { session: begun.session, given: [], differs: [] };
  const taken = path === undefined ? none : fromFile(path, begun.session, args.flag('over'));
  if (taken.differs.length > 0) return say({ saved: false, said: taken.differs });
  const given = [...taken.given, ...args.all('set').map(settingOf)];
  if (given.length > 0) return say(await keyIn(taken.session, given, args.flag('sure')));
  if (path !== undefined) return say({ saved: true, said: ['The file says so already.'] });
  const lines = createInterface({ input: process.stdin, terminal: false });
  try {
    return await askBlanks(begun.session, lines, { all: args.flag('all'), say: (text) => console.log(text) });
  } finally {
    lines.close();
  }
});

function settingOf(text: string): readonly [string, string] {
  const cut = text.indexOf('=');
  if (cut < 1) throw new UsageError(`--set ${text}: write it as original_gravity="1.049 @ 24 °C".`);
  return [text.slice(0, cut).trim(), text.slice(cut + 1)];
}

function say(keyed: Keyed): number {
  for (const line of keyed.said) console.log(line);
  return keyed.saved ? FINE : FAILED;
}
