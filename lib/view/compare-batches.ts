import type { Batch } from '../batch/batch.ts';
import type { Figure, Plan, TargetKey } from '../batch/plan.ts';
import type { Recipe } from '../batch/recipe.ts';
import { FIGURE_LABELS, figureLine } from './figures.ts';
import { type IngredientLine, ingredientGroups } from './ingredients.ts';
import { methodSteps } from './method.ts';
import { amountNumber, fixedNumber, type Units } from './numbers.ts';
import { type WordRun, wordChanges } from './word-changes.ts';
import { kept, words } from './words.ts';

/** One thing that one recipe has otherwise than the other. */
export interface RecipeChange {
  readonly what: string;
  readonly kind: 'changed' | 'added' | 'left out';
  readonly runs: readonly WordRun[];
}

/** One figure of the two beers. */
export interface FigureChange {
  readonly label: string;
  readonly was: string;
  readonly is: string;
  /** With its sign; empty where they print the same. */
  readonly by: string;
}

const lineText = ({ amount, name, detail, when, note }: IngredientLine): string => {
  const more = [detail, when, note ?? ''].filter((part) => part !== '');
  return [words(amount, name), ...more].join(', ');
};
const plainName = ({ name }: IngredientLine): string => name.toLowerCase();

/** Pairs lines of the same name and moment first, then what is left of the same name, in order. */
function pairs(
  was: readonly IngredientLine[],
  is: readonly IngredientLine[],
): { readonly was: IngredientLine | null; readonly is: IngredientLine | null }[] {
  const left = [...was];
  const partner = new Map<IngredientLine, IngredientLine>();
  const take = (same: (a: IngredientLine, b: IngredientLine) => boolean): void => {
    for (const one of is) {
      if (partner.has(one)) continue;
      const at = left.findIndex((other) => same(other, one));
      if (at >= 0) partner.set(one, left.splice(at, 1)[0]!);
    }
  };
  take((a, b) => plainName(a) === plainName(b) && a.when === b.when);
  take((a, b) => plainName(a) === plainName(b));
  return [
    ...is.map((one) => ({ was: partner.get(one) ?? null, is: one })),
    ...left.map((one) => ({ was: one, is: null })),
  ];
}

function change(what: string, was: string | null, is: string | null): RecipeChange[] {
  if (was === is) return [];
  if (was === null) return [{ what, kind: 'added', runs: [{ mark: 'new', text: is ?? '' }] }];
  if (is === null) return [{ what, kind: 'left out', runs: [{ mark: 'gone', text: was }] }];
  return [{ what, kind: 'changed', runs: wordChanges(was, is) }];
}

function ingredientChanges(was: Recipe, is: Recipe): RecipeChange[] {
  const before = new Map(ingredientGroups(was).map((group) => [groupKey(group.title), group.lines]));
  const after = new Map(ingredientGroups(is).map((group) => [groupKey(group.title), group.lines]));
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((title) =>
    pairs(before.get(title) ?? [], after.get(title) ?? []).flatMap((pair) =>
      change(title, pair.was && lineText(pair.was), pair.is && lineText(pair.is)),
    ),
  );
}

/** Extract goes by one name, whether there is sugar beside it or not. */
const groupKey = (title: string): string => (title.startsWith('Extract') ? 'Extract and sugar' : title);

/** Steps whose ingredients are compared as ingredients already. */
const BY_INGREDIENT = new Set(['Add', 'As it comes to the boil', 'Flame out', 'Pitch', 'Later']);

function methodChanges(was: Recipe, is: Recipe): RecipeChange[] {
  const steps = (recipe: Recipe): Map<string, string> => {
    const found = new Map<string, string>();
    for (const { title, text } of methodSteps(recipe)) {
      if (BY_INGREDIENT.has(title)) continue;
      found.set(title, words(found.get(title) ?? '', text));
    }
    return found;
  };
  const before = steps(was);
  const after = steps(is);
  return [...new Set([...before.keys(), ...after.keys()])].flatMap((title) =>
    change(title, before.get(title) ?? null, after.get(title) ?? null),
  );
}

/** What one batch has otherwise than another: kit, ingredients and method, word by word. */
export const recipeChanges = (was: Batch, is: Batch): readonly RecipeChange[] => [
  ...change('Kit', was.setup.title, is.setup.title),
  ...ingredientChanges(was.recipe, is.recipe),
  ...methodChanges(was.recipe, is.recipe),
];

const KEYS: readonly TargetKey[] = [
  'original_gravity',
  'final_gravity',
  'apparent_attenuation_percent',
  'alcohol_volume_percent',
  'bitterness_ibu',
];

/** As brewed where that was read, else as planned. */
const figureOf = (plan: Plan, key: TargetKey): Figure | null => plan.as_brewed?.[key] ?? plan.targets[key];

function difference(key: TargetKey, was: number, is: number): string {
  const decimals = key.endsWith('gravity') ? 3 : key.startsWith('alcohol') ? 1 : 0;
  const by = fixedNumber(Math.abs(is - was), decimals);
  if (Number(by) === 0) return '';
  return `${is < was ? '−' : '+'}${by}`;
}

const score = ({ readings: { tasted } }: Batch): number | null =>
  tasted === undefined || tasted === 'not taken'
    ? null
    : (tasted.findLast((row) => row.score !== null)?.score ?? null);

type Planned = { readonly batch: Batch; readonly plan: Plan };

/** What the changes did: the figures of two batches side by side, and how they were liked. */
export function figureChanges(was: Planned, is: Planned, units: Units): readonly FigureChange[] {
  const keys = [...KEYS, units === 'metric' ? 'colour_ebc' : 'colour_srm'] as const;
  const figures = keys.flatMap((key): FigureChange[] => {
    const before = figureOf(was.plan, key);
    const after = figureOf(is.plan, key);
    if (before === null || after === null) return [];
    return [
      {
        label: FIGURE_LABELS[key],
        was: figureLine(key, before, units),
        is: figureLine(key, after, units),
        by: difference(key, before.value, after.value),
      },
    ];
  });
  const [liked, likes] = [score(was.batch), score(is.batch)];
  if (liked === null || likes === null) return figures;
  const text = (value: number): string => kept(`${amountNumber(value, 0.5)} of 5`);
  const by =
    likes === liked ? '' : `${likes < liked ? '−' : '+'}${amountNumber(Math.abs(likes - liked), 0.5)}`;
  return [...figures, { label: 'Score', was: text(liked), is: text(likes), by }];
}
