import { inspect } from 'node:util';
import { commandLine } from '../../site/command-line.ts';
import { capital } from '../../words/words.ts';
import { type Arguments, readArguments } from './arguments.ts';
import { type CommandSpec, helpText } from './spec.ts';
import { UsageError } from './usage-error.ts';

export const FINE = 0;
/** The brewer's files have errors, or a sheet could not be printed. */
export const FAILED = 1;
/** The command was used wrongly. */
export const USED_WRONGLY = 2;

/** Runs a command on what follows it and sets the exit code; a brewer's mistake shows no stack, a bug does. */
export async function runCommand(
  spec: CommandSpec,
  main: (args: Arguments) => Promise<number>,
): Promise<void> {
  process.stdout.on('error', endQuietly);
  try {
    const args = readArguments(spec, process.argv.slice(2), process.env);
    if (args.help) console.log(helpText(spec));
    else process.exitCode = await main(args);
  } catch (thrown) {
    process.exitCode = tell(spec, thrown);
  }
}

function tell(spec: CommandSpec, thrown: unknown): number {
  if (thrown instanceof UsageError) {
    console.error(thrown.message);
    console.error(`What it takes: ${commandLine(spec.name, '--help')}`);
    return USED_WRONGLY;
  }
  const fault = systemFault(thrown);
  if (fault !== null) {
    console.error(fault);
    return FAILED;
  }
  console.error(`${commandLine(spec.name)} stopped because of a fault in the program, not in your files.`);
  console.error(inspect(thrown));
  return FAILED;
}

const SAID: Readonly<Record<string, string>> = {
  EACCES: 'this user may not write there',
  EPERM: 'this user may not write there',
  EROFS: 'the disk can only be read',
  ENOSPC: 'the disk is full',
  EDQUOT: 'the disk is full',
  EBUSY: 'another program has it open; close that, then run this again',
  ENOTDIR: 'there is a file where a folder belongs',
  EISDIR: 'there is a folder where a file belongs',
};

/** What a viewer that has the file open looks like there. */
const HELD = 'this user may not write there, or another program has it open';
const ON_WINDOWS: Readonly<Record<string, string>> = { EACCES: HELD, EPERM: HELD };

/** What the system refused, in words, or null where it is none of the things that a user can mend. */
export function systemFault(thrown: unknown, platform: NodeJS.Platform = process.platform): string | null {
  for (let error = thrown; error instanceof Error; error = error.cause ?? behind(error)) {
    const { code, path } = error as NodeJS.ErrnoException;
    const said =
      code === undefined ? undefined : ((platform === 'win32' ? ON_WINDOWS[code] : null) ?? SAID[code]);
    if (said !== undefined) return path === undefined ? `${capital(said)}.` : `${path}: ${said}.`;
  }
  return null;
}

/** What the site generator says that an error of its own comes from. */
const behind = (error: Error): unknown => ('originalError' in error ? error.originalError : undefined);

/** A reader such as `head` that has seen enough is no fault. */
function endQuietly(error: NodeJS.ErrnoException): void {
  if (error.code === 'EPIPE') process.exit();
  throw error;
}
