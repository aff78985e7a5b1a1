import { planUnread } from '../../batch/plan/plan-batch.ts';
import { type Refit, type RefitChange, refit } from '../../batch/scaling/scale-recipe.ts';
import type { Batch } from '../../batch/types/batch.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import type { Plan } from '../../batch/types/plan.ts';
import type { Recipe } from '../../batch/types/recipe.ts';
import { formatMass } from '../../units/format/format.ts';
import type { Problem } from '../../units/problem.ts';
import { asksForAmounts, type Changes, packets, type TravelData } from './changes.ts';
import { reworded } from './convert-units.ts';
import { friendsSetup } from './kitchen.ts';

/** A recipe in another kitchen. */
export interface Travelled {
  readonly batch: Batch;
  readonly brewery: Brewery;
  readonly plan: Plan;
  /** What the fit kept and what it could not keep; null where the amounts are the author's. */
  readonly fit: Refit | null;
}

export type TravelResult =
  | ({ readonly ok: true } & Travelled)
  | {
      readonly ok: false;
      /** What the plan found; empty where the fit came to no plan. What to change, `whyNot` says. */
      readonly found: readonly string[];
    };

/**
 * Fits a recipe to a friend's kitchen and plans it, with the model that sites and sheets are made by.
 *
 * Without a change of amounts the recipe is planned as it was written. Pure; the same in Node and in a browser. What cannot be
 * brewed comes back in words and never throws.
 */
export function travel(data: TravelData, changes: Changes): TravelResult {
  const units = changes.units ?? data.brewery.units;
  const brewery: Brewery = { ...data.brewery, units, paper: changes.paper ?? data.brewery.paper };
  try {
    const { batch, fit } = fitted(data, changes, units);
    const result = planUnread(batch, brewery);
    if (result.ok) return { ok: true, batch, brewery, plan: result.plan, fit };
    return { ok: false, found: result.problems.flatMap(foundWords) };
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
    // Its words are of a formula and its range: they help nobody at a stove.
    return { ok: false, found: [] };
  }
}

const foundWords = ({ code, found }: Problem): string[] => (code === 'figure-out-of-range' ? [] : [found]);

function fitted(
  data: TravelData,
  changes: Changes,
  units: Brewery['units'],
): { readonly batch: Batch; readonly fit: Refit | null } {
  if (!asksForAmounts(changes)) return { batch: data.batch, fit: null };
  const setup = friendsSetup(data.batch.setup, changes, units);
  const fit = refit(data.batch, changeOf(data, changes, setup, units));
  const recipe = gramsOfYeast(units === data.brewery.units ? fit.recipe : reworded(fit.recipe, units));
  return { batch: { ...data.batch, setup, recipe }, fit };
}

/** Dry yeast is sold by the gram in every kitchen. */
const gramsOfYeast = (recipe: Recipe): Recipe => ({
  ...recipe,
  yeast: recipe.yeast.map((item) =>
    item.form === 'dry' && item.amount.unit === 'g'
      ? { ...item, amount: { ...item.amount, written: formatMass(item.amount.value, 'metric') } }
      : item,
  ),
});

function changeOf(
  { batch, extracts }: TravelData,
  changes: Changes,
  setup: Batch['setup'],
  units: Brewery['units'],
): RefitChange {
  const row = changes.extract === undefined ? null : extracts[changes.extract];
  const all = packets(batch.recipe);
  const alphas = Object.fromEntries(
    Object.entries(changes.alphas ?? {}).flatMap(([index, alpha]) =>
      (all[Number(index)]?.hops ?? []).map((hop) => [hop, alpha]),
    ),
  );
  return {
    setup,
    units,
    alphas,
    ...(changes.intoFermenter_L === undefined ? {} : { intoFermenter_L: changes.intoFermenter_L }),
    ...(row === null || changes.extract === undefined ? {} : { extractForm: { to: changes.extract, row } }),
    // Kitchen scales of US brewers show ounces: their words are rounded where they are written.
    ...(units === 'metric' ? { rounding: 'kitchen' as const } : {}),
  };
}
