import { existsSync } from 'node:fs';
import { writeFile } from 'node:fs/promises';
import { join, normalize } from 'node:path';
import { brewerySchema } from '../archive/schema/brewery-schema.ts';
import { CHILLERS, setupSchema } from '../archive/schema/setups-schema.ts';
import { STOVES, type Stove } from '../batch/model/stoves.ts';
import { commandLine } from '../site/command-line.ts';
import { BREWER, IN_CLONE, SIGNPOST } from '../site/paths.ts';
import type { Arguments } from './support/arguments.ts';
import { breweryText, type Kitchen, setupsText } from './support/first-files.ts';
import { type Answer, asKey, oneOf, openQuestions } from './support/questions.ts';
import { FINE, runCommand } from './support/run-command.ts';
import { CONTENT, type CommandSpec } from './support/spec.ts';
import { UsageError } from './support/usage-error.ts';
import { writeNew } from './support/write-new.ts';

type Units = Kitchen['units'];
type Key = keyof Kitchen;

/** The questions in their order, each with its option; only what is asked before may change a default. */
interface Asked {
  readonly value: string;
  readonly help: string;
  readonly asks: string;
  readonly fallback: (units: Units) => string;
  readonly read: (text: string, units: Units) => Answer;
}

/** `15` alone is fifteen of what the default is in. */
const quantity = (
  key: 'kettle' | 'fermenter' | 'altitude',
  metric: string,
  us: string,
): Pick<Asked, 'fallback' | 'read'> => ({
  fallback: (units) => (units === 'us' ? us : metric),
  read: (text, units) => {
    const unit = (units === 'us' ? us : metric).split(' ')[1];
    return asKey(setupSchema(units).shape[key], /^[\d.,]+$/.test(text) ? `${text} ${unit}` : text);
  },
});
const choice = (
  words: readonly string[],
  fallback: (units: Units) => string,
): Pick<Asked, 'fallback' | 'read'> => ({
  fallback,
  read: (text) => oneOf(words, text),
});

const QUESTIONS: Readonly<Record<Key, Asked>> = {
  name: {
    value: 'TEXT',
    help: 'whose kitchen it is',
    asks: 'Whose kitchen is it? The name heads your sheets and pages.',
    fallback: () => 'Home brewery',
    read: (text) => asKey(brewerySchema.shape.name, text),
  },
  units: {
    value: 'UNITS',
    help: 'metric or us, with the spelling that goes with them',
    asks: 'Litres and British spelling (metric), or gallons and American spelling (us)?',
    ...choice(['metric', 'us'], () => 'metric'),
  },
  paper: {
    value: 'SIZE',
    help: 'a4 or letter',
    asks: 'What paper is in your printer: a4 or letter?',
    ...choice(['a4', 'letter'], (units) => (units === 'us' ? 'letter' : 'a4')),
  },
  pot: {
    value: 'VOLUME',
    help: 'what the pot holds, to the brim',
    asks: 'How much does your pot hold, to the brim?',
    ...quantity('kettle', '15 L', '4 gal'),
  },
  stove: {
    value: 'WORDS',
    help: Object.keys(STOVES).join(', '),
    asks: `What is under the pot: ${Object.keys(STOVES).join(', ')}?`,
    ...choice(Object.keys(STOVES), () => 'large gas ring'),
  },
  fermenter: {
    value: 'VOLUME',
    help: 'what the fermenter holds, to the brim',
    asks: 'How much does your fermenter hold, to the brim?',
    ...quantity('fermenter', '25 L', '6.5 gal'),
  },
  chilling: {
    value: 'WORDS',
    help: CHILLERS.join(', '),
    asks: `How do you cool the wort: ${CHILLERS.join(', ')}?`,
    ...choice(CHILLERS, () => 'cold-water bath'),
  },
  height: {
    value: 'HEIGHT',
    help: 'altitude of the kitchen',
    asks: 'How high above the sea is your kitchen? Up in the hills water boils cooler.',
    ...quantity('altitude', '0 m', '0 ft'),
  },
};
const KEYS = Object.keys(QUESTIONS) as Key[];

const SPEC: CommandSpec = {
  name: 'begin',
  purpose: 'Asks eight questions about your kitchen and writes your own brewery.yaml and setups.yaml.',
  words: null,
  options: [
    {
      ...CONTENT,
      fallback: IN_CLONE && BREWER === '' ? join('..', 'my-beer', 'content') : (CONTENT.fallback ?? ''),
    },
    ...KEYS.map((name) => ({ name, value: QUESTIONS[name].value, help: QUESTIONS[name].help })),
  ],
  more: [
    'Enter takes the answer in brackets, and every answer can be changed in the files afterwards. What is answered by an',
    'option is not asked. Files that are there already stay as they are.',
  ],
};

await runCommand(SPEC, begin);

async function begin(args: Arguments): Promise<number> {
  const content = normalize(args.text('content') ?? '');
  const [brewery, setups] = ['brewery.yaml', 'setups.yaml'].map((name) => join(content, name)) as [
    string,
    string,
  ];
  const there = [brewery, setups].find((path) => existsSync(path));
  if (there !== undefined) {
    throw new UsageError(`${there} is there already and stays as it is: change it in your editor.`);
  }
  const kitchen = await answers(args);
  await writeNew(brewery, breweryText(kitchen));
  await writeNew(setups, setupsText(kitchen));
  console.log(`\nWritten: ${brewery}\nWritten: ${setups}`);
  // In a clone the commands have to find the folder again; one that was named is named again.
  const usual = SPEC.options[0]?.fallback === args.text('content');
  if (usual && IN_CLONE) await writeFile(SIGNPOST, `${join(content, '..')}\n`);
  const more = usual ? '' : ` --content ${content}`;
  console.log(`Next, your first batch: ${commandLine('new', `"First Pale"${more}`)}`);
  return FINE;
}

/** All answers, those of the options first: an option that cannot be used is reported before anything is asked. */
async function answers(args: Arguments): Promise<Kitchen> {
  const given: Partial<Record<Key, string>> = {};
  const units = (): Units => (given.units === 'us' ? 'us' : 'metric');
  for (const key of KEYS) {
    const text = args.text(key);
    if (text === undefined) continue;
    const answer = QUESTIONS[key].read(text, units());
    if (!answer.ok) throw new UsageError(`--${key}: ${answer.why}`);
    given[key] = answer.text;
  }
  const open = KEYS.filter((key) => given[key] === undefined);
  if (open.length > 0) {
    console.log('Enter takes the answer in brackets; you can change all of it later.\n');
    const questions = openQuestions();
    for (const key of open) {
      const { asks, fallback, read } = QUESTIONS[key];
      given[key] = await questions.ask({
        asks,
        fallback: fallback(units()),
        read: (text) => read(text, units()),
      });
    }
    questions.close();
  }
  return { ...(given as Kitchen), units: units(), stove: given.stove as Stove };
}
