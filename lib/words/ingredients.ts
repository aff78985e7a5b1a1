import type { Recipe, RecipeMoment } from '../batch/types/recipe.ts';
import { alphaText } from './lists.ts';
import { amountNumber } from './numbers.ts';
import { kept } from './words.ts';

export interface IngredientLine {
  readonly amount: string;
  readonly name: string;
  /** What else must be known of it: its alpha acids, its form. */
  readonly detail: string;
  readonly when: string;
  readonly note: string | null;
}

export interface IngredientGroup {
  readonly title: string;
  readonly lines: readonly IngredientLine[];
}

/** When something goes in, in words: `60 min left`, `day 7 after pitching, for 3 days`. */
export function momentWords(moment: RecipeMoment, boil_min: number): string {
  switch (moment.at) {
    case 'boil':
      if (moment.minutesLeft >= boil_min && boil_min > 0) return 'start of the boil';
      return moment.minutesLeft === 0 ? 'flame out' : `${amountNumber(moment.minutesLeft, 1)}\u00a0min left`;
    case 'flameout':
      return 'flame out';
    case 'stand':
      return 'in the stand';
    case 'first wort':
      return 'before the boil, into the first wort';
    case 'steep':
      return 'with the steep';
    case 'packaging':
      return 'at packaging';
    case 'dry': {
      const during = moment.forWritten === null ? '' : `, for ${kept(moment.forWritten)}`;
      return `day ${moment.day} after pitching${during}`;
    }
    case 'fermenter':
      return moment.day === 0 ? 'into the fermenter' : `into the fermenter on day ${moment.day}`;
  }
}

function groups(recipe: Recipe): IngredientGroup[] {
  const boil = recipe.boil_min.value;
  const fermentables = [...recipe.extract, ...recipe.sugar];
  return [
    {
      title: 'Grain',
      lines: recipe.grain.map((item) => ({
        amount: kept(item.weight_g.written),
        name: item.name,
        detail: '',
        when: item.in === 'mash' ? 'in the mash' : 'in the steep',
        note: item.note,
      })),
    },
    {
      title: recipe.sugar.length === 0 ? 'Extract' : 'Extract and sugar',
      lines: fermentables.map((item) => ({
        amount: kept(item.weight_g.written),
        name: item.name,
        detail: item.bitterness === null ? '' : `hopped, ${kept(item.bitterness.written)}`,
        when: momentWords(item.add, boil),
        note: item.note,
      })),
    },
    {
      title: 'Hops',
      lines: recipe.hops.map((item) => ({
        amount: kept(item.weight_g.written),
        name: item.name,
        detail: `${alphaText(item.alpha.value)} alpha`,
        when: momentWords(item.add, boil),
        note: item.note,
      })),
    },
    {
      title: 'Also',
      lines: recipe.other.map((item) => ({
        amount: kept(item.amount.written),
        name: item.name,
        detail: '',
        when: momentWords(item.add, boil),
        note: item.note,
      })),
    },
    {
      title: 'Yeast',
      lines: recipe.yeast.map((item) => ({
        amount: kept(item.amount.written),
        name: item.name,
        detail: item.form,
        when: item.temperature_C === null ? '' : `at ${kept(item.temperature_C.written)}`,
        note: item.note,
      })),
    },
  ];
}

/** Everything that goes in, by kind, each as the brewer wrote it and with its moment. */
export const ingredientGroups = (recipe: Recipe): IngredientGroup[] =>
  groups(recipe).filter((group) => group.lines.length > 0);

/** What a key path below `recipe` (`hops[1]`) stands for: amount, name and moment; null where it names none. */
export function itemLine(recipe: Recipe, path: string): string | null {
  const [, kind, index] = /^(hops|extract)\[(\d+)\]$/.exec(path) ?? [];
  const item = kind === 'hops' ? recipe.hops[Number(index)] : recipe.extract[Number(index)];
  if (kind === undefined || item === undefined) return null;
  return `${kept(item.weight_g.written)} ${item.name}, ${momentWords(item.add, recipe.boil_min.value)}`;
}
