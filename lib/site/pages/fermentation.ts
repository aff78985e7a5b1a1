import type { Batch } from '../../batch/types/batch.ts';
import type { Plan } from '../../batch/types/plan.ts';
import type { Moment } from '../../batch/types/readings.ts';
import { fixed, nonBreaking, stepped } from '../../units/format/format.ts';
import { type Expectation, expectedWords } from '../../words/ferment-words.ts';
import { endJudgment, judgmentLine } from '../../words/judgments.ts';
import { clockText, dateText, type Voice } from '../../words/measures.ts';
import { fermentChart, fermentCurveChart, type GravityPoint } from '../charts/ferment-chart.ts';

export interface FermentationLine {
  readonly day: string;
  readonly iso: string;
  readonly clock: string;
  readonly gravity: string;
  /** SG 20/20 where a correction was made, else empty. */
  readonly corrected: string;
  readonly temperature: string;
  readonly note: string;
}

export interface FermentationView {
  readonly svg: string | null;
  /** What is calmly said of its last gravity; what bears a mark is said at the head of the page. */
  readonly words: string | null;
  /** Where and when the fitted curve lets expect the end; null without one. */
  readonly expected: Expectation | null;
  /** The fitted curve as figures; empty without one. */
  readonly curve: readonly CurveLine[];
  readonly lines: readonly FermentationLine[];
}

export interface CurveLine {
  /** Days after pitching. */
  readonly day: string;
  readonly gravity: string;
  readonly between: string;
}

/** Every so many points of the curve are enough of a table. */
const EVERY = 4;

function curveLines({ fermentation_curve }: Plan): CurveLine[] {
  const points = fermentation_curve?.points ?? [];
  return points
    .filter((_, i) => i % EVERY === 0)
    .map(({ day, gravity, low, high }) => ({
      day: stepped(day, 0.1),
      gravity: fixed(gravity, 3),
      between: `${fixed(low, 3)} and ${fixed(high, 3)}`,
    }));
}

/** A day and an hour as the page shows them, and as a machine reads them. */
export const momentView = (on: Moment, language: string): { iso: string; day: string; clock: string } => ({
  iso: on.clock === null ? on.date : `${on.date}T${on.clock.padStart(5, '0')}`,
  day: dateText(on.date, language),
  clock: on.clock === null ? '' : clockText(on.clock, language),
});

function correctedGravity(plan: Plan, index: number): number | null {
  return plan.readings[`fermentation[${index}].gravity`]?.value ?? null;
}

/** The readings between pitching and packaging, corrected for temperature, as a chart and as a table; `today` while it ferments. */
export function fermentationView(
  batch: Batch,
  plan: Plan,
  voice: Voice,
  today: string | null = null,
): FermentationView | null {
  const { language } = voice;
  const rows = batch.readings.fermentation;
  if (rows === undefined || rows === 'not taken' || rows.length === 0) return null;
  const points: GravityPoint[] = [];
  const { pitched } = batch.readings;
  const start = plan.readings.original_gravity?.value ?? null;
  if (start !== null && pitched !== undefined && pitched !== 'not taken')
    points.push({ date: pitched.on.date, clock: pitched.on.clock, gravity: start });
  const lines = rows.map((row, index): FermentationLine => {
    const gravity = correctedGravity(plan, index) ?? (row.gravity?.scale === 'sg' ? row.gravity.value : null);
    if (gravity !== null) points.push({ date: row.on.date, clock: row.on.clock, gravity });
    const written = row.gravity === null ? '' : nonBreaking(row.gravity.written);
    const corrected = gravity === null ? '' : fixed(gravity, 3);
    return {
      ...momentView(row.on, language),
      gravity: written,
      corrected: Number.parseFloat(written) === Number(corrected) ? '' : corrected,
      temperature: row.temperature_C === null ? '' : nonBreaking(row.temperature_C.written),
      note: row.note ?? '',
    };
  });
  const end = plan.targets.final_gravity;
  const said = endJudgment(plan);
  const { fermentation_curve: curve } = plan;
  const expected = expectedWords(batch, plan, language);
  return {
    svg:
      curve === undefined
        ? fermentChart(points, end === null ? null : end.printed, language)
        : fermentCurveChart(curve, language, today),
    expected,
    curve: curveLines(plan),
    words: said === null || said.level !== 'calm' ? null : judgmentLine(said, voice),
    lines,
  };
}
