import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Archive } from '../archive/archive.ts';
import { readArchive } from '../archive/read-archive.ts';
import { readSlug } from '../archive/schema/scalars.ts';
import { localDay } from '../batch/types/time.ts';
import { commandLine } from '../site/command-line.ts';
import { TABLES } from '../site/paths.ts';
import { parseDate } from '../units/parse/parse.ts';
import type { Arguments } from './support/arguments.ts';
import { brewAgainText } from './support/copy-batch.ts';
import { type NewBatch, newBatchText } from './support/new-batch-text.ts';
import { oneOf, openQuestions } from './support/questions.ts';
import { FAILED, FINE, runCommand } from './support/run-command.ts';
import { slugFor } from './support/slug.ts';
import { CONTENT, type CommandSpec } from './support/spec.ts';
import { noBatch, UsageError } from './support/usage-error.ts';
import { writeNew } from './support/write-new.ts';

const SPEC: CommandSpec = {
  name: 'new',
  purpose:
    'Writes a batch file with every key explained, ready to be changed, or brews an earlier batch again.',
  words: '<title>',
  options: [
    CONTENT,
    { name: 'from', value: 'SLUG', help: 'brew this batch again: its recipe, without its readings' },
    { name: 'brewed', value: 'DATE', help: 'the day of brewing, as 2026-02-14 or 14 Feb 2026 (today)' },
    { name: 'kit', value: null, help: 'a kit from a shop' },
    { name: 'own', value: null, help: 'a recipe of your own, or a friend’s' },
    { name: 'slug', value: 'NAME', help: 'name of the file without .md (made from the title)' },
  ],
};

await runCommand(SPEC, newBatch);

async function newBatch(args: Arguments): Promise<number> {
  const content = args.text('content') ?? '';
  const title = args.words.join(' ').replaceAll(/\s+/g, ' ').trim();
  const from = args.text('from');
  const kinds = [args.flag('kit'), args.flag('own'), from !== undefined].filter((given) => given);
  if (kinds.length > 1) throw new UsageError('One of --kit, --own and --from is enough.');
  if (title === '')
    throw new UsageError(`A title is missing: ${commandLine('new', '"Winding Hole Bitter"')}`);
  if (title.length > 200) throw new UsageError(`The title has ${title.length} characters; at most 200 fit.`);
  const brewed = dayOf(args.text('brewed'));
  if (!existsSync(content))
    throw new UsageError(
      `There is no folder ${content} yet: ${commandLine('begin')} makes it; --content names another.`,
    );
  const batches = join(content, 'batches');
  const names = existsSync(batches) ? readdirSync(batches).filter((name) => /\.md$/i.test(name)) : [];
  const slug = slugOf(title, args.text('slug'));
  const taken = names.find((name) => name.toLowerCase() === `${slug}.md`);
  if (taken !== undefined) {
    throw new UsageError(
      `${join(batches, taken)} is there already and stays as it is. Choose another title, or --slug NAME.`,
    );
  }
  const path = join(batches, `${slug}.md`);
  const number = nextNumber(names.map((name) => readFileSync(join(batches, name), 'utf8')));
  if (from === undefined) {
    const archive = await readArchive(content, { tablesDir: TABLES });
    await writeNew(path, textOf(archive, { title, number, brewed, kit: await isKit(args) }));
  } else {
    const slugs = names.map((name) => name.replace(/\.md$/i, ''));
    if (!slugs.includes(from)) throw new UsageError(noBatch(from, slugs));
    const old = readFileSync(join(batches, `${from}.md`), 'utf8');
    const text = brewAgainText(old, { title, number, brewed, basedOn: from });
    if (text === null) {
      console.log(
        `The recipe of ${from} cannot be copied as it is written. ${commandLine('check')} says what is wrong with it.`,
      );
      return FAILED;
    }
    await writeNew(path, text);
  }
  console.log(`Written: ${path}`);
  console.log(
    `Next: open it and change what differs; then ${commandLine('check')}, and ${commandLine('sheets', slug)}`,
  );
  return FINE;
}

/** Said by an option, or asked where somebody sits at the terminal; else it is a recipe. */
async function isKit(args: Arguments): Promise<boolean> {
  if (args.flag('kit') || args.flag('own') || !process.stdin.isTTY) return args.flag('kit');
  const questions = openQuestions();
  const asks = 'Is it a kit from a shop, or a recipe of your own?';
  const answer = await questions.ask({ asks, fallback: 'own', read: (text) => oneOf(['kit', 'own'], text) });
  questions.close();
  return answer === 'kit';
}

function dayOf(text: string | undefined): string {
  if (text === undefined) return localDay();
  const day = parseDate(text);
  if (day.ok) return day.value;
  throw new UsageError(`--brewed is ${day.found}; expected ${day.expected}.`);
}

function slugOf(title: string, given: string | undefined): string {
  if (given === undefined) {
    const slug = slugFor(title);
    if (slug !== null) return slug;
    throw new UsageError(`No file name can be made from the title "${title}": give one with --slug NAME.`);
  }
  const slug = readSlug(given);
  if (slug.ok) return slug.value;
  throw new UsageError(`--slug is ${slug.found}; expected ${slug.expected}.`);
}

/** One more than the largest number in the archive, also of files with errors; null where none is numbered. */
function nextNumber(texts: readonly string[]): number | null {
  const numbers = texts.map((text) =>
    Number(/^number:[ \t]*(\d{1,6})[ \t]*(?:#.*)?\r?$/m.exec(text)?.[1] ?? 0),
  );
  const largest = Math.max(0, ...numbers);
  return largest === 0 && texts.length > 0 ? null : largest + 1;
}

function textOf(archive: Archive, order: Pick<NewBatch, 'title' | 'number' | 'brewed' | 'kit'>): string {
  const setups = [...archive.setups.values()];
  const [setup] = setups;
  if (setup === undefined) {
    throw new UsageError(
      `There is no pot that can be used in setups.yaml: ${commandLine('check')} says what is wrong.`,
    );
  }
  return newBatchText({
    ...order,
    units: archive.brewery.units,
    setups: setups.map(({ key }) => key),
    kettle_L: setup.kettle_L.value,
    fermenter_L: setup.fermenter_L?.value ?? null,
  });
}
