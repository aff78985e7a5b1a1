/** A recipe as search engines and recipe keepers read it: schema.org Recipe in JSON-LD. */
import type { Recipe } from '../../batch/types/recipe.ts';
import type { Units } from '../../units/dimension.ts';
import { breaking, echoed, stepped } from '../../units/format/format.ts';
import { ingredientGroups } from '../../words/ingredients.ts';
import { methodSteps } from '../../words/method.ts';
import { words } from '../../words/words.ts';
import type { Published, SiteEntry } from '../site.ts';

/** ISO 8601 duration of minutes. */
const duration = (minutes: number): string => `PT${Math.round(minutes)}M`;

function ingredients(recipe: Recipe, units: Units): string[] {
  return ingredientGroups(recipe, units).flatMap(({ lines }) =>
    lines.map(({ amount, name, detail, when }) => {
      const more = [detail, when].filter((part) => part !== '').join(', ');
      return breaking(`${words(amount, name)}${more === '' ? '' : ` (${more})`}`);
    }),
  );
}

/**
 * schema.org Recipe of a batch. Only what the recipe page shows goes in: no day, number, reading or note of a batch that is
 * published as a recipe alone.
 */
export function recipeData({ batch, plan }: SiteEntry, site: Published, picture: string | null): object {
  const { recipe } = batch;
  const { brewery } = site;
  const whole = batch.publish === 'all';
  const address = (path: string) => (brewery.url === null ? null : new URL(path, brewery.url).href);
  const url = address(`recipes/${encodeURIComponent(batch.slug)}/`);
  const image = picture === null ? null : address(picture);
  const energy = plan.targets.energy_kcal_per_litre;
  return {
    '@context': 'https://schema.org',
    '@type': 'Recipe',
    name: batch.title,
    ...(url === null ? {} : { '@id': url, url }),
    ...(image === null ? {} : { image }),
    author: { '@type': 'Person', name: brewery.author ?? brewery.name },
    ...(whole && batch.brewed !== null ? { datePublished: batch.brewed } : {}),
    description: `How to brew ${batch.title}, ${batch.style ?? 'beer'}, on a kitchen stove.`,
    inLanguage: brewery.language,
    recipeCategory: 'Drink',
    ...(batch.style === null ? {} : { recipeCuisine: batch.style }),
    ...(whole && batch.tags.length > 0 ? { keywords: batch.tags.join(', ') } : {}),
    recipeYield: breaking(echoed(recipe.intoFermenter_L.written, brewery.units)),
    ...(recipe.boil_min.value > 0 ? { cookTime: duration(recipe.boil_min.value) } : {}),
    recipeIngredient: ingredients(recipe, brewery.units),
    recipeInstructions: methodSteps(recipe, brewery.units).map(({ title, text, minutesLeft }) => ({
      '@type': 'HowToStep',
      name: minutesLeft === '' ? title : `${title}, ${minutesLeft} min left`,
      text: breaking(text),
    })),
    ...(energy === null
      ? {}
      : {
          nutrition: {
            '@type': 'NutritionInformation',
            servingSize: '1 litre',
            calories: `${stepped(energy.value, 10)} kcal`,
          },
        }),
  };
}

/**
 * JSON for a `script` element: nothing in it can end the element or open a comment. Such a block is data that no browser
 * runs, so that a content security policy without scripts allows it.
 */
export const dataBlock = (data: object): string =>
  JSON.stringify(data).replace(
    /[<>&\u2028\u2029]/g,
    (c) => `\\u${c.charCodeAt(0).toString(16).padStart(4, '0')}`,
  );
