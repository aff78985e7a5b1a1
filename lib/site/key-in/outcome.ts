import { type Answers, type Blank, NOT_TAKEN } from '../../view/key-in.ts';
import { correctedText } from '../../view/key-in-corrected.ts';
import { dateText } from '../../view/measures.ts';
import { kept, sentence } from '../../view/words.ts';
import { VERDICT_WORDS } from '../views/status.ts';
import { doubtContext, type Opened, type Session } from './session.ts';

/** One answer that was keyed in, and what it means. */
export interface OutcomeLine {
  readonly id: string;
  readonly key: string;
  readonly label: string;
  /** As the file will say it; of what it will no longer say, that it is taken out. */
  readonly text: string;
  /** What the file said before, empty where it said nothing, or where that is told already. */
  readonly before: string;
  readonly corrected: string;
  /** `a little off, most likely the boil-off`; empty where there is no target. */
  readonly verdict: string;
}

/** A blank in words: `Date and hour` of a row says which row. */
export function labelOf({ label, key }: Pick<Blank, 'label' | 'key'>): string {
  const row = /^(fermentation|tasted)\[(\d+)\]/.exec(key);
  const plain = label.charAt(0).toUpperCase() + label.slice(1);
  return row === null
    ? plain
    : `Row ${Number(row[2]) + 1}: ${plain.charAt(0).toLowerCase()}${plain.slice(1)}`;
}

/** A text of the file in words: `14 February 2026, 17:20`. */
export function shownText(text: string, kind: Blank['kind']): string {
  if (text === '' || kind !== 'date') return kept(text);
  const [date = '', clock] = text.split(' ');
  const day = /^\d{4}-\d\d-\d\d$/.test(date) ? dateText(date) : date;
  return clock === undefined ? day : `${day}, ${clock}`;
}

/** Every answer that differs from what the file said, and what it means; `after` is the batch with them in it. */
export function outcomeLines(
  opened: Session,
  after: Session | null,
  answers: Answers,
): readonly OutcomeLine[] {
  const source = doubtContext(opened, null);
  return opened.blanks.flatMap((blank): readonly OutcomeLine[] => {
    const text = answers.get(blank.key) ?? blank.now;
    if (text === blank.now) return [];
    const before = shownText(blank.now, blank.kind);
    return [
      {
        id: blank.id,
        key: blank.key,
        label: labelOf(blank),
        text: text === '' ? `taken out: ${before}` : shownText(text, blank.kind),
        before: text === '' ? '' : before,
        corrected: text === NOT_TAKEN ? '' : correctedText(source, blank, text, answers),
        verdict: after === null || text === '' ? '' : verdictOf(after, blank.key),
      },
    ];
  });
}

/** What the plan says of a reading; one packaging has no number in it. */
export function verdictOf({ plan }: Opened, key: string): string {
  const found = plan.readings[key] ?? plan.readings[key.replace('packaged[0]', 'packaged')];
  if (!found?.verdict || found.verdict === 'not_taken') return '';
  const word = VERDICT_WORDS[found.verdict];
  const cause = found.likeliest_cause === null ? '' : `, most likely ${found.likeliest_cause}`;
  // What is fine needs no advice.
  const advice = found.verdict === 'fine' ? '' : (found.advice ?? '');
  return `${word}${cause}${advice === '' ? '' : `. ${advice}`}`;
}

/** Whether it is finished, and when to look next; null without a log. */
export function fermentationWords({ plan }: Opened): string | null {
  const state = plan.fermentation ?? null;
  if (state === null) return null;
  const next = state.next === null ? '' : ` Next reading: ${dateText(state.next)}.`;
  return `${sentence(state.words)}${next}`;
}
