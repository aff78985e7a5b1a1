import type { Plan } from '../batch/types/plan.ts';
import type { Voice } from '../words/numbers.ts';
import { published } from './plan-schema.ts';

/** The plan as it is published: the same keys in the same order for the same batch. */
export const planJson = (plan: Plan, voice: Voice): string =>
  `${JSON.stringify(published(plan, voice), null, 1)}\n`;
