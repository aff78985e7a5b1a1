import { originalBrix, reduceGravity } from '../batch/readings/normalise-readings.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { One } from '../batch/types/readings.ts';
import { fixed } from '../units/format/format.ts';
import { parseGravity } from '../units/parse/parse.ts';
import type { Voice } from '../words/measures.ts';
import type { Answers, Blank } from './key-in.ts';

/** What it takes to see that an answer is unlikely, and to say so: a batch, and what was planned for it. */
export interface DoubtContext extends Voice {
  readonly batch: Batch;
  readonly targets: Plan['targets'];
  /** The day on which it is keyed in; null where that is not to count. */
  readonly today: string | null;
}
type Source = Pick<DoubtContext, 'batch' | 'targets'>;

/**
 * Specific gravity at 20 °C of a gravity as it was keyed in, corrected for the sample's temperature or, for a
 * refractometer, for alcohol; null where there is none, or where its formula does not reach.
 */
export function correctedGravity(
  source: Source,
  { fermented }: One,
  text: string,
  answers: Answers,
): number | null {
  const read = parseGravity(text);
  if (!read.ok) return null;
  try {
    const original = fermented ? { brix: brixBefore(source, answers) } : null;
    return reduceGravity(source.batch, read.value, original).value;
  } catch (error) {
    if (error instanceof RangeError) return null;
    throw error;
  }
}

/** What a refractometer showed, or would have shown, of the wort: as keyed in now, else as planned. */
function brixBefore({ batch, targets }: Source, answers: Answers): number {
  const keyed = parseGravity(answers.get('original_gravity') ?? '');
  const readings = keyed.ok ? { ...batch.readings, original_gravity: keyed.value } : batch.readings;
  return originalBrix(batch, readings, targets.original_gravity?.value ?? 1.05);
}

/** `1.050 at 20 °C`, or why there is none; empty where nothing was keyed in. */
export function correctedText(
  source: Source,
  blank: Pick<Blank, 'spec' | 'kind'>,
  text: string,
  answers: Answers,
): string {
  if (blank.kind !== 'gravity' || !parseGravity(text).ok) return '';
  const value = correctedGravity(source, blank.spec, text, answers);
  return value === null
    ? 'cannot be corrected: too warm or too strong for the formula'
    : `${fixed(value, 3)} at 20\u00a0°C`;
}
