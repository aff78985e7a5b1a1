import { STOVES } from '../../batch/model/stoves.ts';
import { formFields } from '../../browser/recipe/form-fields.ts';
import { recipeBody } from '../../words/recipe-body.ts';
import { spelled } from '../../words/words.ts';
import { lockSvg } from '../charts/lock.ts';
import { dataBlock } from '../feeds/recipe-data.ts';
import type { Published, SiteEntry } from '../site.ts';
import { extractChoices, travelData } from '../travel-data.ts';
import { headView } from './head.ts';

/** A recipe for handing on: what goes in, how, and what it becomes; no day, no reading, no note of the batch. */
export function recipeView(entry: SiteEntry, site: Published) {
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
    /** The batch that it was brewed as, where that may be seen. */
    batchHref: batch.publish === 'all' ? `batches/${batch.slug}/index.html` : null,
    form: {
      fields: formFields(data, {}),
      extracts: extractChoices(data),
      stoves: Object.entries(STOVES).map(([name, { heat_kW }]) => ({ name, kW: String(heat_kW) })),
      units,
      metric: spelled('litres, grams, °C', site.brewery.language),
      paper,
    },
    data: dataBlock(data),
  };
}
