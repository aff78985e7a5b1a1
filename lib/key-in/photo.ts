import type { BlankReading } from '../photo/read-page.ts';
import { completeMoment, type DateContext } from './dates.ts';
import { type Blank, LEFT_OUT } from './key-in.ts';
import { lineOf, partsOf } from './parts.ts';

/** Fixed before it was measured: a plain circle taken for a marked one costs a reading. */
const MARKED = 0.9;

/**
 * What a photograph seems to say in a blank, as it would be typed: empty where nothing seems to be written, null where
 * there is no guess. A guess is offered and never taken by itself.
 *
 * The month of a day cannot be read: it is the first such day from `ctx.brewed` on, the day of the reading before.
 */
export function guessOf(
  blank: Blank,
  { groups, leftOut }: Pick<BlankReading, 'groups' | 'leftOut'>,
  ctx: DateContext,
): string | null {
  if (leftOut !== null && leftOut >= MARKED && blank.words.includes(LEFT_OUT)) return LEFT_OUT;
  if (groups.length === 0 || groups.some(({ text }) => text === null)) return null;
  const seen = (part: string): string => groups.find((group) => group.part === part)?.text ?? '';
  if (groups.every(({ text }) => text === '')) return '';
  if (blank.kind === 'date') {
    const read = completeMoment(`${seen('day')} ${seen('clock')}`, ctx);
    return read.ok ? read.value : null;
  }
  const value = seen('value');
  return value === '' ? null : lineOf(blank, { ...partsOf(blank, ''), value, sample: seen('sample') });
}
