import type { RecipeMoment } from '../../batch/types/recipe.ts';
import type { SiteEntry } from '../site.ts';
import type { Table } from './columns.ts';
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
    { name: 'batch', type: 'text', unit: '', meaning: SLUG, of: (row) => row.batch },
    {
      name: 'kind',
      type: 'text',
      unit: '',
      meaning: 'grain, extract, sugar, hop, other or yeast',
      of: (row) => row.kind,
    },
    { name: 'name', type: 'text', unit: '', meaning: 'Its name', of: (row) => row.name },
    {
      name: 'written',
      type: 'text',
      unit: '',
      meaning: 'The amount as the brewer wrote it',
      of: (row) => row.written,
    },
    {
      name: 'amount',
      type: 'number',
      unit: '',
      meaning: 'The amount, in the unit beside it',
      of: (row) => row.amount,
    },
    { name: 'amount_unit', type: 'text', unit: '', meaning: 'g, L or count', of: (row) => row.unit },
    {
      name: 'add',
      type: 'text',
      unit: '',
      meaning: 'When it goes in: boil, flameout, stand, dry, first wort, steep, mash, fermenter or packaging',
      of: ({ add }) => (add === null ? null : typeof add === 'string' ? add : add.at),
    },
    {
      name: 'minutes_left',
      type: 'number',
      unit: 'min',
      meaning: 'Minutes left of the boil when it goes in',
      of: ({ add }) =>
        add !== null && typeof add !== 'string' && add.at === 'boil' ? add.minutesLeft : null,
    },
    {
      name: 'day',
      type: 'integer',
      unit: 'd',
      meaning: 'Days after pitching when it goes in',
      of: ({ add }) => (add !== null && typeof add !== 'string' && 'day' in add ? add.day : null),
    },
    {
      name: 'alpha_percent',
      type: 'number',
      unit: '%',
      meaning: 'Alpha acids of a hop',
      of: (row) => row.alpha,
    },
    {
      name: 'yield_percent',
      type: 'number',
      unit: '%',
      meaning: 'Laboratory extract as is',
      of: (row) => row.yield,
    },
    {
      name: 'colour_ebc',
      type: 'number',
      unit: 'EBC',
      meaning: 'Colour of malt, extract or sugar',
      of: (row) => row.colour,
    },
  ],
};
