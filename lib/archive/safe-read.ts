import { lstatSync, readdirSync, readFileSync, realpathSync, statSync } from 'node:fs';
import { join, relative, resolve, sep } from 'node:path';
import { fileProblem } from './codes.ts';
import { takenOf } from './write/sibling-path.ts';
import { decode, MAX_FILE_BYTES, tooLarge } from './yaml/decode.ts';
import type { TextProblem } from './yaml/located.ts';

export type FileRead =
  | { readonly kind: 'text'; readonly text: string; readonly bytes: Uint8Array }
  | { readonly kind: 'absent' }
  | { readonly kind: 'problem'; readonly problem: TextProblem };

/** A path as it is named to the brewer: relative to the working folder, with forward slashes. */
export function shownPath(path: string): string {
  const shown = relative(process.cwd(), path).split(sep).join('/');
  return shown === '' ? '.' : shown;
}

/**
 * Reads a text file below `root`; links that lead out of it, pipes and devices are refused unopened.
 *
 * Synchronous on purpose: small files that the system has at hand are read several times faster than by way of
 * the thread pool.
 */
export function readBelow(path: string, root: string): FileRead {
  try {
    const link = lstatSync(path);
    if (link.isSymbolicLink() && !isBelow(path, root)) return refused(linkOutside());
    const found = link.isSymbolicLink() ? statSync(path) : link;
    if (!found.isFile()) return refused(unreadable('something that is not an ordinary file'));
    if (found.size > MAX_FILE_BYTES) return refused(tooLarge(found.size));
    const bytes = readFileSync(path);
    const decoded = decode(bytes);
    return decoded.ok ? { kind: 'text', text: decoded.text, bytes } : refused(decoded.problem);
  } catch (error) {
    const code = errorCode(error);
    if (code === 'ENOENT' || code === 'ENOTDIR') {
      return isLink(path) ? refused(unreadable('a link to nothing')) : { kind: 'absent' };
    }
    return refused(unreadable(WORDS[code] ?? `an error of the file system (${code})`));
  }
}

/** The same of a file that may just be taken away while a new one comes into its place, or was when a process was killed. */
export function readKept(path: string, root: string): FileRead {
  for (const each of [path, takenOf(path)]) {
    const read = readBelow(each, root);
    if (read.kind !== 'absent') return read;
  }
  return readBelow(path, root);
}

const WORDS: Readonly<Record<string, string>> = {
  EACCES: 'a file that may not be read',
  EPERM: 'a file that may not be read',
  ELOOP: 'a link that leads to itself',
  EISDIR: 'a folder',
};

/** Names in a folder below `root`, sorted; null where there is none, a problem where it cannot be listed. */
export function listBelow(folder: string, root: string): readonly string[] | TextProblem | null {
  try {
    if (!isBelow(folder, root)) return linkOutside();
    return readdirSync(folder).sort();
  } catch (error) {
    const code = errorCode(error);
    return code === 'ENOENT' ? null : unreadable(`a folder that cannot be listed (${code})`);
  }
}

export const isNames = (names: readonly string[] | TextProblem): names is readonly string[] =>
  Array.isArray(names);

function isBelow(path: string, root: string): boolean {
  const [real, realRoot] = [realpathSync(path), realpathSync(root)];
  return real === realRoot || real.startsWith(realRoot.endsWith(sep) ? realRoot : realRoot + sep);
}

function isLink(path: string): boolean {
  return lstatSync(path, { throwIfNoEntry: false })?.isSymbolicLink() ?? false;
}

/** The code of a file system's error, or its text. */
export function errorCode(error: unknown): string {
  return error instanceof Error && 'code' in error ? String(error.code) : String(error);
}

const refused = (problem: TextProblem): FileRead => ({ kind: 'problem', problem });

const linkOutside = (): TextProblem => fileProblem('link-outside', 0);
const unreadable = (found: string): TextProblem => fileProblem('file-unreadable', 0, { found });

export const below = (root: string, ...parts: string[]): string => join(resolve(root), ...parts);
