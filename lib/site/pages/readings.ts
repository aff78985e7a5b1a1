import { NO_WARMER, verdictAtMost } from '../../batch/judgment/verdicts.ts';
import type { Batch } from '../../batch/types/batch.ts';
import { LEVELS, type Level } from '../../batch/types/judgment.ts';
import { type Place, placeOf, placeText, valueAtPlace } from '../../batch/types/places.ts';
import {
  type Figure,
  type Plan,
  printedTargets,
  type ReadingVerdict,
  type VerdictWord,
} from '../../batch/types/plan.ts';
import type { TargetKey } from '../../batch/types/targets.ts';
import type { Units } from '../../units/dimension.ts';
import { nonBreaking } from '../../units/format/format.ts';
import { figureLine, figureText, labelOf } from '../../words/figures.ts';
import { endJudgment, judgmentWords } from '../../words/judgments.ts';
import type { Voice } from '../../words/measures.ts';
import { VERDICT_WORDS } from './status.ts';

/** One target that was read: what was planned, what was found, and what that means. */
export interface ComparisonRow {
  readonly label: string;
  readonly planned: string;
  readonly between: string;
  /** As keyed. */
  readonly read: string;
  /** Reduced to 20 °C where that changes it, else empty. */
  readonly reduced: string;
  readonly verdict: VerdictWord;
  readonly verdictWords: string;
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null;

/** What the brewer keyed in at a place; null where nothing is there. */
export function writtenReading(batch: Batch, place: Place | null): string | null {
  const value = place === null ? null : valueAtPlace(batch.readings, place);
  if (typeof value === 'string') return value;
  if (!isRecord(value)) return null;
  if (typeof value.written === 'string') return value.written;
  return typeof value.date === 'string' ? [value.date, value.clock].filter(Boolean).join(' ') : null;
}

/** A bare value printed as its target would be. */
const valueLine = (key: TargetKey, value: number, units: Units): string =>
  figureLine(
    key,
    { value, low: value, high: value, printed: { low: value, high: value }, contributors: [] },
    units,
  );

/** What was read of a target; null where it was not, or in more parts than one. */
export function readOf({ readings }: Plan, target: TargetKey, units: Units): string | null {
  const [one, ...more] = Object.values(readings).filter((reading) => reading.target === target);
  return one?.value == null || more.length > 0 ? null : valueLine(target, one.value, units);
}

function row(
  batch: Batch,
  plan: Plan,
  key: string,
  reading: ReadingVerdict,
  { units, language }: Voice,
): ComparisonRow | null {
  const target = reading.target;
  const figure = target === null ? null : printedTargets(plan)[target];
  if (target === null || figure === null || reading.verdict === null) return null;
  const text = figureText(target, figure, units);
  const written = writtenReading(batch, placeOf(key));
  const reduced = reading.value === null ? '' : valueLine(target, reading.value, units);
  const same = written !== null && Number.parseFloat(written) === Number.parseFloat(reduced);
  return {
    label: labelOf(target, language),
    planned: figureLine(target, figure, units),
    between: betweenWords(key, text),
    read: reading.verdict === 'not_taken' ? '–' : written === null ? reduced : nonBreaking(written),
    reduced: written === null || same ? '' : reduced,
    verdict: reading.verdict,
    verdictWords: verdictWords(key, reading.value, reading.verdict, figure),
  };
}

/** A whole number has no range: bottles are counted against the beer that was read. */
function betweenWords(key: string, { number, low, high }: ReturnType<typeof figureText>): string {
  if (NO_WARMER.has(key)) return `at most ${number}`;
  return low === high ? '–' : `${low} to ${high}`;
}

/** Warmer than planned and yet fine: says why. */
function verdictWords(key: string, value: number | null, verdict: VerdictWord, figure: Figure): string {
  const warm = verdict === 'fine' && value !== null && NO_WARMER.has(key);
  return warm && verdictAtMost(value, figure) !== 'fine'
    ? 'fine: the mix is what counts'
    : VERDICT_WORDS[verdict];
}

/** Planned against brewed: every reading that has a target, in the order of the day. */
export function comparison(batch: Batch, plan: Plan, voice: Voice): ComparisonRow[] {
  return Object.entries(plan.readings)
    .map(([key, reading]) => row(batch, plan, key, reading, voice))
    .filter((found) => found !== null);
}

/** A reading of which something is said. */
export interface SaidView {
  readonly level: Level;
  readonly label: string;
  readonly cause: string;
  readonly do: string;
}

/** What is said of the readings, the loudest first; the fermentation's own, where it is calm, is said with its log. */
export function saidOf(batch: Batch, plan: Plan, voice: Voice): SaidView[] {
  const end = endJudgment(plan);
  return plan.judgments
    .filter((one) => one.cause !== null && (one !== end || one.level !== 'calm'))
    .sort((a, b) => LEVELS.indexOf(b.level) - LEVELS.indexOf(a.level))
    .map((one) => {
      const words = judgmentWords(one, voice);
      const { target } = plan.readings[one.key]!;
      const place = placeOf(one.key);
      const written = writtenReading(batch, place);
      const label =
        target === null
          ? (READING_LABELS[place === null ? '' : placeText({ ...place, row: null })] ?? '')
          : labelOf(target, voice.language);
      return {
        level: one.level,
        label: written === null ? label : `${label}, ${nonBreaking(written)}`,
        cause: words.cause ?? '',
        do: words.do ?? '',
      };
    });
}

/** Readings that no target is held against. */
const READING_LABELS: Readonly<Record<string, string>> = {
  'additions.clock': 'Addition',
  boil_ended: 'End of the boil',
  'pitched.temperature': 'Pitched',
  'pitched.yeast': 'Yeast',
  'fermentation.gravity': 'Gravity',
  'fermentation.temperature': 'Beer',
  'packaged.volume': 'Packaged',
  'packaged.sugar': 'Sugar',
  'packaged.bottles': 'Bottles',
  'packaged.burst': 'Bottles that burst',
  fermented_out: 'Fermented out',
};
