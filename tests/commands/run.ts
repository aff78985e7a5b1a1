/** Runs the commands as a brewer does, on archives of their own. */
import { type ChildProcess, spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { Readable } from 'node:stream';
import { format } from 'node:util';

export const ROOT = join(import.meta.dirname, '../..');
const JITI = join(ROOT, 'node_modules/jiti/lib/jiti-cli.mjs');

export interface Ran {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** Nothing that npm put into this process's own environment may reach the command. */
function environment(extra: Readonly<Record<string, string>>): NodeJS.ProcessEnv {
  const own = Object.entries(process.env).filter(([key]) => !key.startsWith('npm_config_'));
  return { ...Object.fromEntries(own), NO_COLOR: '1', ...extra };
}

export function start(
  command: string,
  args: readonly string[],
  extra: Readonly<Record<string, string>> = {},
): ChildProcess {
  const file = join('lib/commands', `${command}.ts`);
  return spawn(process.execPath, [JITI, file, ...args], { cwd: ROOT, env: environment(extra) });
}

let runs = 0;
let before: Promise<unknown> = Promise.resolve();

/** Runs a command in this process, which takes a hundredth of the time of one of its own; one after the other. */
export function run(
  command: string,
  args: readonly string[],
  extra: Readonly<Record<string, string>> = {},
  typed = '',
): Promise<Ran> {
  const ran = before.then(() => runHere(command, args, extra, typed));
  before = ran.catch(() => undefined);
  return ran;
}

async function runHere(
  command: string,
  args: readonly string[],
  extra: Readonly<Record<string, string>>,
  typed: string,
): Promise<Ran> {
  const said = { out: '', err: '' };
  const to =
    (stream: keyof typeof said, end = '\n') =>
    (...words: unknown[]): boolean => {
      said[stream] += `${format(...words)}${end}`;
      return true;
    };
  const { argv, env, exitCode } = process;
  const { log, error, warn } = console;
  const writes = [process.stdout.write, process.stderr.write] as const;
  const listeners = process.stdout.listeners('error');
  const stdin = Object.getOwnPropertyDescriptor(process, 'stdin');
  try {
    Object.defineProperty(process, 'stdin', { value: Readable.from([typed]), configurable: true });
    process.argv = [...argv.slice(0, 2), ...args];
    process.env = environment(extra);
    process.exitCode = undefined;
    Object.assign(console, { log: to('out'), error: to('err'), warn: to('err') });
    process.stdout.write = to('out', '');
    process.stderr.write = to('err', '');
    runs += 1;
    // The query makes it another module: a command does its work while it is loaded.
    await import(/* @vite-ignore */ `../../lib/commands/${command}.ts?run=${runs}`);
    return { code: Number(process.exitCode ?? 0), ...said };
  } finally {
    [process.stdout.write, process.stderr.write] = writes;
    if (stdin) Object.defineProperty(process, 'stdin', stdin);
    Object.assign(console, { log, error, warn });
    Object.assign(process, { argv, env, exitCode });
    for (const added of process.stdout.listeners('error'))
      if (!listeners.includes(added)) process.stdout.off('error', added as () => void);
  }
}

export interface Place {
  readonly dir: string;
  readonly content: string;
  readonly output: string;
  readonly privateOutput: string;
  /** The three folders as options. */
  readonly folders: readonly string[];
  batch(slug: string): string;
  remove(): void;
}

/** A new folder with a copy of the demo kit and some of the demo batches. */
export function place(slugs: readonly string[]): Place {
  const dir = mkdtempSync(join(tmpdir(), 'kettleside-commands-'));
  const content = join(dir, 'content');
  mkdirSync(join(content, 'batches'), { recursive: true });
  for (const name of ['brewery', 'setups', 'ingredients'])
    cpSync(join(ROOT, `content/${name}.yaml`), join(content, `${name}.yaml`));
  for (const slug of slugs)
    cpSync(join(ROOT, `content/batches/${slug}.md`), join(content, `batches/${slug}.md`));
  const output = join(dir, 'out');
  const privateOutput = join(dir, 'private');
  return {
    dir,
    content,
    output,
    privateOutput,
    folders: ['--content', content, '--output', output, '--private-output', privateOutput],
    batch: (slug) => join(content, `batches/${slug}.md`),
    remove: () => rmSync(dir, { recursive: true, force: true }),
  };
}

/** A batch as small as the format allows, with what a test wants to say of it. */
export function smallBatch(title: string, keys: readonly string[] = [], notes = ''): string {
  return [
    '---',
    `title: ${title}`,
    'setup: stove',
    ...keys,
    'recipe:',
    '  into_fermenter: 10 L',
    '  boil: 30 min',
    '  extract:',
    '    - { name: light dry extract, weight: 1.2 kg }',
    '  hops:',
    '    - { name: Fuggle, weight: 20 g, alpha: 4.6 %, add: 30 min }',
    '  yeast:',
    '    - { name: English ale, form: dry, amount: 11 g }',
    '---',
    notes,
    '',
  ].join('\n');
}

export const write = (path: string, text: string): void => writeFileSync(path, text);
