import type { PackageStep, Recipe } from '../batch/types/recipe.ts';
import { momentWords } from './ingredients.ts';
import { capital, kept, listed, words } from './words.ts';

export interface MethodStep {
  readonly title: string;
  readonly text: string;
  /** Minutes left, for steps that hang on the boil's countdown; else empty. */
  readonly minutesLeft: string;
}

const names = (items: readonly { readonly name: string }[]): string =>
  listed([...new Set(items.map((item) => item.name))]);

function boilAdditions(recipe: Recipe): MethodStep[] {
  const boil = recipe.boil_min.value;
  const byMinute = new Map<number, string[]>();
  const put = (minute: number, text: string): void => {
    byMinute.set(minute, [...(byMinute.get(minute) ?? []), text]);
  };
  for (const item of [...recipe.extract, ...recipe.sugar])
    if (item.add.at === 'boil') put(item.add.minutesLeft, kept(words(item.weight_g.written, item.name)));
  for (const item of recipe.hops)
    if (item.add.at === 'boil') put(item.add.minutesLeft, kept(words(item.weight_g.written, item.name)));
  for (const item of recipe.other)
    if (item.add.at === 'boil') put(item.add.minutesLeft, kept(words(item.amount.written, item.name)));
  return [...byMinute.entries()]
    .sort(([a], [b]) => b - a)
    .map(([minute, items]) => ({
      title: minute >= boil ? 'As it comes to the boil' : 'Add',
      text: `${listed(items)}.`,
      minutesLeft: String(minute),
    }));
}

function after(recipe: Recipe, at: 'flameout' | 'stand'): string[] {
  const weighed = [...recipe.extract, ...recipe.sugar, ...recipe.hops]
    .filter((item) => item.add.at === at)
    .map((item) => kept(words(item.weight_g.written, item.name)));
  const other = recipe.other
    .filter((item) => item.add.at === at)
    .map((item) => kept(words(item.amount.written, item.name)));
  return [...weighed, ...other];
}

function later(recipe: Recipe): string[] {
  const boil = recipe.boil_min.value;
  const isLater = (at: string): boolean => at === 'dry' || at === 'fermenter' || at === 'packaging';
  return [
    ...[...recipe.extract, ...recipe.sugar, ...recipe.hops]
      .filter((item) => isLater(item.add.at))
      .map((item) => kept(`${item.weight_g.written} ${item.name}: ${momentWords(item.add, boil)}`)),
    ...recipe.other
      .filter((item) => isLater(item.add.at))
      .map((item) => kept(`${item.amount.written} ${item.name}: ${momentWords(item.add, boil)}`)),
  ];
}

function packageText(step: PackageStep): string {
  const volume = step.volume_L === null ? '' : `${kept(step.volume_L.written)} `;
  const carbonation = kept(step.carbonation_vol.written);
  if (step.into === 'keg') return `${volume}into the keg, at ${carbonation} of carbon dioxide.`;
  const sugar = step.sugar === null ? '' : ` with ${step.sugar.name}`;
  return `${volume}into bottles made for ${kept(step.limit.written)} or more, primed to ${carbonation}${sugar}; never before fermentation has finished.`;
}

/** The recipe as a short method, without the figures that depend on whose kettle it is. */
export function methodSteps(recipe: Recipe): MethodStep[] {
  const steps: MethodStep[] = [];
  const step = (title: string, text: string): void => {
    steps.push({ title, text: capital(text), minutesLeft: '' });
  };
  const mashed = recipe.grain.filter((item) => item.in === 'mash');
  const steeped = recipe.grain.filter((item) => item.in === 'steep');
  if (recipe.mash !== null && mashed.length > 0)
    step(
      'Mash',
      kept(`${names(mashed)} at ${recipe.mash.temperature_C.written} for ${recipe.mash.time_min.written}.`),
    );
  if (recipe.steep !== null && steeped.length > 0)
    step(
      'Steep',
      kept(
        `${names(steeped)} at ${recipe.steep.temperature_C.written} for ${recipe.steep.time_min.written}. Lift out and drain; never squeeze.`,
      ),
    );
  if (recipe.boil_min.value > 0) {
    const about = recipe.boilVolume_L === null ? '' : `, about ${recipe.boilVolume_L.written} of wort`;
    step('Boil', kept(`${recipe.boil_min.written}${about}. Flame off whenever extract goes in, and stir.`));
    steps.push(...boilAdditions(recipe));
  }
  const out = after(recipe, 'flameout');
  if (out.length > 0) step('Flame out', `Add ${listed(out)}.`);
  if (recipe.stand !== null) {
    const items = after(recipe, 'stand');
    const added = items.length === 0 ? '' : ` with ${listed(items)}`;
    step('Stand', kept(`${recipe.stand.time_min.written} at ${recipe.stand.temperature_C.written}${added}.`));
  }
  step(
    'Chill and top up',
    kept(`To ${recipe.intoFermenter_L.written} in the fermenter, at pitching temperature.`),
  );
  if (recipe.yeast.length > 0) step('Pitch', `${names(recipe.yeast)}. Air in, lid on, airlock on.`);
  for (const ferment of recipe.ferment)
    step('Ferment', kept(`${ferment.time_min.written} at ${ferment.temperature_C.written}.`));
  for (const item of later(recipe)) step('Later', `${item}.`);
  for (const packaging of recipe.packaging) step('Package', packageText(packaging));
  return steps;
}
