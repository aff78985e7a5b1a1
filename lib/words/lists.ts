import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { RecipeMoment } from '../batch/types/recipe.ts';
import { measureText, volume } from './measures.ts';
import type { Units } from './numbers.ts';
import { kept } from './words.ts';

/** A line of a list with its amount apart, so that amounts stand right-aligned. */
export interface ListLine {
  readonly amount: string;
  readonly what: string;
  /** When it is used, `60 min left`; empty in a list of equipment. */
  readonly when: string;
  readonly note: string | null;
  /** Key path below `recipe`, `hops[1]`; null for equipment. */
  readonly item: string | null;
}

/** At most nine lines under one sub-head. */
export interface ListBlock {
  readonly heading: string;
  readonly lines: readonly ListLine[];
}

/** Longest list that stays under one heading (common practice for checklists). */
const LONGEST_BLOCK = 9;

/** Splits what is too long into even blocks; the further ones say that they go on. */
export function splitBlock(block: ListBlock): readonly ListBlock[] {
  const parts = Math.ceil(block.lines.length / LONGEST_BLOCK);
  if (parts <= 1) return block.lines.length === 0 ? [] : [block];
  const size = Math.ceil(block.lines.length / parts);
  return Array.from({ length: parts }, (_, part) => ({
    heading: part === 0 ? block.heading : `${block.heading}, ${part + 1} of ${parts}`,
    lines: block.lines.slice(part * size, (part + 1) * size),
  }));
}

/** When something is used, in words that fit a narrow column. */
export function whenText(moment: RecipeMoment, boil_min: number): string {
  switch (moment.at) {
    case 'boil':
      if (boil_min === 0) return 'flame off';
      return moment.minutesLeft >= boil_min ? 'start of boil' : `${Math.round(moment.minutesLeft)} min left`;
    case 'flameout':
      return 'flame out';
    case 'dry':
      return moment.forWritten === null ? `day ${moment.day}` : `day ${moment.day}, for ${moment.forWritten}`;
    case 'fermenter':
      return `day ${moment.day}`;
    default:
      return moment.at;
  }
}

const ORDER: readonly RecipeMoment['at'][] = [
  'steep',
  'first wort',
  'boil',
  'flameout',
  'stand',
  'fermenter',
  'dry',
  'packaging',
];

/** Work order: by stage, then minutes falling, then days rising. */
export function workOrder(moment: RecipeMoment): number {
  const within = moment.at === 'boil' ? -moment.minutesLeft : 'day' in moment ? moment.day : 0;
  return ORDER.indexOf(moment.at) * 100000 + within;
}

type Placed = ListLine & { readonly order: number };

/** A share as the trade prints alpha acids: `4.6 %`. */
export function alphaText(alpha: number): string {
  return `${Number((alpha * 100).toFixed(1))}\u00a0%`;
}

/** Everything the recipe asks for, in the order in which it is used. */
export function weighOutLines(batch: Batch): readonly ListLine[] {
  const { recipe } = batch;
  const boil = recipe.boil_min.value;
  const placed: Placed[] = [];
  const put = (
    order: number,
    amount: string,
    what: string,
    when: string,
    note: string | null,
    item: string,
  ): void => {
    placed.push({ order, amount: kept(amount), what, when: kept(when), note, item });
  };
  recipe.grain.forEach((item, index) => {
    put(
      item.in === 'mash' ? -2 : -1,
      item.weight_g.written,
      item.name,
      item.in,
      item.note,
      `grain[${index}]`,
    );
  });
  for (const kind of ['extract', 'sugar'] as const) {
    recipe[kind].forEach((item, index) => {
      const when = whenText(item.add, boil);
      put(workOrder(item.add), item.weight_g.written, item.name, when, item.note, `${kind}[${index}]`);
    });
  }
  recipe.hops.forEach((item, index) => {
    const what = `${item.name}, ${alphaText(item.alpha.value)}`;
    put(
      workOrder(item.add),
      item.weight_g.written,
      what,
      whenText(item.add, boil),
      item.note,
      `hops[${index}]`,
    );
  });
  recipe.other.forEach((item, index) => {
    put(
      workOrder(item.add),
      item.amount.written,
      item.name,
      whenText(item.add, boil),
      item.note,
      `other[${index}]`,
    );
  });
  recipe.yeast.forEach((item, index) => {
    put(
      550000,
      item.amount.written,
      `${item.name} yeast, ${item.form}`,
      'pitch',
      item.note,
      `yeast[${index}]`,
    );
  });
  return placed.sort((a, b) => a.order - b.order).map(({ order: _, ...line }) => line);
}

/** The weigh-out list in work order: one block where it is short, else kettle and fermenter apart. */
export function weighOut(batch: Batch): readonly ListBlock[] {
  const lines = weighOutLines(batch);
  if (lines.length <= LONGEST_BLOCK) return splitBlock({ heading: 'Weigh out', lines });
  const late = (line: ListLine): boolean => /^(pitch|day \d|packaging)/.test(line.when);
  return [
    { heading: 'Weigh out for the kettle', lines: lines.filter((line) => !late(line)) },
    { heading: 'For the fermenter', lines: lines.filter(late) },
  ].flatMap(splitBlock);
}

const thing = (what: string, amount = ''): ListLine => ({ amount, what, when: '', note: null, item: null });

/** The equipment to stand ready, split into what gets hot and what must be clean. */
export function equipment(batch: Batch, plan: Plan, units: Units): readonly ListBlock[] {
  const { setup, recipe } = batch;
  const grain = recipe.grain.length > 0;
  const capacity = setup.kettle_L.written ?? measureText(volume(setup.kettle_L.value, units));
  const hot = [
    thing(`pot, ${kept(capacity)}, with lid`),
    thing('spoon, oven gloves'),
    thing('thermometer, clock'),
    thing('kitchen scale'),
    ...(grain ? [thing('grain bag, bowl')] : []),
    ...(recipe.extract.some(({ form }) => form !== 'dry') ? [thing('tin opener, spatula')] : []),
    ...(setup.chill.with === 'ice bath' ? [thing('tub and ice')] : []),
    ...(setup.chill.with === 'cold-water bath' ? [thing('tub for the bath')] : []),
    ...(setup.chill.with === 'coil' ? [thing('chilling coil, hoses')] : []),
    ...((plan.targets.top_up_l?.value ?? 0) > 0.05 ? [thing('cold top-up water')] : []),
  ];
  const clean = [
    thing('fermenter and lid'),
    thing('airlock and bung'),
    thing('sieve or siphon, jug'),
    thing('hydrometer, jar'),
    thing('ladle for samples'),
    thing('scissors, yeast packet'),
  ];
  return [
    { heading: 'By the stove', lines: hot },
    { heading: 'Clean now, sanitise while it boils', lines: clean },
  ].flatMap(splitBlock);
}

/** How the sanitiser is mixed: the brewer's own label dose, else what the label says. */
export function sanitiserLine(batch: Batch): string {
  const { sanitiser } = batch.setup;
  if (sanitiser === null) return 'Mix the sanitiser as its label says.';
  const { make, note } = sanitiser;
  const after = note === null ? 'check it on your label' : note;
  if (make === null || make.unit !== 'L') return kept(`Mix sanitiser at ${sanitiser.doseWritten}, ${after}.`);
  const dose = `${Number((sanitiser.dose_ml_per_L * make.value).toFixed(1))} ml`;
  return kept(`Mix ${dose} of sanitiser into ${make.written} of water (${sanitiser.doseWritten}, ${after}).`);
}
