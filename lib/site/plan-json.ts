import type { Plan } from '../batch/types/plan.ts';

/** The plan as it is published: the same keys in the same order for the same batch. */
export const planJson = (plan: Plan): string => `${JSON.stringify(plan, null, 1)}\n`;
