import { plainName } from '../archive/schema/names.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Ingredient } from '../batch/types/ingredient.ts';
import type { TravelData } from '../browser/recipe/changes.ts';
import { offersExtract } from '../browser/recipe/form-fields.ts';
import type { Published, SiteEntry } from './site.ts';

/** Extracts that bring a colour and nothing else: no hops in them, no other grain. */
const PLAIN_EXTRACT = /^(?:extra )?(?:pale|light|medium|amber|dark) (?:liquid|dry) extract$/i;

const named = (row: Ingredient): readonly string[] => [row.name, ...row.also].map(plainName);

/** What takes the place of a recipe's extract: its namesake of the other kind, else the one whose colour is nearest. */
function otherExtract(
  { recipe }: Batch,
  to: 'liquid' | 'dry',
  rows: readonly Ingredient[],
): Ingredient | null {
  const from = to === 'dry' ? 'liquid' : 'dry';
  const main = recipe.extract
    .filter((item) => item.form === from && item.bitterness === null)
    .reduce<(typeof recipe.extract)[number] | null>(
      (most, item) => (most === null || item.weight_g.value > most.weight_g.value ? item : most),
      null,
    );
  if (main === null) return null;
  const able = rows.filter(
    (row) => row.kind === 'extract' && row.form === to && row.yield !== null && row.colour_EBC !== null,
  );
  const namesake = plainName(main.name.replace(new RegExp(from, 'i'), to));
  const away = (row: Ingredient): number => Math.abs((row.colour_EBC ?? 0) - main.colour_EBC.value);
  return (
    able.find((row) => named(row).includes(namesake)) ??
    able.filter((row) => PLAIN_EXTRACT.test(row.name)).sort((a, b) => away(a) - away(b))[0] ??
    null
  );
}

/**
 * What a recipe's page carries for a friend's browser. The recipe and the setup's figures, which its weights are for; no day, no
 * number, no readings, no notes, no tags, no name of the setup: a recipe that is published alone says nothing of its batch, and how
 * high its kitchen lies only about (`far-kitchen.ts`). Beside a batch that is shown whole the height is exact: its plan could be
 * made by no other.
 */
export function travelData({ batch }: SiteEntry, site: Published): TravelData {
  const rows = site.extracts;
  return {
    version: 1,
    batch: {
      slug: batch.slug,
      title: batch.title,
      number: null,
      brewed: null,
      start: null,
      setup: { ...batch.setup, key: 'kitchen', title: 'your kitchen', sanitiser: null },
      style: batch.style,
      tags: [],
      basedOn: null,
      pictures: [],
      publish: 'recipe',
      recipe: batch.recipe,
      readings: {},
      notes: '',
    },
    brewery: site.brewery,
    extracts: { liquid: otherExtract(batch, 'liquid', rows), dry: otherExtract(batch, 'dry', rows) },
  };
}

/** The kinds of extract that a friend may choose instead. */
export const extractChoices = (data: TravelData): readonly ('liquid' | 'dry')[] =>
  (['liquid', 'dry'] as const).filter((kind) => offersExtract(data, kind));
