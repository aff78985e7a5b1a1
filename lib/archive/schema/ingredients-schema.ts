import { z } from 'zod';
import type { Ingredient } from '../../batch/types/ingredient.ts';
import type { Units } from '../../units/dimension.ts';
import { POSSIBLE, quantities } from './quantities.ts';
import { YEAST_KINDS } from './recipe-schema.ts';
import { choice, decimal, flag, line } from './scalars.ts';

const KINDS = ['grain', 'extract', 'sugar', 'hop', 'yeast', 'fining', 'spice', 'fruit'] as const;

function row(units: Units, of: 'malt' | 'sugar') {
  const q = quantities(units);
  return z.strictObject({
    name: line('Name of the ingredient.', 'crystal malt 150'),
    also: z.array(line('Another name.')).nullish().describe('Other names for the same thing.'),
    kind: choice(KINDS, 'What it is.'),
    yield: q.percent('Laboratory extract as is, share of the weight.', POSSIBLE.percent, '75 %').nullish(),
    colour: q.colour('Its colour.', of).nullish(),
    fermentability: q.percent('How well its extract ferments.', POSSIBLE.percent, '90 %').nullish(),
    fermentable_as: choice(['malt', 'sugar', 'none'], 'Like malt, wholly, or not at all.').nullish(),
    moisture: q.percent('Water content.', POSSIBLE.percent, '20 %').nullish(),
    form: choice(['liquid', 'dry'], 'Syrup or powder.').nullish(),
    needs_mash: flag('Whether the grain needs a mash to give its extract.').nullish(),
    alpha: q.percentBand('Alpha acids.', POSSIBLE.alpha, '4-6 %').nullish(),
    attenuation: q.percentBand('Apparent attenuation.', POSSIBLE.percent, '72-77 %').nullish(),
    temperature: q.temperatureBand('Band of fermentation.', POSSIBLE.beer, '17-22 °C').nullish(),
    yeast: choice(YEAST_KINDS, 'The family of the yeast.').nullish(),
    priming: decimal('Grams of carbon dioxide from a gram, as primer.', 0, 0.6, '0.5143').nullish(),
    allergens: z.array(line('One allergen.', 'gluten')).nullish().describe('Allergens.'),
    source: line('Where the figures come from.').nullish(),
  });
}

export type RowData = z.output<ReturnType<typeof row>>;

const built: Partial<Record<string, ReturnType<typeof row>>> = {};

/**
 * One row of a table of ingredients. Sugar colours are converted otherwise than malt colours, so the kind of
 * the row has a say in how its `colour` is read.
 */
export function rowSchema(units: Units, kind: unknown): ReturnType<typeof row> {
  const of = kind === 'sugar' ? 'sugar' : 'malt';
  const key = `${units} ${of}`;
  built[key] ??= row(units, of);
  return built[key];
}

export function ingredientFrom(data: RowData): Ingredient {
  const band = (given: { readonly low: number; readonly high: number } | null | undefined) =>
    given === null || given === undefined ? null : { low: given.low, high: given.high };
  return {
    name: data.name,
    also: data.also ?? [],
    kind: data.kind,
    yield: data.yield?.value ?? null,
    colour_EBC: data.colour?.value ?? null,
    fermentability: data.fermentability?.value ?? null,
    fermentableAs: data.fermentable_as ?? null,
    moisture: data.moisture?.value ?? null,
    form: data.form ?? null,
    needsMash: data.needs_mash ?? false,
    alpha: band(data.alpha),
    attenuation: band(data.attenuation),
    temperature_C: band(data.temperature),
    yeastKind: data.yeast ?? null,
    priming_g_per_g: data.priming ?? null,
    allergens: data.allergens ?? [],
    source: data.source ?? '',
  };
}
