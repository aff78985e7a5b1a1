import { STOVES } from '../../batch/model/stoves.ts';
import type { Brewery } from '../../batch/types/brewery.ts';
import { type FormField, formFields } from '../../browser/recipe/form-fields.ts';
import { type RecipeBody, recipeBody } from '../../words/recipe-body.ts';
import { lockSvg } from '../charts/lock.ts';
import { dataBlock } from '../feeds/recipe-data.ts';
import type { Published, SiteEntry } from '../site.ts';
import { extractChoices, travelData } from '../travel-data.ts';
import { type HeadView, headView } from './head.ts';

export interface RecipeView extends RecipeBody {
  readonly head: HeadView;
  readonly slug: string;
  readonly title: string;
  readonly style: string;
  readonly lock: string;
  /** The batch that it was brewed as, where that may be seen. */
  readonly batchHref: string | null;
  readonly form: {
    readonly fields: readonly FormField[];
    readonly extracts: readonly ('liquid' | 'dry')[];
    readonly stoves: readonly { readonly name: string; readonly kW: string }[];
    readonly units: Brewery['units'];
    readonly paper: Brewery['paper'];
  };
  /** JSON for the reader's browser, safe to stand in a page. */
  readonly data: string;
}

/** A recipe for handing on: what goes in, how, and what it becomes; no day, no reading, no note of the batch. */
export function recipeView(entry: SiteEntry, site: Published): RecipeView {
  const { batch, plan } = entry;
  const { units, paper } = site.brewery;
  const style = batch.style ?? 'beer';
  const data = travelData(entry, site);
  return {
    ...recipeBody(batch, plan, site.brewery, false),
    head: headView(
      site.brewery,
      `recipes/${batch.slug}/index.html`,
      `${batch.title}: the recipe`,
      `How to brew ${batch.title}, ${style}, on a kitchen stove: ingredients, method and targets.`,
    ),
    slug: batch.slug,
    title: batch.title,
    style: batch.style ?? '',
    lock: lockSvg(plan.swatch?.srgb ?? null),
    batchHref: batch.publish === 'all' ? `batches/${batch.slug}/index.html` : null,
    form: {
      fields: formFields(data, {}),
      extracts: extractChoices(data),
      stoves: Object.entries(STOVES).map(([name, { heat_kW }]) => ({ name, kW: String(heat_kW) })),
      units,
      paper,
    },
    data: dataBlock(data),
  };
}
