import { readFileSync } from 'node:fs';
import { type Collision, mergeKeyed, readKeyedFile, rowsNeeded } from '../../key-in/file.ts';
import { blanksOf } from '../../key-in/key-in.ts';
import { labelOf, shownText } from '../../key-in/words.ts';
import type { Session } from '../../site/key-in/session.ts';
import { clockText } from '../../words/measures.ts';
import { UsageError } from './usage-error.ts';

export interface FromFile {
  /** With room for every row of the file. */
  readonly session: Session;
  readonly given: readonly (readonly [key: string, text: string])[];
  /** What to tell where the batch file says something else by now; then nothing is given. */
  readonly differs: readonly string[];
}

const END = 'Nothing was saved. With --over what was keyed in is put in the place of what the file says.';

function linesOf({ blank, keyed, was }: Collision, language: string): readonly string[] {
  const words = (text: string) => (text === '' ? 'nothing' : shownText(text, blank.kind, language));
  return [
    `${blank.id} ${labelOf(blank)} (${blank.key})`,
    `  the batch file says  ${words(blank.now)}`,
    `  keyed in             ${words(keyed)}`,
    `  said at that time    ${words(was)}`,
  ];
}

/**
 * The readings of a file that the form without a server has made, as they go into the batch file as it is now. What
 * that says differently by now than when they were keyed in is never written over unasked. Throws a `UsageError` for a
 * file that is none of that batch.
 */
export function fromFile(path: string, session: Session, over: boolean): FromFile {
  let text: string;
  try {
    text = readFileSync(path, 'utf8');
  } catch {
    throw new UsageError(`--file ${path}: there is no such file that can be read.`);
  }
  const file = readKeyedFile(text);
  if ('fault' in file) throw new UsageError(`--file ${path}: ${file.fault}.`);
  const { slug } = session.file;
  if (file.slug !== slug)
    throw new UsageError(`--file ${path}: it holds readings of ${file.slug ?? 'no batch'}, not of ${slug}.`);
  const { batch, raw, brewery } = session;
  const blanks = blanksOf(batch, raw, brewery.units, rowsNeeded(file, raw));
  const { given, collisions, unknown } = mergeKeyed(file, blanks, raw);
  if (unknown.length > 0)
    throw new UsageError(
      `--file ${path}: the sheets of ${slug} have no blank by now for ${unknown.join(', ')}.`,
    );
  if (collisions.length > 0 && !over)
    return {
      session,
      given: [],
      differs: [...collisions.flatMap((one) => linesOf(one, brewery.language)), END],
    };
  const instead = collisions.map(({ blank, keyed }) => [blank.key, keyed] as const);
  // A file of readings says its times as the batch file does; what is keyed in by hand says which half of the day it is.
  const byHand = ([key, text]: readonly [string, string]) => {
    const kind = blanks.find((blank) => blank.key === key)?.kind;
    if (kind !== 'clock' && kind !== 'date') return [key, text] as const;
    return [key, text.replace(/\d\d:\d\d$/, (time) => clockText(time, brewery.language))] as const;
  };
  return { session: { ...session, blanks }, given: [...given, ...instead].map(byHand), differs: [] };
}
