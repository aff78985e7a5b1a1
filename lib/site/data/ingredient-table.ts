import type { RecipeMoment } from '../../batch/types/recipe.ts';
import type { SiteEntry } from '../site.ts';
import { integer, number, type Table, text } from './columns.ts';
import { SLUG } from './shown.ts';

interface IngredientRow {
  readonly batch: string;
  readonly kind: string;
  readonly name: string;
  readonly written: string;
  readonly amount: number;
  readonly unit: string;
  readonly add: RecipeMoment | 'steep' | 'mash' | null;
  readonly alpha: number | null;
  readonly yield: number | null;
  readonly colour: number | null;
}

function ingredientRows({ batch }: SiteEntry): IngredientRow[] {
  const { slug, recipe } = batch;
  const none = { alpha: null, yield: null, colour: null };
  const weighed = (item: { name: string; weight_g: { value: number; written: string } }) => ({
    ...none,
    batch: slug,
    name: item.name,
    written: item.weight_g.written,
    amount: item.weight_g.value,
    unit: 'g',
  });
  const counted = (item: { name: string; amount: { value: number; unit: string; written: string } }) => ({
    ...none,
    batch: slug,
    name: item.name,
    written: item.amount.written,
    amount: item.amount.value,
    unit: item.amount.unit,
  });
  const malt = (item: (typeof recipe.extract)[number] | (typeof recipe.grain)[number]) => ({
    ...weighed(item),
    kind: item.kind,
    yield: 100 * item.yield.value,
    colour: item.colour_EBC.value,
  });
  return [
    ...recipe.grain.map((item) => ({ ...malt(item), add: item.in })),
    ...[...recipe.extract, ...recipe.sugar].map((item) => ({ ...malt(item), add: item.add })),
    ...recipe.hops.map((item) => ({
      ...weighed(item),
      kind: 'hop',
      add: item.add,
      alpha: 100 * item.alpha.value,
    })),
    ...recipe.other.map((item) => ({ ...counted(item), kind: 'other', add: item.add })),
    ...recipe.yeast.map((item) => ({ ...counted(item), kind: 'yeast', add: null })),
  ];
}

/** One row an item of a recipe. */
export const ingredients: Table<IngredientRow> = {
  name: 'ingredients',
  title: 'Ingredients',
  row: 'one item of a recipe, in the order of the file',
  rows: ingredientRows,
  columns: [
    text('batch', SLUG, (row) => row.batch),
    text('kind', 'grain, extract, sugar, hop, other or yeast', (row) => row.kind),
    text('name', 'Its name', (row) => row.name),
    text('written', 'The amount as the brewer wrote it', (row) => row.written),
    number('amount', '', 'The amount, in the unit beside it', (row) => row.amount),
    text('amount_unit', 'g, L or count', (row) => row.unit),
    text(
      'add',
      'When it goes in: boil, flameout, stand, dry, first wort, steep, mash, fermenter or packaging',
      ({ add }) => (add === null ? null : typeof add === 'string' ? add : add.at),
    ),
    number('minutes_left', 'min', 'Minutes left of the boil when it goes in', ({ add }) =>
      add !== null && typeof add !== 'string' && add.at === 'boil' ? add.minutesLeft : null,
    ),
    integer('day', 'd', 'Days after pitching when it goes in', ({ add }) =>
      add !== null && typeof add !== 'string' && 'day' in add ? add.day : null,
    ),
    number('alpha_percent', '%', 'Alpha acids of a hop', (row) => row.alpha),
    number('yield_percent', '%', 'Laboratory extract as is', (row) => row.yield),
    number('colour_ebc', 'EBC', 'Colour of malt, extract or sugar', (row) => row.colour),
  ],
};
