import { type PackageStep, type Recipe, type RecipeItem, recipeItems } from '../batch/types/recipe.ts';
import type { Units } from '../units/dimension.ts';
import { echoed } from '../units/format/format.ts';
import { momentWords } from './ingredients.ts';
import { durationText, givenTemperature, volumeText } from './measures.ts';
import { capital, itemWords, listed } from './words.ts';

export interface MethodStep {
  readonly title: string;
  readonly text: string;
  /** Minutes left, for steps that hang on the boil's countdown; else empty. */
  readonly minutesLeft: string;
}

const names = (items: readonly { readonly name: string }[]): string =>
  listed([...new Set(items.map((item) => item.name))]);

function boilAdditions(items: readonly RecipeItem[], recipe: Recipe, units: Units): MethodStep[] {
  const byMinute = new Map<number, string[]>();
  for (const item of items)
    if (item.add.at === 'boil') {
      const minute = item.add.minutesLeft;
      byMinute.set(minute, [...(byMinute.get(minute) ?? []), itemWords(item, units)]);
    }
  return [...byMinute.entries()]
    .sort(([a], [b]) => b - a)
    .map(([minute, put]) => ({
      title: minute >= recipe.boil_min.value ? 'As it comes to the boil' : 'Add',
      text: `${listed(put)}.`,
      minutesLeft: String(minute),
    }));
}

function packageText(step: PackageStep, units: Units): string {
  const volume = step.volume_L === null ? '' : `${echoed(step.volume_L.written, units)} `;
  const carbonation = echoed(step.carbonation_vol.written, units);
  if (step.into === 'keg') return `${volume}into the keg, at ${carbonation} of carbon dioxide.`;
  const sugar = step.sugar === null ? '' : ` with ${step.sugar.name}`;
  return `${volume}into bottles made for ${echoed(step.limit.written, units)} or more, primed to ${carbonation}${sugar}; never before fermentation has finished.`;
}

const LATER: readonly RecipeItem['add']['at'][] = ['dry', 'fermenter', 'packaging'];

/** The recipe as a short method, without the figures that depend on whose kettle it is. */
export function methodSteps(recipe: Recipe, units: Units): MethodStep[] {
  const steps: MethodStep[] = [];
  const step = (title: string, text: string): void => {
    steps.push({ title, text: capital(text), minutesLeft: '' });
  };
  const items = recipeItems(recipe);
  const rest = ({ temperature_C, time_min }: NonNullable<Recipe['stand']>): string =>
    `at ${givenTemperature(temperature_C.value, units)} for ${durationText(time_min.value)}`;
  const put = items.filter(({ kind }) => kind !== 'grain' && kind !== 'yeast');
  const putAt = (at: RecipeItem['add']['at']): readonly string[] =>
    put.filter(({ add }) => add.at === at).map((item) => itemWords(item, units));
  const mashed = recipe.grain.filter((item) => item.in === 'mash');
  const steeped = recipe.grain.filter((item) => item.in === 'steep');
  if (recipe.mash !== null && mashed.length > 0) step('Mash', `${names(mashed)} ${rest(recipe.mash)}.`);
  if (recipe.steep !== null && steeped.length > 0)
    step('Steep', `${names(steeped)} ${rest(recipe.steep)}. Lift out and drain; never squeeze.`);
  if (recipe.boil_min.value > 0) {
    const wort = recipe.boilVolume_L;
    const about = wort === null ? '' : `, about ${volumeText(wort.value, units)} of wort`;
    const time = durationText(recipe.boil_min.value);
    step('Boil', `${time}${about}. Flame off whenever extract goes in, and stir.`);
    steps.push(...boilAdditions(put, recipe, units));
  }
  const out = putAt('flameout');
  if (out.length > 0) step('Flame out', `Add ${listed(out)}.`);
  if (recipe.stand !== null) {
    const added = putAt('stand');
    const what = added.length === 0 ? '' : ` with ${listed(added)}`;
    const { temperature_C, time_min } = recipe.stand;
    step(
      'Stand',
      `${durationText(time_min.value)} at ${givenTemperature(temperature_C.value, units)}${what}.`,
    );
  }
  step(
    'Chill and top up',
    `To ${echoed(recipe.intoFermenter_L.written, units)} in the fermenter, at pitching temperature.`,
  );
  if (recipe.yeast.length > 0) step('Pitch', `${names(recipe.yeast)}. Air in, lid on, airlock on.`);
  for (const { temperature_C, time_min } of recipe.ferment)
    step('Ferment', `${durationText(time_min.value)} at ${givenTemperature(temperature_C.value, units)}.`);
  for (const item of put)
    if (LATER.includes(item.add.at))
      step('Later', `${itemWords(item, units)}: ${momentWords(item.add, recipe.boil_min.value, units)}.`);
  for (const packaging of recipe.packaging) step('Package', packageText(packaging, units));
  return steps;
}
