/** Learning over an archive: each batch is looked at once, and every question is answered from that. */

import { FIGURE_OF } from '../model/assumed.ts';
import type { Batch } from '../types/batch.ts';
import {
  type Estimate,
  LEARNED_KEYS,
  type Learned,
  type LearnedKey,
  type LearnedSetup,
  type Observed,
} from '../types/learning.ts';
import type { YeastItem } from '../types/recipe.ts';
import type { Setup } from '../types/setup.ts';
import { attenuation_u } from '../uncertainty/inputs.ts';
import { type BatchEvidence, evidenceOf } from './observe.ts';
import { learn, learnByShares } from './posterior.ts';

/** The latest batches that count: a setup wears, moves and is replaced. */
export const LATEST_BATCHES = 40;

export interface LearnedYeast {
  /** As the latest batch writes it. */
  readonly name: string;
  readonly attenuation: Learned;
}

export interface Whose {
  /** Only batches brewed before this day count; null: all. */
  readonly before: string | null;
  /** What may be looked at; a page for others must not tell of what is not published. */
  readonly counts: (batch: Batch) => boolean;
}

export interface Learner {
  setup(setup: Setup, whose: Whose): LearnedSetup;
  /** What batches say of a yeast's attenuation, beginning with what is stated of it here; null where they say nothing. */
  yeast(stated: YeastItem, whose: Whose): Learned | null;
  /** By name, those that were fermented alone at least once with both gravities read. */
  yeasts(whose: Whose): readonly LearnedYeast[];
}

/** A stated figure without doubt would never learn: it is given a thousandth. */
const LEAST_PRIOR_SHARE = 1e-3;
const prior = ({ value, u }: { readonly value: number; readonly u: number }) => ({
  value,
  u: Math.max(u, LEAST_PRIOR_SHARE * Math.abs(value), 1e-6),
});

/** Figures whose doubts are shares of them. */
const BY_SHARES: ReadonlySet<LearnedKey> = new Set<LearnedKey>(['heat', 'chill.in']);

/** Names of a yeast that differ in case, blanks and hyphens alone are one. */
export const sameName = (name: string): string => name.toLowerCase().replaceAll(/[\s-]/g, '');

type Brewed = Batch & { readonly brewed: string };
const wasBrewed = (batch: Batch): batch is Brewed => batch.brewed !== null;

/**
 * Learns from batches; those without a day, given up, or that cannot be planned tell nothing.
 *
 * @param tellsOf what a batch tells, asked for again and again: code that looks at many batches remembers it
 */
export function createLearner(batches: readonly Batch[], tellsOf = evidenceOf): Learner {
  const learnedOnce = rememberLast();
  const all = batches.filter(wasBrewed).sort(byDay);
  const bySetup = grouped(all, ({ setup }) => setup.key);
  const byYeast = grouped(all, ({ recipe }) =>
    recipe.yeast[0] === undefined ? null : sameName(recipe.yeast[0].name),
  );
  /** What the latest batches say, by day; older ones are not even looked at. */
  const latest = (
    entries: readonly Brewed[],
    of: (evidence: BatchEvidence) => Observed | null,
  ): readonly Observed[] => {
    const found: Observed[] = [];
    for (let i = entries.length - 1; i >= 0 && found.length < LATEST_BATCHES; i--) {
      const one = of(tellsOf(entries[i]!));
      if (one !== null) found.push(one);
    }
    return found.reverse();
  };
  const learnedYeast = (group: readonly Brewed[]): LearnedYeast | null => {
    const observed = latest(group, ({ attenuation }) => attenuation);
    const named = group.findLast((batch) => tellsOf(batch).attenuation !== null)?.recipe.yeast[0];
    if (named === undefined) return null;
    const attenuation = learnedOnce(learn, statedAttenuation(named), observed);
    return attenuation === null ? null : { name: named.name, attenuation };
  };
  return {
    setup: (setup, whose) => {
      const entries = (bySetup.get(setup.key) ?? []).filter((batch) => allowed(batch, whose));
      const learned = LEARNED_KEYS.map((key) => {
        const by = BY_SHARES.has(key) ? learnByShares : learn;
        const observed = latest(entries, ({ kit }) => kit[key] ?? null);
        return [key, learnedOnce(by, prior(FIGURE_OF[key](setup)), observed)];
      });
      return Object.fromEntries(learned) as Record<LearnedKey, Learned | null>;
    },
    yeast: (stated, whose) => {
      const group = (byYeast.get(sameName(stated.name)) ?? []).filter((batch) => allowed(batch, whose));
      return learnedOnce(
        learn,
        statedAttenuation(stated),
        latest(group, ({ attenuation }) => attenuation),
      );
    },
    yeasts: (whose) =>
      [...byYeast.values()]
        .flatMap((group) => learnedYeast(group.filter((batch) => allowed(batch, whose))) ?? [])
        .sort((a, b) => a.name.localeCompare(b.name, 'en')),
  };
}

/** Learns a figure, or gives what was learned last by the same latest observation: batches of one week learn the same from the same. */
function rememberLast() {
  const last = new Map<Observed, { readonly from: readonly unknown[]; readonly learned: Learned }>();
  return (by: typeof learn, prior: Estimate, observed: readonly Observed[]): Learned | null => {
    const latest = observed.at(-1);
    if (latest === undefined) return null;
    const from = [by, prior.value, prior.u, ...observed];
    const before = last.get(latest);
    if (before?.from.length === from.length && before.from.every((one, i) => one === from[i]))
      return before.learned;
    const learned = by(prior, observed);
    last.set(latest, { from, learned });
    return learned;
  };
}

function grouped(
  entries: readonly Brewed[],
  by: (batch: Brewed) => string | null,
): ReadonlyMap<string, readonly Brewed[]> {
  const groups = new Map<string, Brewed[]>();
  for (const entry of entries) {
    const key = by(entry);
    if (key === null) continue;
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [entry]);
    else group.push(entry);
  }
  return groups;
}

const byDay = (a: Brewed, b: Brewed): number =>
  a.brewed.localeCompare(b.brewed, 'en') || a.slug.localeCompare(b.slug, 'en');

const allowed = (batch: Brewed, { before, counts }: Whose): boolean =>
  (before === null || batch.brewed < before) && counts(batch);

const statedAttenuation = (yeast: YeastItem) =>
  prior({ value: yeast.attenuation.value, u: attenuation_u(yeast) });
