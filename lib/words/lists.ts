import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import { type RecipeItem, type RecipeMoment, recipeItems } from '../batch/types/recipe.ts';
import type { Units } from '../units/dimension.ts';
import { echoed, echoedSum, stepped } from '../units/format/format.ts';
import { allergens } from './cautions.ts';
import { iceText, massShort, massText, measureText, type Voice, volumeText } from './measures.ts';
import { capital, listed, spelled } from './words.ts';

/** A line of the list that is bought and weighed from; amounts are apart, so that they are right-aligned. */
export interface ListLine {
  readonly amount: string;
  readonly what: string;
  /** Its parts and when they are used, `30 g start of boil + 20 g flame out`. */
  readonly when: string;
  readonly note: string | null;
  /** Whether it has a box for bought, and one for weighed. */
  readonly weighed: boolean;
}

/** Lines under one sub-head. */
export interface ListBlock {
  readonly heading: string;
  /** Whether any of it is weighed out. */
  readonly weighed: boolean;
  readonly lines: readonly ListLine[];
}

/** Longest list that stays under one heading (common practice for checklists). */
const LONGEST_BLOCK = 9;

/** Splits what is too long into full blocks; the further ones say that they go on. */
export function splitBlock<T extends { readonly heading: string; readonly lines: readonly unknown[] }>(
  block: T,
): readonly T[] {
  const parts = Math.ceil(block.lines.length / LONGEST_BLOCK);
  if (parts <= 1) return block.lines.length === 0 ? [] : [block];
  return Array.from({ length: parts }, (_, part) => ({
    ...block,
    heading: part === 0 ? block.heading : `${block.heading}, ${part + 1} of ${parts}`,
    lines: block.lines.slice(part * LONGEST_BLOCK, (part + 1) * LONGEST_BLOCK),
  }));
}

/** When something is used, in words that fit a narrow column. */
export function whenText(moment: RecipeItem['add'], boil_min: number, units: Units): string {
  switch (moment.at) {
    case 'boil':
      if (boil_min === 0) return 'flame off';
      return moment.minutesLeft >= boil_min
        ? 'start of boil'
        : `${Math.round(moment.minutesLeft)}\u00a0min left`;
    case 'flameout':
      return 'flame out';
    case 'dry':
      return moment.forWritten === null
        ? `day\u00a0${moment.day}`
        : `day\u00a0${moment.day}, for ${echoed(moment.forWritten, units)}`;
    case 'fermenter':
      return `day\u00a0${moment.day}`;
    default:
      return moment.at;
  }
}

const ORDER: readonly RecipeItem['add']['at'][] = [
  'mash',
  'steep',
  'first wort',
  'boil',
  'flameout',
  'stand',
  'pitch',
  'fermenter',
  'dry',
  'packaging',
];
const LATE: readonly RecipeItem['add']['at'][] = ['pitch', 'fermenter', 'dry', 'packaging'];

/** Work order: by stage, then minutes falling, then days rising. */
export function workOrder(moment: RecipeItem['add']): number {
  const within = moment.at === 'boil' ? -moment.minutesLeft : 'day' in moment ? moment.day : 0;
  return ORDER.indexOf(moment.at) * 100000 + within;
}

/** Grain goes into the soak before what is added to it. */
const byWorkOrder = (a: RecipeItem, b: RecipeItem): number =>
  workOrder(a.add) - workOrder(b.add) || Number(b.kind === 'grain') - Number(a.kind === 'grain');

/** The items of a recipe in the order in which they are used. */
export const inWorkOrder = (batch: Batch): readonly RecipeItem[] =>
  [...recipeItems(batch.recipe)].sort(byWorkOrder);

/** A share as the trade prints alpha acids: `4.6 %`. */
export function alphaText(alpha: number): string {
  return `${stepped(alpha * 100, 0.1)}\u00a0%`;
}

/** What an item is called on a list: hops with their alpha, yeast with its form. */
export function itemName({ name, alpha, kind, form }: RecipeItem): string {
  if (alpha !== null) return `${name}, ${alphaText(alpha)}`;
  return kind === 'yeast' ? `${name} yeast, ${form}` : name;
}

/** Of several amounts the sum, or where they cannot be added up, all of them. */
function sumText(items: readonly RecipeItem[], units: Units): string {
  const sum = echoedSum(
    items.map(({ amount }) => amount.written),
    units,
  );
  if (sum !== null) return measureText(sum);
  return items.every(({ amount }) => amount.unit === 'g')
    ? massText(
        items.reduce((all, { amount }) => all + amount.value, 0),
        units,
      )
    : items.map(({ amount }) => echoed(amount.written, units)).join(' + ');
}

function ingredientLine(items: readonly RecipeItem[], boil_min: number, units: Units): ListLine {
  const [first] = items;
  const parts = items.map(({ amount, add }) => {
    const when = whenText(add, boil_min, units);
    return items.length === 1 ? when : `${echoed(amount.written, units)} ${when}`;
  });
  const notes = [...new Set(items.map(({ note }) => note))].filter((note) => note !== null);
  return {
    amount: items.length === 1 ? echoed(first!.amount.written, units) : sumText(items, units),
    what: itemName(first!),
    when: parts.join(' + '),
    note: notes.length === 0 ? null : notes.join('; '),
    weighed: true,
  };
}

function forPackaging(batch: Batch, plan: Plan, units: Units): readonly ListLine[] {
  const { bottles, priming_sugar_g } = plan.targets;
  return batch.recipe.packaging.flatMap((step) => {
    if (step.into === 'keg') return [bought('keg, carbon dioxide')];
    const size = step.bottle_L === null ? '' : ` of ${echoed(step.bottle_L.written, units)}`;
    const made = `made for ${echoed(step.limit.written, units)}`;
    const sugar = priming_sugar_g === null || step.sugar === null ? null : Math.ceil(priming_sugar_g.high);
    return [
      ...(sugar === null ? [] : [bought(`${step.sugar?.name}, at most`, massText(sugar, units))]),
      ...(bottles === null
        ? []
        : [bought(`bottles${size}, ${made}, and caps`, String(Math.round(bottles.value)))]),
    ];
  });
}

const bought = (what: string, amount = ''): ListLine => ({
  amount,
  what,
  when: '',
  note: null,
  weighed: false,
});

/** Extract that the strip on the After page may ask for. */
function inHand({ corrections }: Plan, units: Units): readonly ListLine[] {
  const most_g = Math.max(0, ...corrections.map(({ add_extract_g }) => add_extract_g ?? 0));
  return most_g > 0
    ? [bought('dry extract in hand, in case the wort is thin', massShort(most_g, units))]
    : [];
}

/** All that has to be in the house: bought from it, then weighed out from it, equal ingredients summed up with their parts. */
export function ingredientBlocks(batch: Batch, plan: Plan, voice: Voice): readonly ListBlock[] {
  const { units } = voice;
  const { recipe } = batch;
  const groups = new Map<string, RecipeItem[]>();
  for (const item of inWorkOrder(batch)) {
    const late = LATE.includes(item.add.at);
    const key = `${late} ${item.kind} ${itemName(item)} ${item.form}`;
    groups.set(key, [...(groups.get(key) ?? []), item]);
  }
  const lines = (late: boolean): readonly ListLine[] =>
    [...groups.values()]
      .filter(([first]) => LATE.includes(first!.add.at) === late)
      .map((items) => ingredientLine(items, recipe.boil_min.value, units));
  const house = [
    ...(plan.targets.ice_kg !== null && plan.targets.ice_kg.value > 0.05
      ? [bought('ice', iceText(plan.targets.ice_kg.value, units))]
      : []),
    bought(spelled('sanitiser, with its label', voice.language)),
    ...inHand(plan, units),
  ];
  return [
    { heading: 'For the kettle', weighed: true, lines: lines(false) },
    { heading: 'For the fermenter', weighed: true, lines: lines(true) },
    {
      heading: 'To bottle or keg, and in the house',
      weighed: false,
      lines: [...forPackaging(batch, plan, units), ...house],
    },
  ].filter(({ lines }) => lines.length > 0);
}

/** What people who buy for others look for on the label; null where the recipe names none. */
export function allergenLine(batch: Batch): string | null {
  const named = allergens(batch);
  return named.length === 0 ? null : `Contains ${listed(named)}; read every label.`;
}

export interface PacketRow {
  readonly hop: string;
  /** Alpha and the weight that is as bitter, five of them; the third is the recipe's. */
  readonly weights: readonly { readonly alpha: string; readonly weight: string }[];
}

/** Half a percentage point apart below 8 % of alpha acids, a whole one from there on. */
const FINE_ALPHA = 0.08;
const COLUMNS = [-2, -1, 0, 1, 2];

/** For each hop in the boil, how much of it is as bitter at the alpha that the packet says: weight × alpha stays the same. */
export function packetRows(batch: Batch, units: Units): readonly PacketRow[] {
  const { recipe } = batch;
  return inWorkOrder(batch).flatMap((item) => {
    const { alpha, add, amount } = item;
    if (alpha === null || alpha <= 0 || (add.at !== 'boil' && add.at !== 'first wort')) return [];
    const step = alpha < FINE_ALPHA ? 0.005 : 0.01;
    const weights = COLUMNS.map((column) => alpha + column * step).filter((one) => one > 0);
    return [
      {
        hop: `${item.name}, ${whenText(add, recipe.boil_min.value, units)}`,
        weights: weights.map((one) => ({
          alpha: alphaText(one),
          weight: massShort((amount.value * alpha) / one, units),
        })),
      },
    ];
  });
}

/** The equipment to have ready, split into what gets hot and what must be clean. */
export function equipment(batch: Batch, plan: Plan, voice: Voice): readonly EquipmentBlock[] {
  const { setup, recipe } = batch;
  const { units, language } = voice;
  const { written, value } = setup.kettle_L;
  const capacity = written === null ? volumeText(value, units) : echoed(written, units);
  const grain = recipe.grain.length > 0;
  const ice = plan.timetable.some((row) => row.action === 'prepare' && row.thing === 'ice');
  const hot = [
    `pot, ${capacity}, with lid`,
    'spoon, oven gloves',
    'thermometer, clock',
    'kitchen scale',
    ...(grain ? ['grain bag, bowl'] : []),
    ...(recipe.extract.some(({ form }) => form !== 'dry') ? [spelled('tin opener, spatula', language)] : []),
    ...(plan.timetable.some(({ action }) => action === 'heat the rinse') ? ['second pot'] : []),
    ...(setup.chill.with === 'ice bath' || setup.chill.with === 'cold-water bath'
      ? [ice ? 'tub and ice' : 'tub for the bath']
      : []),
    ...(setup.chill.with === 'coil' ? ['chilling coil, hoses'] : []),
    ...((plan.targets.top_up_l?.value ?? 0) > 0.05 ? ['cold top-up water'] : []),
  ];
  const clean = [
    'fermenter and lid',
    'airlock and bung',
    'sieve or siphon, jug',
    'hydrometer, jar',
    'ladle for samples',
    'scissors, yeast packet',
  ];
  return [
    { heading: 'By the stove', lines: hot },
    { heading: spelled('Clean now, sanitise while it boils', language), lines: clean },
  ].flatMap(splitBlock);
}

export interface EquipmentBlock {
  readonly heading: string;
  readonly lines: readonly string[];
}

/** How the sanitiser is mixed: the brewer's own label dose, else what the label says. */
export function sanitiserLine(batch: Batch, { units, language }: Voice): string {
  const { sanitiser } = batch.setup;
  const name = spelled('sanitiser', language);
  if (sanitiser === null) return `Mix the ${name} as its label says.`;
  const { make, note } = sanitiser;
  const after = note === null ? 'check it on your label' : note;
  if (make === null || make.unit !== 'L')
    return `Mix ${name} at ${echoed(sanitiser.doseWritten, units)}, ${after}.`;
  const dose = volumeText((sanitiser.dose_ml_per_L * make.value) / 1000, units);
  return capital(`mix ${dose} of ${name} into ${echoed(make.written, units)} of water (${after}).`);
}

export const isLate = (moment: RecipeItem['add']): moment is Extract<RecipeMoment, { day: number }> =>
  moment.at === 'dry' || moment.at === 'fermenter';
