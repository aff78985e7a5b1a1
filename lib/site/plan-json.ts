import type { Plan } from '../batch/types/plan.ts';
import { judgmentWords } from '../words/judgments.ts';
import type { Units } from '../words/numbers.ts';

const plain = (words: string | null): string | null => words?.replaceAll('\u00a0', ' ') ?? null;

/** The plan as it is published: the same keys in the same order for the same batch; what is said of readings in the brewer's units. */
export function planJson(plan: Plan, units: Units): string {
  const judgments = plan.judgments.map((one) => {
    const words = judgmentWords(one, units);
    return { ...words, cause: plain(words.cause), do: plain(words.do) };
  });
  return `${JSON.stringify({ ...plan, judgments }, null, 1)}\n`;
}
