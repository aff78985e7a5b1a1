import { parseArgs } from 'node:util';
import { commandLine } from '../../site/command-line.ts';
import { didYouMean, slips } from '../../units/parse/nearest.ts';
import type { CommandSpec, OptionSpec } from './spec.ts';
import { UsageError } from './usage-error.ts';

export interface Arguments {
  readonly words: readonly string[];
  readonly help: boolean;
  /** The value of an option, its default, or undefined. */
  text(name: string): string | undefined;
  flag(name: string): boolean;
  /** Every value of an option that may be given more than once, in order. */
  all(name: string): readonly string[];
}

type Environment = Readonly<Record<string, string | undefined>>;

/**
 * Reads what follows a command. `npm run build --content DIR` without the two hyphens makes npm keep the option for
 * itself and put it into the environment: it counts too, so that no other archive is built than the one meant.
 * Throws a `UsageError` for anything that the command does not know.
 */
export function readArguments(spec: CommandSpec, args: readonly string[], env: Environment): Arguments {
  const byName = new Map(spec.options.map((option) => [option.name, option]));
  const { values, words, many } = readLine(spec, args, byName);
  for (const [name, value] of keptByNpm(spec, env, byName, words)) {
    if (!values.has(name)) values.set(name, value);
  }
  for (const [name, value] of values) checkChoice(byName.get(name), value);
  const help = values.has('help');
  if (!help && spec.words === null && words[0] !== undefined) {
    throw new UsageError(`"${words[0]}" is not expected here: ${commandLine(spec.name)} takes options only.`);
  }
  return {
    words,
    help,
    text: (name) => values.get(name) ?? byName.get(name)?.fallback,
    flag: (name) => values.has(name),
    all: (name) => many.get(name) ?? (values.has(name) ? [values.get(name) ?? ''] : []),
  };
}

function readLine(
  spec: CommandSpec,
  args: readonly string[],
  byName: ReadonlyMap<string, OptionSpec>,
): { values: Map<string, string>; words: string[]; many: Map<string, string[]> } {
  const types = spec.options.map(
    ({ name, value }) => [name, { type: value === null ? 'boolean' : 'string' }] as const,
  );
  const options = Object.fromEntries([...types, ['help', { type: 'boolean', short: 'h' }]]);
  const { tokens } = parseArgs({
    args: [...args],
    options,
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  const values = new Map<string, string>();
  const words: string[] = [];
  const many = new Map<string, string[]>();
  for (const token of tokens) {
    if (token.kind === 'positional') words.push(token.value);
    if (token.kind !== 'option') continue;
    const { name, rawName, value } = token;
    const option = byName.get(name);
    if (option === undefined && name !== 'help') throw new UsageError(unknownOption(spec, rawName));
    if (values.has(name) && option?.many !== true) throw new UsageError(`${rawName} is given twice.`);
    if (option === undefined || option.value === null) {
      if (value !== undefined) throw new UsageError(`${rawName} takes no value.`);
    } else if (value === undefined || value === '' || (value.startsWith('-') && !token.inlineValue)) {
      throw new UsageError(`${rawName} needs a value: ${rawName} ${option.value}.`);
    }
    values.set(name, value ?? '');
    if (option?.many) many.set(name, [...(many.get(name) ?? []), value ?? '']);
  }
  return { values, words, many };
}

function unknownOption(spec: CommandSpec, rawName: string): string {
  const near = didYouMean(rawName, [...spec.options.map(({ name }) => `--${name}`), '--help'], 1);
  return `${commandLine(spec.name)} has no option ${rawName}${near === '' ? '.' : `; ${near}`}`;
}

function checkChoice(option: OptionSpec | undefined, value: string): void {
  if (option?.choices === undefined || option.choices.includes(value)) return;
  throw new UsageError(`--${option.name} is "${value}"; it is one of: ${option.choices.join(', ')}.`);
}

const KEPT = 'npm_config_';

function keptByNpm(
  spec: CommandSpec,
  env: Environment,
  byName: ReadonlyMap<string, OptionSpec>,
  words: string[],
): [string, string][] {
  const found: [string, string][] = [];
  for (const [key, value] of Object.entries(env)) {
    if (!key.startsWith(KEPT) || value === undefined || value === '') continue;
    const name = key.slice(KEPT.length).replaceAll('_', '-');
    if (byName.has(name)) found.push([name, value]);
    else checkSlip(spec, name, [...byName.keys()]);
  }
  const valueless = found.filter(([name, value]) => value === 'true' && byName.get(name)?.value !== null);
  if (valueless.length === 0) return found;
  const [only] = valueless;
  // Newer npm keeps the option and hands its value on as a word.
  if (valueless.length > 1 || words.length !== 1 || spec.words !== null || only === undefined) {
    const names = valueless.map(([name]) => `--${name}`).join(' and ');
    throw new UsageError(
      `npm kept ${names} for itself. Write two hyphens before the options: ${commandLine(spec.name, `${names} …`)}`,
    );
  }
  const value = words.pop() ?? '';
  return found.map(([name, kept]) => [name, name === only[0] ? value : kept]);
}

/** npm keeps mistyped options too; npm's own are no slips of ours. */
function checkSlip(spec: CommandSpec, name: string, known: readonly string[]): void {
  const near = known.find((other) => other.length > 4 && slips(other, name) <= 2);
  if (near !== undefined) throw new UsageError(`${unknownOption(spec, `--${name}`)}`);
}
