import { tryRandomPlans } from './random-plans.ts';

tryRandomPlans(10_000);
