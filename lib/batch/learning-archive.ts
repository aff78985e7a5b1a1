/** Learning over an archive: each batch is looked at once, and every question is answered from that. */
import type { Batch } from './batch.ts';
import { LEARNED_KEYS, type Learned, type LearnedKey, type LearnedSetup, type Observed } from './learning.ts';
import { type BatchEvidence, evidenceOf } from './learning-observe.ts';
import { learn, learnByShares } from './learning-posterior.ts';
import type { Setup, SetupFigure } from './setup.ts';

/** The latest batches that count: kit wears, moves and is replaced. */
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
  /** By name, those that were fermented alone at least once with both gravities read. */
  yeasts(whose: Whose): readonly LearnedYeast[];
}

/** Which figure of a setup a learned one stands for. */
export function setupFigure(setup: Setup, key: LearnedKey): SetupFigure {
  switch (key) {
    case 'heat':
      return setup.heat_kW;
    case 'steep_efficiency':
      return setup.steepEfficiency;
    case 'mash_efficiency':
      return setup.mashEfficiency;
    case 'boil_off':
      return setup.boilOff_L_per_h;
    case 'chill.in':
      return setup.chill.in_min;
    case 'kettle_loss':
      return setup.kettleLoss_L;
    case 'fermenter_loss':
      return setup.fermenterLoss_L;
  }
}

/** A stated figure without doubt would never learn: it is given a thousandth. */
const LEAST_PRIOR_SHARE = 1e-3;
const prior = ({ value, u }: { readonly value: number; readonly u: number }) => ({
  value,
  u: Math.max(u, LEAST_PRIOR_SHARE * Math.abs(value), 1e-6),
});

/** Figures whose doubts are shares of them. */
const BY_SHARES: ReadonlySet<LearnedKey> = new Set<LearnedKey>(['heat', 'chill.in']);

const sameName = (name: string): string => name.toLowerCase().replaceAll(/[\s-]+/g, '');

interface Entry {
  readonly batch: Batch;
  readonly evidence: BatchEvidence;
}

/** Looks at every brewed batch once. Batches without a day, given up, or that cannot be planned tell nothing. */
export function createLearner(batches: readonly Batch[]): Learner {
  const bySetup = new Map<string, Entry[]>();
  const all: Entry[] = [];
  for (const batch of [...batches].sort(byDay)) {
    const evidence = evidenceOf(batch);
    const entry = { batch, evidence };
    if (Object.keys(evidence.kit).length === 0 && evidence.attenuation === null) continue;
    all.push(entry);
    bySetup.set(batch.setup.key, [...(bySetup.get(batch.setup.key) ?? []), entry]);
  }
  return {
    setup: (setup, whose) => {
      const entries = (bySetup.get(setup.key) ?? []).filter(({ batch }) => allowed(batch, whose));
      const learned = LEARNED_KEYS.map((key) => {
        const by = BY_SHARES.has(key) ? learnByShares : learn;
        const observed = latest(entries.flatMap(({ evidence }) => evidence.kit[key] ?? []));
        return [key, observed.length === 0 ? null : by(prior(setupFigure(setup, key)), observed)];
      });
      return Object.fromEntries(learned) as Record<LearnedKey, Learned | null>;
    },
    yeasts: (whose) => learnedYeasts(all.filter(({ batch }) => allowed(batch, whose))),
  };
}

const byDay = (a: Batch, b: Batch): number =>
  (a.brewed ?? '').localeCompare(b.brewed ?? '') || a.slug.localeCompare(b.slug);

const allowed = (batch: Batch, { before, counts }: Whose): boolean =>
  (before === null || (batch.brewed !== null && batch.brewed < before)) && counts(batch);

const latest = (observed: readonly Observed[]): readonly Observed[] => observed.slice(-LATEST_BATCHES);

/** Spread of a yeast type's attenuation about what its packet says. Common practice, from memory. */
const ASSUMED_ATTENUATION_u = 0.025;

function learnedYeasts(entries: readonly Entry[]): LearnedYeast[] {
  const groups = new Map<string, Entry[]>();
  for (const entry of entries) {
    if (entry.evidence.attenuation === null) continue;
    const key = sameName(entry.evidence.attenuation.yeast);
    groups.set(key, [...(groups.get(key) ?? []), entry]);
  }
  return [...groups.values()]
    .flatMap((group) => {
      const yeast = group.at(-1)?.batch.recipe.yeast[0];
      if (yeast === undefined) return [];
      const observed = latest(group.flatMap(({ evidence }) => evidence.attenuation ?? []));
      const { value, u } = yeast.attenuation;
      const stated = prior({ value, u: u ?? ASSUMED_ATTENUATION_u });
      return [{ name: yeast.name, attenuation: learn(stated, observed) }];
    })
    .sort((a, b) => a.name.localeCompare(b.name, 'en'));
}
