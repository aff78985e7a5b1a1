import { BLOCKS } from '../paper/blanks.ts';
import { eitherHalf } from '../units/parse/clock.ts';
import { complete, type Fault, keyInFault } from './complete.ts';
import { type DateContext, inItsHalf } from './dates.ts';
import { type Answers, type Blank, isFilled, siblingKey } from './key-in.ts';

/** What is wrong with one blank, and what may have been meant. */
export type BlankFault = Fault & { readonly key: string };

export interface Checked {
  /** What the file would hold, by key; blanks with a fault keep what the file says now. */
  readonly answers: Answers;
  readonly faults: readonly BlankFault[];
}

/** Lines as they were typed, by a blank's key; `twice` where a brewer keys figures in a second time. */
export interface Typed {
  readonly lines: ReadonlyMap<string, string>;
  readonly twice?: ReadonlyMap<string, string>;
}

/** Reads every line that was typed; a blank without a line keeps what the file says now. */
export function checkTyped(blanks: readonly Blank[], typed: Typed, ctx: DateContext): Checked {
  const answers = new Map<string, string>();
  const faults: BlankFault[] = [];
  for (const blank of blanks) {
    const line = typed.lines.get(blank.key);
    // What the file says already is not questioned again: it may be written in a way that no form offers.
    if (line === undefined || line.trim() === blank.now) {
      answers.set(blank.key, blank.now);
      continue;
    }
    const read = complete(blank, line, ctx);
    const again = typed.twice?.get(blank.key);
    const second = again === undefined ? read : complete(blank, again, ctx);
    if (!read.ok) {
      faults.push({ ...read, key: blank.key });
      continue;
    }
    if (!second.ok || second.value !== read.value) {
      const differs = keyInFault('keyed-differently', { line, again: String(again) });
      faults.push({ ...differs, key: blank.key });
      continue;
    }
    const time = timeOf(blank, line, read.value, answers, ctx);
    if (time !== null) answers.set(blank.key, time);
    else {
      const halves = [`${read.value} am`, `${read.value} pm`];
      faults.push({ ...eitherHalf(line, halves), key: blank.key });
    }
  }
  const wrong = new Set(faults.map(({ key }) => key));
  faults.push(...missingParts(blanks, answers).filter(({ key }) => !wrong.has(key)));
  return { answers, faults };
}

/** The answer with its time of day in the right half, where the paper's clock shows both alike; null where that is not known. */
function timeOf(
  { block, kind, now }: Blank,
  line: string,
  text: string,
  answers: Answers,
  ctx: DateContext,
): string | null {
  const clock = CLOCK.exec(text)?.[0];
  const timed = kind === 'clock' || kind === 'date';
  if (!ctx.twelveHours || !timed || clock === undefined) return text;
  const hour = Number(clock.slice(0, 2));
  if (hour < 1 || hour > 12 || /[ap]\.?m\b/i.test(line) || now.endsWith(clock)) return text;
  // A row of the log is days after the one before it, and by no means at the same hours.
  if (BLOCKS[block].sheet !== 'kettle') return null;
  const before = [...answers.values()].flatMap((answer) => CLOCK.exec(answer)?.[0] ?? []).at(-1) ?? ctx.start;
  const time = inItsHalf(clock, before);
  return time === null ? null : text.replace(CLOCK, time);
}

/** At the end of an answer: `2026-02-14 17:20`. */
const CLOCK = /\d{2}:\d{2}$/;

/** A row needs its day, and a batch that was given up a reason. */
function missingParts(blanks: readonly Blank[], answers: Answers): readonly BlankFault[] {
  const filled = ({ key }: Blank): boolean => isFilled(answers.get(key) ?? '');
  const begun = new Set(
    blanks
      .filter((blank) => blank.place.part !== null && filled(blank))
      .map((blank) => siblingKey(blank, '')),
  );
  const missing = blanks.filter(
    (blank) => blank.spec.needed && begun.has(siblingKey(blank, '')) && !filled(blank),
  );
  return missing.flatMap(({ key, kind }) => {
    if (kind === 'date') return [{ ...keyInFault('row-without-day'), key }];
    return kind === 'text' ? [{ ...keyInFault('reason-missing'), key }] : [];
  });
}
