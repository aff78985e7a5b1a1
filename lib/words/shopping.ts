import { correctingExtract } from '../batch/readings/corrections.ts';
import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { GivenAmount } from '../units/parse/given.ts';
import { allergens } from './cautions.ts';
import { alphaText, type ListBlock, type ListLine, splitBlock } from './lists.ts';
import { ice, mass, measureText } from './measures.ts';
import type { Units } from './numbers.ts';
import { kept, listed } from './words.ts';

/** What has to be in the house: every item once, the amounts of all its additions together. */
export interface ShoppingList {
  readonly blocks: readonly ListBlock[];
  /** Set in two columns of smaller type, so that it stays one page to take along. */
  readonly long: boolean;
  /** What whoever buys for others looks for on the label; null where the recipe names none. */
  readonly allergens: string | null;
}

interface Wanted {
  readonly what: string;
  readonly amount: Pick<GivenAmount, 'value' | 'unit' | 'written'>;
}

/** Lines of 18 pt that a page holds with their sub-heads. */
const LONGEST_COLUMN = 18;

const line = (amount: string, what: string, note: string | null = null): ListLine => ({
  amount,
  what,
  when: '',
  note,
  item: null,
});

/** One line an item; of one that is used more than once the sum, with its parts in brackets. */
function summed(items: readonly Wanted[], units: Units): readonly ListLine[] {
  const byName = new Map<string, Wanted[]>();
  for (const item of items) byName.set(item.what, [...(byName.get(item.what) ?? []), item]);
  return [...byName].map(([what, all]) => {
    const parts = all.map(({ amount }) => kept(amount.written));
    if (all.length === 1) return line(parts[0] ?? '', what);
    const weighed = all.every(({ amount }) => amount.unit === 'g');
    const total = all.reduce((sum, { amount }) => sum + amount.value, 0);
    return weighed
      ? line(measureText(mass(total, units)), what, parts.join(' + '))
      : line(parts.join(' + '), what);
  });
}

const grams = (weight: { readonly value: number; readonly written: string }) => ({
  value: weight.value,
  written: weight.written,
  unit: 'g' as const,
});

function forPackaging(batch: Batch, plan: Plan, units: Units): readonly ListLine[] {
  const { bottles, priming_sugar_g } = plan.targets;
  return batch.recipe.packaging.flatMap((step) => {
    if (step.into === 'keg') return [line('', 'keg, carbon dioxide')];
    const size = step.bottle_L === null ? '' : ` of ${kept(step.bottle_L.written)}`;
    const made = `made for ${kept(step.limit.written)}`;
    return [
      ...(priming_sugar_g === null || step.sugar === null
        ? []
        : [line(measureText(mass(Math.ceil(priming_sugar_g.high), units)), `${step.sugar.name}, at most`)]),
      ...(bottles === null
        ? []
        : [line(String(Math.round(bottles.value)), `bottles${size}, ${made}, and caps`)]),
    ];
  });
}

/** Extract that the strip on the kettle sheet may ask for. */
function inHand(batch: Batch, { corrections }: Plan, units: Units): readonly ListLine[] {
  const most_g = Math.max(0, ...corrections.map(({ add_extract_g }) => add_extract_g ?? 0));
  if (most_g === 0) return [];
  const { name } = correctingExtract(batch);
  return [
    line(
      measureText(mass(Math.ceil(most_g / 10) * 10, units)),
      `${name}, in hand`,
      'only if the wort is thin',
    ),
  ];
}

/** Sums up what the recipe, the bath and the bottles need, in the brewer's units. */
export function shoppingList(batch: Batch, plan: Plan, units: Units): ShoppingList {
  const { recipe, setup } = batch;
  const malt = [...recipe.grain, ...recipe.extract, ...recipe.sugar].map((item) => ({
    what: item.name,
    amount: grams(item.weight_g),
  }));
  const hops = recipe.hops.map((item) => ({
    what: `${item.name}, ${alphaText(item.alpha.value)}`,
    amount: grams(item.weight_g),
  }));
  const other = recipe.other.map(({ name, amount }) => ({ what: name, amount }));
  const yeast = recipe.yeast.map(({ name, form, amount }) => ({ what: `${name} yeast, ${form}`, amount }));
  const frozen = plan.targets.ice_kg;
  const also = [
    ...(setup.chill.with === 'ice bath' && frozen !== null && frozen.value > 0
      ? [line(measureText(ice(frozen.value, units)), 'ice')]
      : []),
    ...inHand(batch, plan, units),
    line('', 'sanitiser, with its label'),
  ];
  const blocks = [
    { heading: 'Malt, extract, sugar', lines: summed(malt, units) },
    { heading: 'Hops', lines: summed(hops, units) },
    { heading: 'Yeast and all else', lines: summed([...yeast, ...other], units) },
    { heading: 'For bottles or keg', lines: forPackaging(batch, plan, units) },
    { heading: 'In the house', lines: also },
  ];
  const named = allergens(batch);
  const count = blocks.reduce((sum, { lines }) => sum + lines.length, 0);
  return {
    blocks: blocks.flatMap(splitBlock),
    long: count > LONGEST_COLUMN,
    allergens: named.length === 0 ? null : `Contains ${listed(named)}; read every label.`,
  };
}
