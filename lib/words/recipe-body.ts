import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import { type BoardCell, board } from './board.ts';
import { allergens } from './cautions.ts';
import { type TimetableLine, timetableLines } from './day.ts';
import { type IngredientGroup, ingredientGroups } from './ingredients.ts';
import type { Voice } from './measures.ts';
import { type MethodStep, methodSteps } from './method.ts';
import { listed } from './words.ts';

/** The part of a recipe's page that changes with the kettle it is fitted to. */
export interface RecipeBody {
  readonly board: readonly BoardCell[];
  readonly groups: readonly IngredientGroup[];
  readonly steps: readonly MethodStep[];
  readonly allergens: string | null;
  /** The day minute by minute; null on the page of the plain recipe, which does not know whose kettle it is. */
  readonly day: readonly TimetableLine[] | null;
}

/** Turns a recipe and its plan into what its page shows; `fitted` adds what belongs to one kettle only. */
export function recipeBody(batch: Batch, plan: Plan, voice: Voice, fitted: boolean): RecipeBody {
  const named = allergens(batch);
  return {
    board: board(plan, batch.recipe, voice, fitted),
    groups: ingredientGroups(batch.recipe, voice.units),
    steps: methodSteps(batch.recipe, voice.units),
    allergens: named.length === 0 ? null : listed(named),
    day: fitted ? timetableLines(plan, voice) : null,
  };
}
