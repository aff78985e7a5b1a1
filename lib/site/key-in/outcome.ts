import { correctedText } from '../../key-in/corrected.ts';
import { type Answers, NOT_TAKEN } from '../../key-in/key-in.ts';
import { changesInWords } from '../../key-in/words.ts';
import { endJudgment, judgmentLine, lineFor } from '../../words/judgments.ts';
import { VERDICT_WORDS } from '../pages/status.ts';
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
  /** `a little off. Stir and read again.`; empty where there is nothing to say. */
  readonly verdict: string;
}

/** Every answer that differs from what the file said, and what it means; `after` is the batch with them in it. */
export function outcomeLines(
  opened: Session,
  after: Session | null,
  answers: Answers,
): readonly OutcomeLine[] {
  const source = doubtContext(opened, null);
  return changesInWords(opened.blanks, answers).map(({ blank, label, text, before }) => {
    const keyed = answers.get(blank.key) ?? '';
    return {
      id: blank.id,
      key: blank.key,
      label,
      text,
      before,
      corrected: keyed === NOT_TAKEN ? '' : correctedText(source, blank, keyed, answers),
      verdict: after === null || keyed === '' ? '' : verdictOf(after, blank.key),
    };
  });
}

/** What the plan says of a reading; one packaging has no number in it. */
export function verdictOf({ plan, brewery }: Opened, key: string): string {
  const found = plan.readings[key] ?? plan.readings[key.replace('packaged[0]', 'packaged')];
  const said = lineFor(plan, key, brewery.units);
  if (!found?.verdict || found.verdict === 'not_taken') return said;
  const word = VERDICT_WORDS[found.verdict];
  return said === '' ? word : `${word}. ${said}`;
}

/** What is said of the last gravity; null where nothing is. */
export function fermentationWords({ plan, brewery }: Opened): string | null {
  const found = endJudgment(plan);
  return found === null ? null : judgmentLine(found, brewery.units);
}
