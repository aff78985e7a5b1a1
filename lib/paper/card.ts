import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { RecipeMoment } from '../batch/types/recipe.ts';
import { CAUTIONS, type Caution, handingOnLine } from '../words/cautions.ts';
import { alphaText, workOrder } from '../words/lists.ts';
import type { Units } from '../words/numbers.ts';
import { headVolume, kept, listed } from '../words/words.ts';
import type { Headline } from './blocks.ts';
import { headline } from './kettle.ts';

/** What goes in at one moment of the recipe. */
export interface CardGroup {
  /** `60`, `steep`, `day 7`: what stands in the gauge. */
  readonly mark: string;
  readonly unit: string;
  readonly lines: readonly { readonly amount: string; readonly what: string; readonly note: string | null }[];
}

/** One page for handing the recipe on: no readings, no dates, nothing private. */
export interface RecipeCard {
  readonly title: string;
  readonly style: string | null;
  readonly author: string | null;
  readonly revision: string;
  readonly headlines: readonly Headline[];
  readonly groups: readonly CardGroup[];
  /** Set smaller, so that a long recipe stays on one page. */
  readonly long: boolean;
  /** Set in two columns, for the same reason. */
  readonly columns: boolean;
  readonly method: readonly string[];
  readonly caution: Caution;
  readonly handingOn: string;
  /** Address of the recipe's page; null where the brewer has no site. */
  readonly address: string | null;
}

const WORD: { readonly [at: string]: string } = {
  flameout: 'Flame out',
  'first wort': 'First wort',
  stand: 'Stand',
  steep: 'Steep',
  packaging: 'Package',
};

function markOf(moment: RecipeMoment, long: boolean): Pick<CardGroup, 'mark' | 'unit'> {
  if (moment.at === 'boil') {
    const minutes = String(Math.round(moment.minutesLeft));
    return long ? { mark: `${minutes}\u00a0min`, unit: '' } : { mark: minutes, unit: 'min left' };
  }
  if (moment.at === 'dry' || moment.at === 'fermenter') return { mark: `day\u00a0${moment.day}`, unit: '' };
  return { mark: WORD[moment.at] ?? moment.at, unit: '' };
}

type Line = CardGroup['lines'][number];
type Entry = { readonly order: number; readonly mark: string; readonly unit: string; readonly line: Line };

function entries({ recipe }: Batch, long: boolean): readonly Entry[] {
  const all: Entry[] = [];
  const put = (
    order: number,
    mark: Pick<CardGroup, 'mark' | 'unit'>,
    amount: string,
    what: string,
    note: string | null,
  ) => {
    all.push({ order, ...mark, line: { amount: kept(amount), what: kept(what), note } });
  };
  const at = (add: RecipeMoment, amount: string, what: string, note: string | null): void =>
    put(workOrder(add), markOf(add, long), amount, what, note);
  for (const item of recipe.grain) {
    const mark = { mark: item.in === 'mash' ? 'Mash' : 'Steep', unit: '' };
    put(item.in === 'mash' ? -200000 : 0, mark, item.weight_g.written, item.name, item.note);
  }
  for (const item of [...recipe.extract, ...recipe.sugar])
    at(item.add, item.weight_g.written, item.name, item.note);
  for (const item of recipe.hops) {
    const stay = item.add.at === 'dry' && item.add.forWritten !== null ? `, for ${item.add.forWritten}` : '';
    at(
      item.add,
      item.weight_g.written,
      `${item.name}, ${alphaText(item.alpha.value)}${long ? '' : ' alpha'}${stay}`,
      item.note,
    );
  }
  for (const item of recipe.other) at(item.add, item.amount.written, item.name, item.note);
  for (const item of recipe.yeast) {
    const mark = { mark: 'Pitch', unit: '' };
    put(450000, mark, item.amount.written, `${item.name} yeast, ${item.form}`, item.note);
  }
  return all.sort((a, b) => a.order - b.order);
}

function groups(batch: Batch, long: boolean): readonly CardGroup[] {
  const byMark = new Map<string, { mark: string; unit: string; lines: Line[] }>();
  for (const { mark, unit, line } of entries(batch, long)) {
    const key = `${mark} ${unit}`;
    const group = byMark.get(key) ?? { mark, unit, lines: [] };
    group.lines.push(line);
    byMark.set(key, group);
  }
  return [...byMark.values()];
}

function method({ recipe }: Batch): readonly string[] {
  const { mash, steep, stand, ferment, packaging } = recipe;
  const boiled = recipe.boil_min.value > 0;
  return [
    ...(mash === null ? [] : [`Mash at ${mash.temperature_C.written} for ${mash.time_min.written}.`]),
    ...(steep === null
      ? []
      : [
          `Steep at ${steep.temperature_C.written} for ${steep.time_min.written}, lift, drain, never squeeze.`,
        ]),
    ...(boiled
      ? [
          `Boil for ${recipe.boil_min.written}${recipe.boilVolume_L === null ? '' : `, starting with ${recipe.boilVolume_L.written}`}. Flame off while extract goes in.`,
        ]
      : []),
    ...(stand === null ? [] : [`Stand at ${stand.temperature_C.written} for ${stand.time_min.written}.`]),
    `Chill, top up to ${recipe.intoFermenter_L.written}, air in, pitch.`,
    ...(ferment.length === 0
      ? []
      : [
          `Ferment at ${listed(ferment.map((one) => `${one.temperature_C.written} for ${one.time_min.written}`))}.`,
        ]),
    ...packaging.map((one) => `${one.into === 'keg' ? 'Keg' : 'Bottle'} at ${one.carbonation_vol.written}.`),
  ].map(kept);
}

/** Height of the list in lines of text: a moment of one line still takes its notch. */
function listHeight(list: readonly CardGroup[]): number {
  return list.reduce((sum, group) => sum + Math.max(group.lines.length, group.unit === '' ? 1 : 1.6), 0);
}

const LONGEST_LARGE_LIST = 11;
/** Longer ones stand in two columns, what goes in together in one sentence. */
const LONGEST_COLUMN = 20;

/** Turns a plan into the recipe card; `address` is where the recipe stands on the published site, if it does. */
export function recipeCard(
  batch: Batch,
  plan: Plan,
  units: Units,
  author: string | null,
  address: string | null,
): RecipeCard {
  const height = listHeight(groups(batch, false));
  const list = groups(batch, height > LONGEST_LARGE_LIST);
  const colour = units === 'us' ? 'colour_srm' : 'colour_ebc';
  const bare = (one: Headline | null): Headline | null => (one === null ? null : { ...one, range: null });
  return {
    title: batch.title,
    style: batch.style,
    author,
    revision: plan.revision.slice(0, 8),
    headlines: [
      { label: 'makes', ...headVolume(batch.recipe.intoFermenter_L, units), range: null },
      bare(headline('original gravity', 'original_gravity', plan, units)),
      bare(headline('final gravity', 'final_gravity', plan, units)),
      bare(headline('alcohol', 'alcohol_volume_percent', plan, units)),
      bare(headline('bitterness', 'bitterness_ibu', plan, units)),
      bare(headline('colour', colour, plan, units)),
    ].filter((one) => one !== null),
    groups: list,
    long: height > LONGEST_LARGE_LIST,
    columns: height > LONGEST_COLUMN,
    method: method(batch),
    caution: CAUTIONS.rules,
    handingOn: handingOnLine(batch),
    address,
  };
}
