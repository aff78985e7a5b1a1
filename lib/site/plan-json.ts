import type { Plan } from '../batch/types/plan.ts';
import type { Units } from '../words/numbers.ts';
import { published } from './plan-schema.ts';

/** The plan as it is published: the same keys in the same order for the same batch; what is said of readings in the brewer's units. */
export const planJson = (plan: Plan, units: Units): string =>
  `${JSON.stringify(published(plan, units), null, 1)}\n`;
