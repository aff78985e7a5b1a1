import type { Batch } from '../batch/types/batch.ts';
import type { Figure } from '../batch/types/plan.ts';
import type { TargetKey } from '../batch/types/targets.ts';
import type { Units } from '../units/dimension.ts';
import type { FigureRow, NamedText, RecipeWords } from './compare-batches.ts';
import { figureText, labelOf } from './figures.ts';
import { EXTRACT, EXTRACT_AND_SUGAR, type IngredientLine, ingredientGroups } from './ingredients.ts';
import type { Voice } from './measures.ts';
import { methodSteps } from './method.ts';
import { words } from './words.ts';

const lineText = ({ amount, name, detail, when, note }: IngredientLine): string => {
  const more = [detail, when, note ?? ''].filter((part) => part !== '');
  return [words(amount, name), ...more].join(', ');
};

const GROUP_NAMES: Readonly<Record<string, string>> = { [EXTRACT]: EXTRACT_AND_SUGAR, Also: 'Other' };
const groupName = (title: string): string => GROUP_NAMES[title] ?? title;

/** Steps whose ingredients are compared as ingredients already. */
const BY_INGREDIENT = new Set(['Add', 'As it comes to the boil', 'Flame out', 'Pitch', 'Later']);

/** A batch's setup, ingredients and method in words, to be compared with another's. */
export function recipeWords({ recipe, setup }: Batch, units: Units): RecipeWords {
  return {
    kit: setup.title,
    ingredients: ingredientGroups(recipe, units).map(({ title, lines }) => ({
      what: groupName(title),
      lines: lines.map((line) => ({
        name: line.name,
        when: line.when,
        text: lineText(line),
        amount: line.parts,
      })),
    })),
    method: methodSteps(recipe, units).flatMap(({ title, text }): NamedText[] =>
      BY_INGREDIENT.has(title) ? [] : [{ what: title, text }],
    ),
  };
}

/** A target as it is printed, under its own label or another. */
export function figureRow(key: TargetKey, figure: Figure, { units, language }: Voice): FigureRow {
  const label = labelOf(key, language);
  const { number, unit, low, high } = figureText(key, figure, units);
  // The printed range is two standard uncertainties to either side.
  const u = Number(((Number(high) - Number(low)) / 4).toPrecision(3));
  return u > 0
    ? [label, number, unit, unit === '' ? number : `${number}\u00a0${unit}`, u]
    : unit === ''
      ? [label, number]
      : [label, number, unit];
}
