import { constants } from 'node:fs';
import { access, stat } from 'node:fs/promises';
import { dirname } from 'node:path';
import { type Problem, pathText } from '../../units/problem.ts';
import { hashOf, type OpenBatch, openBatch, type ReadBatch, readBatchText } from '../open-batch.ts';
import type { Surroundings } from '../schema/check-batch.ts';
import { MAX_FILE_BYTES } from '../yaml/decode.ts';
import { editReadings, type ReadingChange } from './edit-readings.ts';
import { locked } from './lock.ts';
import { recover, replaceFile } from './replace.ts';
import { sweepUnfinished } from './write-whole.ts';

export interface WriteRequest {
  readonly contentDir: string;
  readonly slug: string;
  readonly around: Surroundings;
  /** Hash of the file that the readings were keyed in for; null to write to whatever is there now. */
  readonly hash: string | null;
  /** Works out what to change from what is in the file at the moment of writing. */
  readonly changes: (now: ReadBatch) => readonly ReadingChange[];
}

export type Written =
  | { readonly kind: 'written' | 'unchanged'; readonly file: OpenBatch; readonly read: ReadBatch }
  /** Somebody else has written to the file since it was opened; it stays as it is. */
  | { readonly kind: 'changed since'; readonly file: OpenBatch }
  /** The readings are not possible, by key. */
  | { readonly kind: 'problems'; readonly problems: readonly Problem[] }
  | { readonly kind: 'refused'; readonly why: string };

/**
 * Writes readings into a batch file, whole or not at all.
 *
 * One writer at a time; the file is read again, edited in memory, checked as the whole archive would be, and only then
 * replaced. The version before is kept beside it as `.<slug>.md.before`. Refuses where the file is no longer the one that was
 * opened, also where an editor saves it at that moment, and never follows a link out of the content folder.
 * Throws what the file system throws; the old file then stays.
 */
export function writeReadings(request: WriteRequest): Promise<Written> {
  return inTurn(`${request.contentDir}\0${request.slug}`, () => writeNow(request));
}

const turns = new Map<string, Promise<unknown>>();

/** Runs one piece of work after the other for the same key. */
async function inTurn<T>(key: string, work: () => Promise<T>): Promise<T> {
  const before = turns.get(key) ?? Promise.resolve();
  const mine = before.then(work, work);
  const settled = mine.catch(() => undefined);
  turns.set(key, settled);
  try {
    return await mine;
  } finally {
    if (turns.get(key) === settled) turns.delete(key);
  }
}

async function writeNow(request: WriteRequest): Promise<Written> {
  const found = openBatch(request.contentDir, request.slug);
  if (!found.ok) return { kind: 'refused', why: found.why };
  return locked(found.file.path, (held) => writeLocked(request, found.file.path, held));
}

async function writeLocked(
  { contentDir, slug, around, hash, changes }: WriteRequest,
  path: string,
  held: () => boolean,
): Promise<Written> {
  const refuse = (why: string): Written => ({ kind: 'refused', why });
  await recover(path);
  const opened = openBatch(contentDir, slug);
  if (!opened.ok) return refuse(opened.why);
  const { file } = opened;
  if (hash !== null && hash !== file.hash) return { kind: 'changed since', file };
  const now = readBatchText(slug, file.text, around);
  if (now === null) return refuse('The file of the batch has errors: the command check says which.');
  const wanted = changes(now);
  if (wanted.length === 0) return { kind: 'unchanged', file, read: now };
  const edited = editReadings(file.text, wanted);
  if (!edited.ok) {
    const where = edited.path === null ? 'the readings' : pathText(['readings', ...edited.path]);
    return refuse(
      `The file is written in a way in which ${where} cannot be changed safely; nothing was changed.`,
    );
  }
  const read = readBatchText(slug, edited.text, around);
  const problems = newErrors(now, read);
  if (read === null || problems.length > 0) return { kind: 'problems', problems };
  const bytes = encode(edited.text, file.bytes);
  if (bytes.length > MAX_FILE_BYTES) return refuse('The file would grow beyond 1 MiB.');
  if (!(await mayWrite(file.path)))
    return refuse('The file of the batch is write-protected; nothing was saved. Take that off it first.');
  sweepUnfinished(dirname(file.path));
  if (!held()) return refuse('Writing was interrupted for too long; nothing was changed. Save once more.');
  if (!(await replaceFile(file.path, file.bytes, bytes))) {
    const now = openBatch(contentDir, slug);
    return { kind: 'changed since', file: now.ok ? now.file : file };
  }
  return { kind: 'written', file: { ...file, bytes, text: edited.text, hash: hashOf(bytes) }, read };
}

/** Errors that the file did not have before; what was wrong with it elsewhere is not the readings' fault. */
function newErrors(old: ReadBatch, read: ReadBatch | null): readonly Problem[] {
  const errors = (from: ReadBatch | null) =>
    from?.problems.filter(({ severity }) => severity === 'error') ?? [];
  const textOf = ({ code, path, found }: Problem) => JSON.stringify([code, path, found]);
  const known = new Set(errors(old).map(textOf));
  return errors(read).filter((problem) => !known.has(textOf(problem)));
}

const MARK = [0xef, 0xbb, 0xbf];

/** UTF-8, with the byte order mark that the file had. */
function encode(text: string, old: Uint8Array): Uint8Array {
  const bytes = new TextEncoder().encode(text);
  const marked = MARK.every((byte, i) => old[i] === byte);
  return marked ? Uint8Array.from([...MARK, ...bytes]) : bytes;
}

/** False for a file that nobody may write to, or not this user, whatever may be done in its folder. */
async function mayWrite(path: string): Promise<boolean> {
  const { mode } = await stat(path);
  if ((mode & 0o222) === 0) return false;
  return access(path, constants.W_OK).then(
    () => true,
    () => false,
  );
}
