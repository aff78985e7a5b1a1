import { placeOf, placeText } from '../../batch/types/places.ts';
import { localDay } from '../../batch/types/time.ts';
import { checkTyped } from '../../key-in/check.ts';
import { dateContextOf } from '../../key-in/dates.ts';
import { type Doubt, doubtsOf } from '../../key-in/doubts.ts';
import { keyedFile, readKeyedFile } from '../../key-in/file.ts';
import { type Answers, type Blank, findBlank, rowsOf } from '../../key-in/key-in.ts';
import { labelOf } from '../../key-in/words.ts';
import { fermentationWords, outcomeLines } from '../../site/key-in/outcome.ts';
import { doubtContext, type Session, saveKeyed } from '../../site/key-in/session.ts';
import { UsageError } from './usage-error.ts';

export interface Keyed {
  readonly saved: boolean;
  /** What to tell the brewer, line by line. */
  readonly said: readonly string[];
}

/** Finds a blank by its key or its number on paper; `[next]` is the first free row. */
function blankNamed(session: Session, name: string): Blank {
  const key = name.replace(
    /^(fermentation|tasted)\[next\]/,
    (_, list: 'fermentation' | 'tasted') => `${list}[${rowsOf(session.raw, list).length}]`,
  );
  const place = placeOf(key);
  const found = findBlank(session.blanks, place === null ? key : placeText(place));
  if (found !== undefined) return found;
  throw new UsageError(`The sheets of ${session.file.slug} have no blank "${name}".`);
}

/** Checks and saves some answers at once; nothing is saved where one of them is wrong or unlikely. */
export async function keyIn(
  session: Session,
  given: readonly (readonly [string, string])[],
  sure: boolean,
): Promise<Keyed> {
  const lines = new Map(given.map(([name, text]) => [blankNamed(session, name).key, text]));
  const context = dateContextOf(session.batch, session.brewery);
  const { answers, faults } = checkTyped(session.blanks, { lines }, context);
  const nameOf = (key: string) => {
    const blank = session.blanks.find((each) => each.key === key);
    return blank === undefined ? key : `${blank.id} ${labelOf(blank)} (${key})`;
  };
  if (faults.length > 0) {
    const said = faults.flatMap(({ key, found, expected, mend }) => [
      nameOf(key),
      `  found     ${found}`,
      `  expected  ${expected}`,
      `  mend      ${mend}`,
    ]);
    return { saved: false, said: [...said, 'Nothing was saved.'] };
  }
  const doubts = doubtsOf(session.blanks, answers, doubtContext(session, localDay()));
  if (doubts.length > 0 && !sure) {
    const said = doubts.flatMap(({ key, message }) => [nameOf(key), `  unlikely  ${message}`]);
    return { saved: false, said: [...said, 'Nothing was saved. With --sure it is taken as it is.'] };
  }
  return save(session, answers);
}

/** Doubts about one blank among answers. */
export function doubtsAbout(session: Session, answers: Answers, key: string): readonly Doubt[] {
  const all = doubtsOf(session.blanks, answers, doubtContext(session, localDay()));
  return all.filter((doubt) => doubt.key === key);
}

/** Writes answers, and says what they mean. */
export async function save(session: Session, answers: Answers): Promise<Keyed> {
  const { slug, blanks } = session;
  const file = readKeyedFile(keyedFile(slug, blanks, answers));
  if ('fault' in file) throw new Error(file.fault);
  const saved = await saveKeyed(session, file);
  if (saved.kind === 'refused') return { saved: false, said: saved.why };
  if (saved.kind === 'clash') {
    const why = 'The file was changed by something else in the meantime: what was keyed in is not in it.';
    return { saved: false, said: [why, 'Run the command again.'] };
  }
  const { before: opened, answers: written, after } = saved;
  const lines = outcomeLines(opened, after, written);
  if (lines.length === 0) return { saved: true, said: ['The file says so already.'] };
  const log = lines.some(({ id }) => id.startsWith('F')) ? fermentationWords(after) : null;
  const said = lines.map(({ id, label, text, before, corrected, verdict }) => {
    const instead = before === '' ? '' : `in place of ${before}`;
    return [`${id} ${label}: ${text}`, instead, corrected, verdict].filter((part) => part !== '').join('; ');
  });
  return { saved: true, said: [...said, ...(log === null ? [] : [log])] };
}
