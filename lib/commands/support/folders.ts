import { existsSync, realpathSync, statSync } from 'node:fs';
import { basename, dirname, isAbsolute, join, relative, resolve } from 'node:path';
import { notOurs } from '../../site/output.ts';
import type { Arguments } from './arguments.ts';
import { UsageError } from './usage-error.ts';

export interface Folders {
  readonly content: string;
  readonly output: string;
  /** Absent where a command writes no private sheets. */
  readonly privateOutput?: string;
}

/** The folders that a command is given, fit to be written to; throws a `UsageError` where they are not. */
export function foldersOf(args: Arguments, withPrivate = true): Required<Folders> {
  const [content = '', output = '', privateOutput = ''] = FOLDER_OPTIONS.map((name) => args.text(name));
  checkFolders({ content, output, ...(withPrivate ? { privateOutput } : {}) });
  return { content, output, privateOutput };
}
const FOLDER_OPTIONS = ['content', 'output', 'private-output'] as const;

/** Refuses folders that lie in each other and folders with somebody else's files; throws a `UsageError`. */
export function checkFolders(folders: Folders): void {
  const { content, output, privateOutput } = folders;
  apart(['--output', output], ['--content', content]);
  if (privateOutput !== undefined) {
    apart(['--private-output', privateOutput], ['--content', content]);
    apart(['--private-output', privateOutput], ['--output', output]);
  }
  checkOurs('--output', output);
  if (privateOutput !== undefined) checkOurs('--private-output', privateOutput);
}

type Named = readonly [option: string, folder: string];

function apart([option, folder]: Named, [otherOption, other]: Named): void {
  const a = realPath(folder);
  const b = realPath(other);
  const how =
    a === b ? 'is the same folder as' : isInside(a, b) ? 'is inside' : isInside(b, a) ? 'holds' : null;
  if (how === null) return;
  throw new UsageError(
    `${option} (${folder}) ${how} ${otherOption} (${other}). The two must lie side by side: name another folder.`,
  );
}

function isInside(inner: string, outer: string): boolean {
  const way = relative(outer, inner);
  return way !== '' && way.split(/[\\/]/)[0] !== '..' && !isAbsolute(way);
}

/** Links resolved as far as the path is there. */
function realPath(folder: string): string {
  const path = resolve(folder);
  // The system's own way gives the name as it is on the disk, also where it does not tell capitals from small letters.
  if (existsSync(path)) return realpathSync.native(path);
  const above = dirname(path);
  return above === path ? path : join(realPath(above), basename(path));
}

function checkOurs(option: string, folder: string): void {
  if (!existsSync(folder)) return;
  if (!statSync(folder).isDirectory()) throw new UsageError(`${option} (${folder}) is a file, not a folder.`);
  const other = notOurs(folder);
  if (other === null) return;
  throw new UsageError(
    `${option} (${folder}) holds files that Kettleside did not make, such as ${other}. Name an empty folder or a new one.`,
  );
}
