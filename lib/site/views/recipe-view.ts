import { allergens } from '../../view/cautions.ts';
import { listed } from '../../view/words.ts';
import { swatchSvg } from '../charts/swatch.ts';
import type { Published, SiteEntry } from '../site.ts';
import { type BoardCell, board } from './board.ts';
import { type HeadView, headView } from './head.ts';
import { type IngredientGroup, ingredientGroups } from './ingredients.ts';
import { type MethodStep, methodSteps } from './method.ts';

export interface RecipeView {
  readonly head: HeadView;
  readonly slug: string;
  readonly title: string;
  readonly style: string;
  readonly swatch: string;
  readonly board: readonly BoardCell[];
  readonly groups: readonly IngredientGroup[];
  readonly steps: readonly MethodStep[];
  readonly allergens: string | null;
  /** The batch that it was brewed as, where that may be seen. */
  readonly batchHref: string | null;
}

/** A recipe for handing on: what goes in, how, and what it becomes; no day, no reading, no note of the batch. */
export function recipeView({ batch, plan }: SiteEntry, site: Published): RecipeView {
  const named = allergens(batch);
  const style = batch.style ?? 'beer';
  return {
    head: headView(
      site.brewery,
      `recipes/${batch.slug}/index.html`,
      `${batch.title}: the recipe`,
      `How to brew ${batch.title}, ${style}, on a kitchen stove: ingredients, method and targets.`,
    ),
    slug: batch.slug,
    title: batch.title,
    style: batch.style ?? '',
    swatch: swatchSvg(plan.swatch?.srgb ?? null),
    board: board(plan, batch.recipe, site.brewery.units, false),
    groups: ingredientGroups(batch.recipe),
    steps: methodSteps(batch.recipe),
    allergens: named.length === 0 ? null : listed(named),
    batchHref: batch.publish === 'all' ? `batches/${batch.slug}/index.html` : null,
  };
}
