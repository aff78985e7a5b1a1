import { z } from 'zod';
import type { Ingredient } from '../../batch/types/ingredient.ts';
import type { Units } from '../../units/dimension.ts';
import { POSSIBLE } from '../../units/parse/possible.ts';
import { quantities } from './quantities.ts';
import { YEAST_KINDS } from './recipe-schema.ts';
import { choice, decimal, flag, line } from './scalars.ts';
import { byUnits, optional } from './shapes.ts';

const KINDS = ['grain', 'extract', 'sugar', 'hop', 'yeast', 'fining', 'spice', 'fruit'] as const;

const table = (of: 'malt' | 'sugar') =>
  byUnits((units) => {
    const q = quantities(units);
    return z.strictObject({
      name: line('Name of the ingredient.', 'crystal malt 150'),
      also: z.array(line('Another name.')).nullish().describe('Other names for the same thing.'),
      kind: choice(KINDS, 'What it is.'),
      ...optional({
        yield: q.percent('Laboratory extract as is, share of the weight.', '75 %'),
        colour: q.colour('Its colour.', of),
        fermentability: q.percent('How well its extract ferments.', '90 %'),
        fermentable_as: choice(['malt', 'sugar', 'none'], 'Like malt, wholly, or not at all.'),
        moisture: q.percent('Water content.', '20 %'),
        form: choice(['liquid', 'dry'], 'Syrup or powder.'),
        needs_mash: flag('Whether the grain needs a mash to give its extract.'),
        alpha: q.percentBand('Alpha acids.', '4-6 %', POSSIBLE.alpha),
        attenuation: q.percentBand('Apparent attenuation.', '72-77 %'),
        temperature: q.temperatureBand('Band of fermentation.', 17, 22),
        yeast: choice(YEAST_KINDS, 'The family of the yeast.'),
        priming: decimal('Grams of carbon dioxide from a gram, as primer.', 0, 0.6, '0.5143'),
        allergens: z.array(line('One allergen.', 'gluten')).describe('Allergens.'),
        source: line('Where the figures come from.'),
      }),
    });
  });
const ROWS = { malt: table('malt'), sugar: table('sugar') };

export type RowData = z.output<ReturnType<(typeof ROWS)['malt']>>;

/**
 * One row of a table of ingredients. The colour of sugar is converted otherwise than that of malt, so it depends on
 * the kind of the row how its `colour` is read.
 */
export const rowSchema = (units: Units, kind: unknown): ReturnType<(typeof ROWS)['malt']> =>
  ROWS[kind === 'sugar' ? 'sugar' : 'malt'](units);

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
