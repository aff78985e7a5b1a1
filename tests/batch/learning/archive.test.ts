/** Which batches a learner looks at, in which order, and what a plan makes of what it says. */
import { describe, expect, it } from 'vitest';
import { createLearner, LATEST_BATCHES, type Learner } from '../../../lib/batch/learning/archive.ts';
import { batchToPlan, isShown } from '../../../lib/batch/learning/use.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import {
  LEARNED_KEYS,
  type Learned,
  type LearnedKey,
  type LearnedSetup,
} from '../../../lib/batch/types/learning.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import {
  extract,
  given,
  grain,
  hop,
  sampleBatch,
  sampleRecipe,
  sampleSetup,
  WATER,
  yeast,
} from '../sample.ts';
import { own } from '../sample-plan.ts';
import { litres, sg } from '../sample-readings.ts';

/** An hour’s boil of water from 10 L that takes so many litres: it says just that of the evaporation. */
const boiled = (brewed: string | null, gone_L: number, over: Partial<Batch> = {}): Batch =>
  sampleBatch({
    slug: `boil-${brewed}`,
    brewed,
    recipe: sampleRecipe(WATER),
    readings: { boil_start_volume: litres(10), boil_end_volume: litres(10 - gone_L) },
    ...over,
  });
/** All-malt wort of 1.050 that ends at some gravity. */
const fermented = (brewed: string, end: number, name: string | readonly string[]): Batch =>
  sampleBatch({
    slug: `beer-${brewed}`,
    brewed,
    recipe: sampleRecipe({
      ...WATER,
      extract: [extract(2000, { yield: { value: 0.79 as never, u: 0.4, from: 'recipe' } })],
      yeast: (typeof name === 'string' ? [name] : name).map((one) => yeast({ name: one })),
    }),
    readings: { original_gravity: sg(1.05), final_gravity: sg(end) },
  });
const all = { before: null, counts: () => true };
const setup = sampleSetup();
const pointsOf = (batches: readonly Batch[], whose: Parameters<Learner['setup']>[1] = all) =>
  createLearner(batches)
    .setup(setup, whose)
    .boil_off?.points.map(({ slug }) => slug);

describe('a kit learns', () => {
  it('from its batches in the order of their days, those of one day by name', () => {
    const found = pointsOf([
      boiled('2026-03-01', 2.4),
      boiled('2026-01-01', 2.5, { slug: 'b' }),
      boiled('2025-12-31', 2.6),
      boiled('2026-01-01', 2.5, { slug: 'a' }),
    ]);
    expect(found).toEqual(['boil-2025-12-31', 'a', 'b', 'boil-2026-03-01']);
  });

  it('from those before a day, that day not counted', () => {
    const batches = ['2026-01-01', '2026-01-02', '2026-01-03'].map((day) => boiled(day, 2.5));
    expect(pointsOf(batches, { ...all, before: '2026-01-02' })).toEqual(['boil-2026-01-01']);
    expect(pointsOf(batches, { ...all, before: '2026-01-01' })).toBeUndefined();
    // A batch without a day is before none.
    expect(pointsOf([boiled(null, 2.5)], { ...all, before: '2026-01-02' })).toBeUndefined();
  });

  it('from those that may be looked at', () => {
    const hidden = boiled('2026-01-01', 2.5, { publish: 'recipe' });
    expect(pointsOf([hidden, boiled('2026-01-02', 2.5)], { ...all, counts: isShown })).toEqual([
      'boil-2026-01-02',
    ]);
  });

  it('from its own batches, not from another kit’s', () => {
    const other = boiled('2026-01-01', 2.5, { setup: sampleSetup({ key: 'ring' }) });
    expect(pointsOf([other])).toBeUndefined();
  });

  it('beginning with its own figure: 2.5 ± 0.4 L/h and 3.5 from two marks of 0.25 L', () => {
    const { boil_off } = createLearner([boiled('2026-01-01', 3.5)]).setup(setup, all);
    expect(boil_off!.prior).toEqual({ value: 2.5, u: 0.4 });
    // Two marks and 1.5 min in 60 of 3.5 L/h.
    const u = Math.hypot(0.25, 0.25, 3.5 / 40);
    const precision = 1 / 0.16 + 1 / (u * u);
    expect(boil_off!.value).toBeCloseTo((2.5 / 0.16 + 3.5 / (u * u)) / precision, 2);
    expect(boil_off!.u).toBeCloseTo(Math.sqrt(1 / precision), 2);
  });

  it('from a figure stated without doubt: a thousandth, and of nothing a millionth', () => {
    const priorOf = (value: number) => {
      const sure = sampleSetup({ boilOff_L_per_h: own(value, 0) });
      return createLearner([boiled('2026-01-01', 2.5)]).setup(sure, all).boil_off!.prior;
    };
    expect(priorOf(3)).toEqual({ value: 3, u: expect.closeTo(0.003, 12) });
    expect(priorOf(0)).toEqual({ value: 0, u: 1e-6 });
  });

  it('heat and chill by shares, evaporation by litres', () => {
    const readings = { heating_started: '10:00', boil_started: '10:30', boil_ended: '11:30' };
    const chilled = { at: '12:25', temperature_C: given<never>(22) };
    const batch = boiled('2026-01-01', 2.5, { readings: { ...readings, chilled } });
    const learned = createLearner([batch]).setup(setup, all);
    const shares = (of: Learned) => {
      const [point] = of.points;
      const [a, b] = [of.prior, point!].map(({ value, u }) => ({ log: Math.log(value), share: u / value }));
      const [p, q] = [1 / a!.share ** 2, 1 / b!.share ** 2];
      return Math.exp((a!.log * p + b!.log * q) / (p + q));
    };
    for (const key of ['heat', 'chill.in'] as const) {
      expect(learned[key]!.value).toBeCloseTo(shares(learned[key]!), 9);
    }
  });

  it('nothing of what no batch tells', () => {
    const learned = createLearner([boiled('2026-01-01', 2.5)]).setup(setup, all);
    expect(LEARNED_KEYS.filter((key) => learned[key] !== null)).toEqual(['boil_off']);
  });

  it('from the latest forty, the oldest left out', () => {
    const many = Array.from({ length: LATEST_BATCHES + 1 }, (_, i) =>
      boiled(`20${String(10 + i).padStart(2, '0')}-01-01`, 2.5),
    );
    const found = pointsOf(many)!;
    expect(found).toHaveLength(40);
    expect(found[0]).toBe('boil-2011-01-01');
  });
});

describe('a yeast', () => {
  const beers = [
    fermented('2026-01-01', 1.01, 'English ale'),
    fermented('2026-02-01', 1.012, 'english-ALE '),
    fermented('2026-03-01', 1.008, 'Abbey'),
    fermented('2026-04-01', 1.002, ['Abbey', 'English ale']),
  ];
  const learner = createLearner(beers);

  it('is known by its name, however it is spelt, and by what it fermented alone', () => {
    const slugs = (name: string) =>
      learner.yeast(yeast({ name }), all)?.points.map(({ slug }) => slug) ?? null;
    expect(slugs('ENGLISH  ale')).toEqual(['beer-2026-01-01', 'beer-2026-02-01']);
    expect(slugs('Abbey')).toEqual(['beer-2026-03-01']);
    expect(slugs('Saison')).toBeNull();
  });

  it('begins with what is stated of it, or with half the usual band', () => {
    const stated = { value: 0.7 as never, u: 0.1, from: 'recipe' } as const;
    expect(learner.yeast(yeast({ attenuation: stated }), all)!.prior).toEqual({ value: 0.7, u: 0.1 });
    // The bands of a type are five points wide each way: two standard uncertainties.
    expect(learner.yeast(yeast(), all)!.prior).toEqual({ value: 0.75, u: 0.025 });
  });

  it('is listed by the alphabet, as its latest batch writes it', () => {
    expect(learner.yeasts(all).map(({ name, attenuation }) => [name, attenuation.batches])).toEqual([
      ['Abbey', 1],
      ['english-ALE ', 2],
    ]);
  });

  it('is not listed where none of its batches counts, or tells of it', () => {
    expect(learner.yeasts({ ...all, before: '2026-02-15' }).map(({ name }) => name)).toEqual([
      'english-ALE ',
    ]);
    const untold = sampleBatch({ readings: { boil_start_volume: litres(10) } });
    expect(createLearner([untold]).yeasts(all)).toEqual([]);
    expect(createLearner([untold]).yeast(yeast(), all)).toBeNull();
  });
});

describe('a plan', () => {
  const learned = (value: number, batches = 3): Learned => ({
    value,
    u: 0.01,
    next_u: 0.02,
    scatter: 0,
    prior: { value, u: 1 },
    batches,
    points: [],
    withOutliers: null,
  });
  const figures = Object.fromEntries(
    LEARNED_KEYS.map((key) => [key, learned(0.5)]),
  ) as unknown as LearnedSetup;
  const saying = (kit: LearnedSetup, attenuation: Learned | null = null): Learner => ({
    setup: () => kit,
    yeast: () => attenuation,
    yeasts: () => [],
  });
  const use = sampleSetup({ learned: 'use' });
  const used = (recipe: Partial<Recipe>) =>
    batchToPlan(sampleBatch({ setup: use, recipe: sampleRecipe(recipe) }), saying(figures)).used.map(
      ({ key }) => key,
    );
  const without = (...keys: readonly LearnedKey[]) => LEARNED_KEYS.filter((key) => !keys.includes(key));

  it('is told of the figures that matter to it', () => {
    const mashed = grain(1500, { in: 'mash' });
    expect(used({})).toEqual(without('mash_efficiency'));
    expect(used({ hops: [] })).toEqual(without('mash_efficiency', 'hop_absorption'));
    expect(used({ grain: [] })).toEqual(without('steep_efficiency', 'mash_efficiency'));
    expect(used({ grain: [mashed] })).toEqual(without('steep_efficiency'));
    // One that steeps beside a mash has use for both.
    expect(used({ grain: [mashed, grain(300)], hops: [hop(10, { at: 'flameout' })] })).toEqual(LEARNED_KEYS);
  });

  it('is made with a yeast’s attenuation, held to what is possible, and else with what is stated', () => {
    const nothing = Object.fromEntries(LEARNED_KEYS.map((key) => [key, null])) as unknown as LearnedSetup;
    const batch = sampleBatch({ setup: use });
    const high = batchToPlan(batch, saying(nothing, learned(1.2)));
    expect(high.used).toEqual([
      { key: 'attenuation', yeast: 'English ale', value: 1, u: 0.02, batches: 3, setup_value: 0.75 },
    ]);
    expect(high.batch.recipe.yeast[0]!.attenuation).toEqual({ value: 1, u: 0.02, from: 'learned' });
    // Nothing else is changed.
    expect(high.batch.setup).toBe(batch.setup);
    for (const none of [null, learned(0.8, 0)]) {
      const same = batchToPlan(batch, saying(nothing, none));
      expect(same.batch).toBe(batch);
      expect(same.used).toEqual([]);
    }
  });

  it('is left as it is where its setup only shows what it learned, or it has no day', () => {
    const shown = sampleBatch();
    expect(batchToPlan(shown, saying(figures))).toEqual({ batch: shown, used: [] });
    const open = sampleBatch({ setup: use, brewed: null });
    expect(batchToPlan(open, saying(figures))).toEqual({ batch: open, used: [] });
  });

  it('asks for what came before its day, and may look at what is hidden only where it is hidden itself', () => {
    const asked: Parameters<Learner['setup']>[1][] = [];
    const listening: Learner = {
      ...saying(figures),
      setup: (_, whose) => {
        asked.push(whose);
        return figures;
      },
    };
    for (const publish of ['all', 'recipe', 'nothing'] as const)
      batchToPlan(sampleBatch({ setup: use, publish }), listening);
    const hidden = sampleBatch({ publish: 'nothing' });
    expect(asked.map(({ before, counts }) => [before, counts(hidden)])).toEqual([
      ['2026-02-14', false],
      ['2026-02-14', false],
      ['2026-02-14', true],
    ]);
  });
});
