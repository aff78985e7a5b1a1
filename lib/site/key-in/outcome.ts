import { type Place, planKey } from '../../batch/types/places.ts';
import type { OutcomeLine } from '../../browser/key-in/data.ts';
import { correctedText } from '../../key-in/corrected.ts';
import type { Answers } from '../../key-in/key-in.ts';
import { changesInWords } from '../../key-in/words.ts';
import { endJudgment, judgmentLine, lineFor } from '../../words/judgments.ts';
import { VERDICT_WORDS } from '../pages/status.ts';
import { doubtContext, type Opened } from './session.ts';

/** Every answer that differs from what the file said, and what it means; `after` is the batch with them in it. */
export function outcomeLines(opened: Opened, after: Opened, answers: Answers): readonly OutcomeLine[] {
  const source = doubtContext(opened, null);
  return changesInWords(opened.blanks, answers, opened.brewery.language).map(({ blank, ...words }) => {
    const keyed = answers.get(blank.key) ?? '';
    return {
      ...words,
      corrected: correctedText(source, blank, keyed, answers),
      verdict: keyed === '' ? '' : verdictOf(after, blank.place),
    };
  });
}

/** What the plan says of a reading. */
export function verdictOf(
  { plan, batch, brewery }: Pick<Opened, 'plan' | 'batch' | 'brewery'>,
  place: Place,
): string {
  const key = planKey(place, batch.readings);
  const found = plan.readings[key];
  const said = lineFor(plan, key, brewery);
  if (!found?.verdict || found.verdict === 'not_taken') return said;
  const word = VERDICT_WORDS[found.verdict];
  return said === '' ? word : `${word}. ${said}`;
}

/** What is said of the last gravity; null where nothing is. */
export function fermentationWords({ plan, brewery }: Opened): string | null {
  const found = endJudgment(plan);
  return found === null ? null : judgmentLine(found, brewery);
}
