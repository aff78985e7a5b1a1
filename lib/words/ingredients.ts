import { type ItemKind, type Recipe, type RecipeItem, recipeItems } from '../batch/types/recipe.ts';
import type { Units } from '../units/dimension.ts';
import { echoed, echoedSum, type Parts, stepped } from '../units/format/format.ts';
import { alphaText } from './lists.ts';
import { itemWords } from './words.ts';

export interface IngredientLine {
  readonly amount: string;
  /** Number and unit of the amount; both empty where it is no plain figure. */
  readonly parts: Parts;
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
export function momentWords(moment: RecipeItem['add'], boil_min: number, units: Units): string {
  switch (moment.at) {
    case 'boil':
      if (moment.minutesLeft >= boil_min && boil_min > 0) return 'start of the boil';
      return moment.minutesLeft === 0 ? 'flame out' : `${stepped(moment.minutesLeft, 1)}\u00a0min left`;
    case 'flameout':
      return 'flame out';
    case 'mash':
    case 'stand':
      return `in the ${moment.at}`;
    case 'first wort':
      return 'before the boil, into the first wort';
    case 'steep':
      return 'with the steep';
    case 'packaging':
      return 'at packaging';
    case 'pitch':
      return 'when it is cool';
    case 'dry': {
      const during = moment.forWritten === null ? '' : `, for ${echoed(moment.forWritten, units)}`;
      return `day ${moment.day} after pitching${during}`;
    }
    case 'fermenter':
      return moment.day === 0 ? 'into the fermenter' : `into the fermenter on day ${moment.day}`;
  }
}

export const EXTRACT = 'Extract';
/** Extract goes by one name, whether there is sugar beside it or not. */
export const EXTRACT_AND_SUGAR = 'Extract and sugar';
const GROUPS: readonly (readonly [title: string, kinds: readonly ItemKind[]])[] = [
  ['Grain', ['grain']],
  [EXTRACT_AND_SUGAR, ['extract', 'sugar']],
  ['Hops', ['hops']],
  ['Also', ['other']],
  ['Yeast', ['yeast']],
];

function detailOf(item: RecipeItem, recipe: Recipe, units: Units): string {
  if (item.alpha !== null) return `${alphaText(item.alpha)} alpha`;
  if (item.kind === 'yeast') return item.form ?? '';
  const kit = [...recipe.extract, ...recipe.sugar].find(
    ({ name, bitterness }) => item.name === name && bitterness !== null,
  )?.bitterness;
  return kit && item.kind !== 'grain' ? `hopped, ${echoed(kit.written, units)}` : '';
}

function whenOf(item: RecipeItem, recipe: Recipe, units: Units): string {
  if (item.kind === 'grain') return `in the ${item.add.at}`;
  if (item.kind !== 'yeast') return momentWords(item.add, recipe.boil_min.value, units);
  const band = recipe.yeast.find(({ name }) => name === item.name)?.temperature_C ?? null;
  return band === null ? '' : `at ${echoed(band.written, units)}`;
}

export const ingredientGroups = (recipe: Recipe, units: Units): IngredientGroup[] =>
  GROUPS.map(([title, kinds]) => ({
    title: title === EXTRACT_AND_SUGAR && recipe.sugar.length === 0 ? EXTRACT : title,
    lines: recipeItems(recipe)
      .filter(({ kind }) => kinds.includes(kind))
      .map((item) => ({
        amount: echoed(item.amount.written, units),
        parts: echoedSum([item.amount.written], units) ?? { number: '', unit: '' },
        name: item.name,
        detail: detailOf(item, recipe, units),
        when: whenOf(item, recipe, units),
        note: item.note,
      })),
  })).filter(({ lines }) => lines.length > 0);

/** What a key path below `recipe` (`hops[1]`) means: amount, name and moment; null where it names none. */
export function itemLine(recipe: Recipe, path: string, units: Units): string | null {
  const item = recipeItems(recipe).find((one) => one.path === path);
  if (item === undefined) return null;
  return `${itemWords(item, units)}, ${momentWords(item.add, recipe.boil_min.value, units)}`;
}
