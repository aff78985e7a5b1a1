import type { Plan, PublishedPlan } from '../batch/types/plan.ts';
import { breaking } from '../units/format/format.ts';
import { judgmentWords } from '../words/judgments.ts';
import type { Voice } from '../words/measures.ts';
import { rowParts } from '../words/words.ts';
import { tidy } from './data/columns.ts';

/** The plan as it is published, the timetable and the judgments in words: a plan that does not fit its schema does not compile. */
export const published = (plan: Plan, voice: Voice): PublishedPlan => ({
  ...plan,
  timetable: plan.timetable.map((row) => ({
    phase: row.phase,
    minutes_left: row.minutes_left,
    minute: row.minute,
    action: row.action,
    ...rowParts(row, voice),
    clock: row.clock,
    items: row.items.map(({ path }) => path),
  })),
  judgments: plan.judgments.map((one) => {
    const words = judgmentWords(one, voice);
    return { ...words, cause: words.cause && breaking(words.cause), do: words.do && breaking(words.do) };
  }),
});

/** The same keys in the same order for the same batch. */
export const planJson = (plan: Plan, voice: Voice): string =>
  `${JSON.stringify(published(plan, voice), (_, value: unknown) => tidy(value), 1)}\n`;
