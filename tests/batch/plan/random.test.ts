import { tryRandomPlans } from './random-plans.ts';

tryRandomPlans(200);
