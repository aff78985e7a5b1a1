import type { Interface } from 'node:readline';
import { checkTyped } from '../../key-in/check.ts';
import { correctedText } from '../../key-in/corrected.ts';
import { dateContextOf } from '../../key-in/dates.ts';
import { type Blank, headed, NOT_TAKEN, siblingKey } from '../../key-in/key-in.ts';
import { faultText, labelOf, shownText } from '../../key-in/words.ts';
import { paperNote } from '../../site/key-in/page.ts';
import { beginSession, doubtContext, type Session } from '../../site/key-in/session.ts';
import { doubtsAbout, save } from './key-in-save.ts';
import { readerOf } from './questions.ts';
import { FAILED, FINE } from './run-command.ts';

export interface AskOptions {
  /** Ask for blanks again that the file has already. */
  readonly all: boolean;
  readonly say: (text: string) => void;
}

/** Signs for answers that have no words of their own. */
const MARKS: ReadonlyMap<string, string> = new Map([
  ['-', NOT_TAKEN],
  ['--', ''],
]);
const STOP = /^(q|quit|stop)$/i;

/**
 * Asks for every open blank in the order of the paper and saves each answer as it comes, so that it can be stopped at
 * any time; blanks that only make sense with another one are saved with it. Ends at the last blank, at `q` or at the
 * end of the input. Returns the exit code.
 */
export async function askBlanks(begun: Session, input: Interface, options: AskOptions): Promise<number> {
  const next = readerOf(input);
  let session = begun;
  const waiting = new Map<string, string>();
  let heading = '';
  const { say } = options;
  say(`${session.batch.title}. Empty: leave it; - : not taken; -- : take it out of the file; q: stop.`);
  const paper = paperNote(session);
  if (paper !== '') say(paper);
  for (const { key } of begun.blanks) {
    const blank = session.blanks.find((each) => each.key === key);
    if (blank === undefined || isSettled(blank, options) || isPastRow(blank, session, waiting)) continue;
    const found = headingOf(session, blank);
    if (found !== heading) {
      heading = found;
      say(`\n${heading}`);
    }
    const line = await ask(session, blank, waiting, next, say);
    if (line === null) return stopped(waiting, say);
    if (line === undefined) continue;
    waiting.set(key, line);
    const { answers, faults } = checked(session, waiting);
    // A row without its day yet: the next answer will bring it.
    if (faults.length > 0) continue;
    const kept = await save(session, answers);
    if (!kept.saved) {
      for (const text of kept.said) say(text);
      return FAILED;
    }
    waiting.clear();
    const again = beginSession(session, session.file.slug);
    if (!again.ok) {
      say(again.why);
      return FAILED;
    }
    session = again.session;
  }
  return stopped(waiting, say);
}

/** `Kettle sheet, page 3: Boil`; without the page where it is not known. */
function headingOf({ blanks, printed }: Session, { key }: Blank): string {
  const group = headed(blanks, printed?.paper ?? null).find((each) =>
    each.blanks.some((blank) => blank.key === key),
  );
  return group === undefined ? '' : `${group.where}: ${group.title}`;
}

const checked = (session: Session, waiting: ReadonlyMap<string, string>) =>
  checkTyped(session.blanks, { lines: waiting }, dateContextOf(session.batch, session.brewery));

const isSettled = ({ now }: Blank, { all }: AskOptions): boolean => now !== '' && !all;

/** A row, or a batch that was given up, goes on only where its day, and that of the row above, was keyed in. */
function isPastRow({ place, spec }: Blank, session: Session, waiting: ReadonlyMap<string, string>): boolean {
  const { of, row } = place;
  if (of !== 'fermentation' && of !== 'tasted' && of !== 'abandoned') return false;
  const hasDay = (at: number | null) => {
    const key = siblingKey({ place: { ...place, row: at } }, 'on');
    return waiting.has(key) || session.blanks.some((blank) => blank.key === key && blank.now !== '');
  };
  if (spec.kind !== 'date') return !hasDay(row);
  return row !== null && row > 0 && !hasDay(row - 1);
}

/** Asks until the answer can be taken; undefined where the blank is left as it is, null where the brewer stops. */
async function ask(
  session: Session,
  blank: Blank,
  waiting: ReadonlyMap<string, string>,
  next: () => Promise<string | null>,
  say: (text: string) => void,
): Promise<string | null | undefined> {
  const unit = blank.unit === '' || blank.unit === 'SG' ? '' : ` (${blank.unit})`;
  const sample = blank.kind === 'gravity' ? `, @ the sample's temperature (${blank.sampleUnit})` : '';
  const now = blank.now === '' ? '' : ` [${shownText(blank.now, blank.kind, session.brewery.language)}]`;
  for (;;) {
    say(`${blank.id} ${labelOf(blank)}${unit}${sample}${now}`);
    const typed = await next();
    if (typed === null || STOP.test(typed.trim())) return null;
    if (typed.trim() === '') return undefined;
    const line = MARKS.get(typed.trim()) ?? typed;
    const { answers, faults } = checked(session, new Map([...waiting, [blank.key, line]]));
    const fault = faults.find(({ key, code }) => key === blank.key && code !== 'row-without-day');
    if (fault !== undefined) {
      say(`  ${faultText(fault)}`);
      continue;
    }
    const text = answers.get(blank.key) ?? '';
    const corrected = correctedText(doubtContext(session, null), blank, text, answers);
    if (corrected !== '') say(`  = ${corrected}`);
    const [doubt] = doubtsAbout(session, answers, blank.key);
    if (doubt === undefined) return line;
    say(`  ${doubt.message} Is it what the paper says? y/n`);
    const sure = await next();
    if (sure === null) return null;
    if (/^y(es)?$/i.test(sure.trim())) return line;
  }
}

function stopped(waiting: ReadonlyMap<string, string>, say: (text: string) => void): number {
  if (waiting.size === 0) {
    say('Everything that was keyed in is saved.');
    return FINE;
  }
  say(
    `Not saved, because its day is missing: ${[...waiting].map(([key, line]) => `${key} ${line}`).join(', ')}.`,
  );
  return FAILED;
}
