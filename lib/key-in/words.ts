import { nonBreaking } from '../units/format/format.ts';
import { clockText, dateText } from '../words/measures.ts';
import { capital } from '../words/words.ts';
import type { Fault } from './complete.ts';
import type { Answers, Blank } from './key-in.ts';

/** A blank in words: `Date and hour` of a row says which row. */
export function labelOf({ label, place, at }: Pick<Blank, 'label' | 'place' | 'at'>): string {
  // On paper it is beside the moment.
  if (at === 'flameout') return 'Went in, flame-out';
  const inLog = place.of === 'fermentation' || place.of === 'tasted';
  return inLog ? `Row ${(place.row ?? 0) + 1}: ${lowerFirst(label)}` : capital(label);
}

const lowerFirst = (text: string): string => text.charAt(0).toLowerCase() + text.slice(1);

/** A text of the file in words: `14 February 2026, 17:20`. */
export function shownText(text: string, kind: Blank['kind'], language: string): string {
  if (text === '' || kind !== 'date') return nonBreaking(text);
  const [date = '', clock] = text.split(' ');
  const day = /^\d{4}-\d\d-\d\d$/.test(date) ? dateText(date, language) : date;
  return clock === undefined ? day : `${day}, ${clockText(clock, language)}`;
}

/** What is wrong with an answer, as a line at its blank. */
export function faultText({ found, expected, mend }: Fault): string {
  const what = found === 'nothing' ? 'This is empty' : `${capital(found)} will not do`;
  return `${what}: expected ${expected}. ${capital(mend)}.`;
}

export interface ChangeWords {
  readonly blank: Blank;
  /** Its number on paper. */
  readonly id: string;
  readonly label: string;
  /** As the file will say it; of what it will no longer say, that it is taken out. */
  readonly text: string;
  /** What the file said before, empty where it said nothing, or where `text` says it already. */
  readonly before: string;
}

/** Every answer that differs from what the file says now, in the order of the paper. */
export function changesInWords(
  blanks: readonly Blank[],
  answers: Answers,
  language: string,
): readonly ChangeWords[] {
  return blanks.flatMap((blank): readonly ChangeWords[] => {
    const text = answers.get(blank.key) ?? blank.now;
    if (text === blank.now) return [];
    const before = shownText(blank.now, blank.kind, language);
    const words =
      text === ''
        ? { text: `taken out: ${before}`, before: '' }
        : { text: shownText(text, blank.kind, language), before };
    return [{ blank, id: blank.id, label: labelOf(blank), ...words }];
  });
}
