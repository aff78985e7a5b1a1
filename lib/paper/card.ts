import type { Batch } from '../batch/types/batch.ts';
import type { Plan } from '../batch/types/plan.ts';
import type { RecipeItem } from '../batch/types/recipe.ts';
import type { Units } from '../units/dimension.ts';
import { echoed, volumeParts } from '../units/format/format.ts';
import { colourKey } from '../words/board.ts';
import { CAUTIONS, type Caution, handingOnLine } from '../words/cautions.ts';
import { inWorkOrder, itemName } from '../words/lists.ts';
import { durationText, givenTemperature, type Voice, volumeText } from '../words/measures.ts';
import { listed, spelled } from '../words/words.ts';
import type { Headline } from './blocks.ts';
import { headline, stripsOf } from './kettle.ts';

/** What goes in at one moment of the recipe. */
export interface CardGroup {
  /** `60`, `steep`, `day 7`: what is in the gauge. */
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
  readonly strips: string;
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
  mash: 'Mash',
  pitch: 'Pitch',
  packaging: 'Package',
};

function markOf(moment: RecipeItem['add'], long: boolean): Pick<CardGroup, 'mark' | 'unit'> {
  if (moment.at === 'boil') {
    const minutes = String(Math.round(moment.minutesLeft));
    return long ? { mark: `${minutes}\u00a0min`, unit: '' } : { mark: minutes, unit: 'min left' };
  }
  if (moment.at === 'dry' || moment.at === 'fermenter') return { mark: `day\u00a0${moment.day}`, unit: '' };
  return { mark: WORD[moment.at] ?? moment.at, unit: '' };
}

type Line = CardGroup['lines'][number];

function lineOf(item: RecipeItem, long: boolean, units: Units): Line {
  const { add, alpha } = item;
  const stay = add.at === 'dry' && add.forWritten !== null ? `, for ${echoed(add.forWritten, units)}` : '';
  const named = alpha === null || long ? itemName(item) : `${itemName(item)} alpha`;
  return { amount: echoed(item.amount.written, units), what: `${named}${stay}`, note: item.note };
}

function groups(batch: Batch, long: boolean, units: Units): readonly CardGroup[] {
  const byMark = new Map<string, { mark: string; unit: string; lines: Line[] }>();
  for (const item of inWorkOrder(batch)) {
    const { mark, unit } = markOf(item.add, long);
    const group = byMark.get(`${mark} ${unit}`) ?? { mark, unit, lines: [] };
    group.lines.push(lineOf(item, long, units));
    byMark.set(`${mark} ${unit}`, group);
  }
  return [...byMark.values()];
}

function method({ recipe }: Batch, units: Units): readonly string[] {
  const { mash, steep, stand, ferment, packaging } = recipe;
  const rest = ({ temperature_C, time_min }: NonNullable<typeof stand>): string =>
    `at ${givenTemperature(temperature_C.value, units)} for ${durationText(time_min.value)}`;
  const wort = recipe.boilVolume_L;
  const from = wort === null ? '' : `, starting with ${volumeText(wort.value, units)}`;
  const boil = durationText(recipe.boil_min.value);
  return [
    ...(mash === null ? [] : [`Mash ${rest(mash)}.`]),
    ...(steep === null ? [] : [`Steep ${rest(steep)}, lift, drain, never squeeze.`]),
    ...(recipe.boil_min.value > 0 ? [`Boil for ${boil}${from}. Flame off while extract goes in.`] : []),
    ...(stand === null ? [] : [`Stand ${rest(stand)}.`]),
    `Chill, top up to ${echoed(recipe.intoFermenter_L.written, units)}, air in, pitch.`,
    ...(ferment.length === 0 ? [] : [`Ferment ${listed(ferment.map(rest))}.`]),
    ...packaging.map(
      (one) => `${one.into === 'keg' ? 'Keg' : 'Bottle'} at ${echoed(one.carbonation_vol.written, units)}.`,
    ),
  ];
}

/** Height of the list in lines of text: a moment of one line still takes its notch. */
function listHeight(list: readonly CardGroup[]): number {
  return list.reduce((sum, group) => sum + Math.max(group.lines.length, group.unit === '' ? 1 : 1.6), 0);
}

const LONGEST_LARGE_LIST = 11;
/** Longer ones stand in two columns, what goes in together in one sentence. */
const LONGEST_COLUMN = 20;

/** Turns a plan into the recipe card; `address` is where the recipe is on the published site, if it is there. */
export function recipeCard(
  batch: Batch,
  plan: Plan,
  { units, language }: Voice,
  author: string | null,
  address: string | null,
): RecipeCard {
  const height = listHeight(groups(batch, false, units));
  const list = groups(batch, height > LONGEST_LARGE_LIST, units);
  const bare = (one: Headline | null): Headline | null => (one === null ? null : { ...one, range: null });
  return {
    title: batch.title,
    style: batch.style,
    author,
    revision: plan.revision.slice(0, 8),
    strips: stripsOf('card', plan),
    headlines: [
      { label: 'makes', ...volumeParts(batch.recipe.intoFermenter_L.value, units), range: null },
      bare(headline('original gravity', 'original_gravity', plan, units)),
      bare(headline('final gravity', 'final_gravity', plan, units)),
      bare(headline('alcohol', 'alcohol_volume_percent', plan, units)),
      bare(headline('bitterness', 'bitterness_ibu', plan, units)),
      bare(headline(spelled('colour', language), colourKey(units), plan, units)),
    ].filter((one) => one !== null),
    groups: list,
    long: height > LONGEST_LARGE_LIST,
    columns: height > LONGEST_COLUMN,
    method: method(batch, units),
    caution: CAUTIONS.rules,
    handingOn: handingOnLine(batch),
    address,
  };
}
