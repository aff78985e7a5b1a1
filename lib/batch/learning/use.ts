/** Learned figures put to use: a setup that plans with them, and the words that say so. */
import { fraction } from '../../units/brands.ts';
import { FIGURE_OF } from '../model/assumed.ts';
import type { Batch } from '../types/batch.ts';
import {
  LEARNED_KEYS,
  LEAST_BATCHES,
  type Learned,
  type LearnedKey,
  type LearnedSetup,
  type UsedFigure,
} from '../types/learning.ts';
import type { YeastItem } from '../types/recipe.ts';
import type { Setup, SetupFigure } from '../types/setup.ts';
import type { Learner, Whose } from './archive.ts';

/** What a figure can be: nothing is lost below nothing, and no grain gives more than it has, no yeast takes more. */
export const POSSIBLE: { readonly [K in UsedFigure['key']]: readonly [low: number, high: number] } = {
  heat: [0.05, 100],
  steep_efficiency: [0.01, 1],
  mash_efficiency: [0.01, 1],
  boil_off: [0, 100],
  'chill.to': [0, 60],
  'chill.in': [1, 1440],
  kettle_loss: [0, 100],
  hop_absorption: [0, 30],
  fermenter_loss: [0, 100],
  attenuation: [0.05, 1],
};

/** A learned figure held to what is possible, with the uncertainty of the next brew. */
export function usable(
  key: UsedFigure['key'],
  learned: Learned,
): { readonly value: number; readonly u: number } {
  const [low, high] = POSSIBLE[key];
  return { value: Math.min(high, Math.max(low, learned.value)), u: learned.next_u };
}

/** Whether enough batches stand behind a figure to say anything. */
export const tells = (found: Learned | null): found is Learned =>
  found !== null && found.batches >= LEAST_BATCHES;

/** A setup whose figures are replaced by what its batches say; one that too few batches tell stays the setup's own. */
export function setupWithLearned(setup: Setup, learned: LearnedSetup): Setup {
  const of = (key: LearnedKey): SetupFigure => {
    const own = FIGURE_OF[key](setup);
    const found = learned[key];
    if (!tells(found)) return own;
    return { ...own, ...usable(key, found), assumed: false };
  };
  return {
    ...setup,
    heat_kW: of('heat'),
    steepEfficiency: of('steep_efficiency'),
    mashEfficiency: of('mash_efficiency'),
    boilOff_L_per_h: of('boil_off'),
    kettleLoss_L: of('kettle_loss'),
    hopAbsorption_L_per_kg: of('hop_absorption'),
    fermenterLoss_L: of('fermenter_loss'),
    chill: { ...setup.chill, to_C: of('chill.to'), in_min: of('chill.in') },
  };
}

/** The learned figures that `setupWithLearned` puts into a setup. */
export function usedFigures(setup: Setup, learned: LearnedSetup): readonly UsedFigure[] {
  return LEARNED_KEYS.flatMap((key) => {
    const found = learned[key];
    if (!tells(found)) return [];
    const setup_value = FIGURE_OF[key](setup).value;
    return [{ key, ...usable(key, found), batches: found.batches, setup_value }];
  });
}

/**
 * A batch as it is to be planned: with what was learned before its day, where its setup says `learned: use`.
 *
 * What is published is learned from what is published; a batch that is not may learn from all.
 */
export function batchToPlan(
  batch: Batch,
  learner: Learner,
): { readonly batch: Batch; readonly used: readonly UsedFigure[] } {
  if (batch.setup.learned !== 'use' || batch.brewed === null) return { batch, used: [] };
  const counts = batch.publish === 'nothing' ? () => true : isShown;
  const learned = learner.setup(batch.setup, { before: batch.brewed, counts });
  const ofKit = usedFigures(batch.setup, learned).filter(({ key }) => matters(batch, key));
  const { yeast, used: ofYeast } = yeastWithLearned(batch.recipe.yeast, learner, {
    before: batch.brewed,
    counts,
  });
  const used = [...ofKit, ...ofYeast];
  if (used.length === 0) return { batch, used };
  const setup = ofKit.length === 0 ? batch.setup : setupWithLearned(batch.setup, learned);
  return { batch: { ...batch, setup, recipe: { ...batch.recipe, yeast } }, used };
}

/** Each yeast with the attenuation that its batches show; one that no batch tells of keeps what is stated of it. */
function yeastWithLearned(
  stated: readonly YeastItem[],
  learner: Learner,
  whose: Whose,
): { readonly yeast: readonly YeastItem[]; readonly used: readonly UsedFigure[] } {
  const used: UsedFigure[] = [];
  const yeast = stated.map((item): YeastItem => {
    const found = learner.yeast(item, whose);
    if (!tells(found)) return item;
    const { value, u } = usable('attenuation', found);
    const { batches } = found;
    used.push({
      key: 'attenuation',
      yeast: item.name,
      value,
      u,
      batches,
      setup_value: item.attenuation.value,
    });
    return { ...item, attenuation: { value: fraction(value), u, from: 'learned' } };
  });
  return { yeast, used };
}

/** A steep's yield is nothing to a batch that steeps no grain, and what hops hold to one without hops. */
function matters({ recipe }: Batch, key: UsedFigure['key']): boolean {
  if (key === 'hop_absorption') return recipe.hops.length > 0;
  if (key !== 'steep_efficiency' && key !== 'mash_efficiency') return true;
  return recipe.grain.some((item) => item.in === (key === 'steep_efficiency' ? 'steep' : 'mash'));
}

/** A batch whose readings are on the site. */
export const isShown = ({ publish }: Batch): boolean => publish === 'all';
