import { planKey } from '../../batch/types/readings.ts';
import type { OutcomeLine } from '../../browser/key-in/data.ts';
import { correctedText } from '../../key-in/corrected.ts';
import { type Answers, type Blank, isFilled } from '../../key-in/key-in.ts';
import { changesInWords } from '../../key-in/words.ts';
import { dateText } from '../../words/measures.ts';
import { sentence } from '../../words/words.ts';
import { VERDICT_WORDS } from '../pages/status.ts';
import { doubtContext, type Opened } from './session.ts';

/** Every answer that differs from what the file said, and what it means; `after` is the batch with them in it. */
export function outcomeLines(opened: Opened, after: Opened | null, answers: Answers): readonly OutcomeLine[] {
  const source = doubtContext(opened, null);
  return changesInWords(opened.blanks, answers).map(({ blank, label, text, before }) => {
    const keyed = answers.get(blank.key) ?? '';
    return {
      id: blank.id,
      label,
      text,
      before,
      corrected: isFilled(keyed) ? correctedText(source, blank, keyed, answers) : '',
      verdict: after === null || keyed === '' ? '' : verdictOf(after, blank),
    };
  });
}

/** What the plan says of a reading. */
function verdictOf({ plan, batch }: Opened, { place }: Blank): string {
  const found = plan.readings[planKey(place, batch.readings)];
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
