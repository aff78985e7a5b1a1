import { join } from 'node:path';
import { commandLine } from '../../site/command-line.ts';
import { BREWER } from '../../site/paths.ts';

/** What a command is called, what may follow it, and what its `--help` says. */

export interface OptionSpec {
  /** Without the two hyphens. */
  readonly name: string;
  /** What is shown for the value in the help, `DIR`; null for an option that has none. */
  readonly value: string | null;
  readonly help: string;
  readonly fallback?: string;
  readonly choices?: readonly string[];
  /** May be given more than once. */
  readonly many?: true;
}

export interface CommandSpec {
  /** The npm script. */
  readonly name: string;
  readonly purpose: string;
  /** What may follow besides options, `[slug …]`; null where nothing may. */
  readonly words: string | null;
  readonly options: readonly OptionSpec[];
  /** Lines below the options. */
  readonly more?: readonly string[];
}

export const CONTENT: OptionSpec = {
  name: 'content',
  value: 'DIR',
  fallback: join(BREWER, 'content'),
  help: 'folder with brewery.yaml, setups.yaml and batches',
};
export const OUTPUT: OptionSpec = {
  name: 'output',
  value: 'DIR',
  fallback: join(BREWER, '_site'),
  help: 'folder that the site is written to',
};
export const PRIVATE_OUTPUT: OptionSpec = {
  name: 'private-output',
  value: 'DIR',
  fallback: join(BREWER, 'private-sheets'),
  help: 'folder for the sheets of batches that are not published',
};
export const AS_OF: OptionSpec = {
  name: 'as-of',
  value: 'DATE',
  help: 'the day to look at plans on, as 2026-02-14 (SOURCE_DATE_EPOCH, else today)',
};
export const PAPER: OptionSpec = {
  name: 'paper',
  value: 'SIZE',
  choices: ['a4', 'letter'],
  help: "a4 or letter, in place of the brewery's own",
};

const HELP: OptionSpec = { name: 'help', value: null, help: 'this text' };

/** The text of `--help`. */
export function helpText(spec: CommandSpec): string {
  const rows = [...spec.options, HELP].map((option) => ({
    left: `  --${option.name}${option.value === null ? '' : ` ${option.value}`}`,
    right: option.fallback === undefined ? option.help : `${option.help} (${option.fallback})`,
  }));
  const width = Math.max(...rows.map(({ left }) => left.length)) + 2;
  const words = spec.words === null ? '' : ` ${spec.words}`;
  return [
    spec.purpose,
    '',
    `  ${commandLine(spec.name, `[options]${words}`)}`,
    '',
    ...rows.map(({ left, right }) => `${left.padEnd(width)}${right}`),
    ...(spec.more === undefined ? [] : ['', ...spec.more]),
  ].join('\n');
}
