import { describe, expect, it } from 'vitest';
import { DEFAULT_BREWERY } from '../../../lib/archive/schema/brewery-schema.ts';
import { createLearner, LATEST_BATCHES } from '../../../lib/batch/learning/archive.ts';
import { batchToPlan } from '../../../lib/batch/learning/use.ts';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../../lib/batch/types/batch.ts';
import type { Recipe } from '../../../lib/batch/types/recipe.ts';
import { sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { randomFrom } from './random.ts';
import { brew, drawTruth } from './simulate.ts';

const random = randomFrom(42);
const truth = { ...drawTruth(random), kit: { ...drawTruth(random).kit, boil_off: 3.4 } };
const history = Array.from({ length: 6 }, (_, i) => brew(truth, i, random));
const use = sampleSetup({ learned: 'use' });
const next = (over: Partial<Batch> = {}): Batch => sampleBatch({ setup: use, brewed: '2026-06-01', ...over });

describe('a plan with learned: use', () => {
  it('is made with what the batches before it say, and says so', () => {
    const { batch, used } = batchToPlan(next(), createLearner(history));
    expect(batch.setup.boilOff_L_per_h.value).toBeGreaterThan(2.8);
    expect(batch.setup.boilOff_L_per_h.u).toBeLessThan(use.boilOff_L_per_h.u);
    expect(used.find(({ key }) => key === 'boil_off')).toMatchObject({ batches: 6, setup_value: 2.5 });
    const planned = (one: Batch) => {
      const result = planBatch(one, DEFAULT_BREWERY);
      if (!result.ok) throw new Error('no plan');
      return result.plan;
    };
    const [before, after] = [planned(next()), planned(batch)];
    expect(after.targets.boil_end_volume_l!.value).toBeLessThan(
      before.targets.boil_end_volume_l!.value - 0.4,
    );
    expect(after.revision).not.toBe(before.revision);
    expect(after.assumed.map(({ key }) => key)).not.toContain('boil_off');
  });

  it('names only figures that matter to its recipe', () => {
    const keys = (recipe: Partial<Recipe>) =>
      batchToPlan(next({ recipe: sampleRecipe(recipe) }), createLearner(history)).used.map(({ key }) => key);
    expect(keys({})).toEqual(expect.arrayContaining(['hop_absorption', 'steep_efficiency', 'boil_off']));
    expect(keys({ hops: [] })).not.toContain('hop_absorption');
    expect(keys({ hops: [] })).toContain('boil_off');
    expect(keys({ grain: [], steep: null })).not.toContain('steep_efficiency');
  });

  it('is made with the attenuation that its yeast showed, and says whose', () => {
    const strong = { ...truth, attenuation: 0.83 };
    const days = Array.from({ length: 6 }, (_, i) => brew(strong, i, random));
    const stated = next();
    const { batch, used } = batchToPlan(stated, createLearner(days));
    const [yeast] = stated.recipe.yeast;
    const figure = used.find(({ key }) => key === 'attenuation')!;
    expect(figure).toMatchObject({ yeast: yeast!.name, batches: 6, setup_value: 0.75 });
    expect(figure.value).toBeGreaterThan(0.78);
    expect(figure.u).toBeLessThan(0.025);
    const found = batch.recipe.yeast[0]!.attenuation;
    expect([found.value, found.u]).toEqual([figure.value, figure.u]);
    const of = (one: Batch) => {
      const result = planBatch(one, DEFAULT_BREWERY);
      if (!result.ok) throw new Error('no plan');
      return result.plan.targets.final_gravity!;
    };
    expect(of(batch).value).toBeLessThan(of(stated).value);
    // Narrower by the attenuation's share of it.
    expect(of(batch).high - of(batch).low).toBeLessThan(of(stated).high - of(stated).low);
  });

  it('takes nothing from its own readings, nor from a later batch with the same yeast', () => {
    const [first, second, third, fourth, fifth] = history;
    const earlier = [first!, second!, third!];
    const own: Batch = { ...fourth!, setup: { ...fourth!.setup, learned: 'use' } };
    const otherFinal = { ...own.readings, final_gravity: first!.readings.final_gravity } as Batch['readings'];
    const before = batchToPlan(own, createLearner([...earlier, own, fifth!]));
    const changed = { ...own, readings: otherFinal };
    const after = batchToPlan(changed, createLearner([...earlier, changed]));
    expect(before.used.find(({ key }) => key === 'attenuation')).toMatchObject({ batches: 3 });
    expect(after.used).toEqual(before.used);
    expect(after.batch.recipe.yeast).toEqual(before.batch.recipe.yeast);
  });

  it('leaves a yeast that was never fermented alone as it is stated', () => {
    const other = next();
    const [yeast] = other.recipe.yeast;
    const recipe = { ...other.recipe, yeast: [{ ...yeast!, name: 'Another one' }] };
    const { batch, used } = batchToPlan({ ...other, recipe }, createLearner(history));
    expect(used.map(({ key }) => key)).not.toContain('attenuation');
    expect(batch.recipe.yeast).toEqual(recipe.yeast);
  });

  it('counts only batches brewed before its day', () => {
    const { used } = batchToPlan(next({ brewed: history[4]!.brewed }), createLearner(history));
    expect(used.find(({ key }) => key === 'boil_off')?.batches).toBe(4);
    // Two batches are too few to plan with.
    const third = batchToPlan(next({ brewed: history[2]!.brewed }), createLearner(history));
    expect(third).toMatchObject({ used: [], batch: { setup: use } });
  });

  it('learns nothing published from what is not', () => {
    const mixed = history.map(
      (batch, i): Batch => (i % 2 === 0 ? batch : { ...batch, publish: i === 1 ? 'recipe' : 'nothing' }),
    );
    const learner = createLearner(mixed);
    const behind = (publish: Batch['publish']) =>
      batchToPlan(next({ publish }), learner).used.find(({ key }) => key === 'boil_off')?.batches;
    expect(behind('all')).toBe(3);
    expect(behind('recipe')).toBe(3);
    expect(behind('nothing')).toBe(6);
  });

  it('is left alone with learned: show, or by another kit', () => {
    const learner = createLearner(history);
    expect(batchToPlan(next({ setup: sampleSetup() }), learner).used).toEqual([]);
    const ring = batchToPlan(next({ setup: sampleSetup({ key: 'ring', learned: 'use' }) }), learner);
    // The yeast is the same one, whatever it was brewed on.
    expect(ring.used.map(({ key }) => key)).toEqual(['attenuation']);
    expect(ring.batch.setup).toEqual(sampleSetup({ key: 'ring', learned: 'use' }));
  });
});

it('looks at the latest batches only: kit wears', () => {
  const many = Array.from({ length: LATEST_BATCHES + 5 }, (_, i) => brew(truth, i, random));
  const learned = createLearner(many).setup(use, { before: null, counts: () => true });
  expect(learned.boil_off!.points).toHaveLength(LATEST_BATCHES);
  expect(learned.boil_off!.points.at(-1)!.slug).toBe(many.at(-1)!.slug);
});

it('learns nothing from a batch that was given up, has no day, or has no readings', () => {
  const [one] = history;
  const useless: readonly Partial<Batch>[] = [
    { readings: { ...one!.readings, abandoned: { on: { date: '2024-01-07', clock: null }, why: 'spilt' } } },
    { brewed: null },
    { readings: {} },
  ];
  const learned = createLearner(useless.map((over) => ({ ...one!, ...over }))).setup(use, {
    before: null,
    counts: () => true,
  });
  expect(Object.values(learned).every((figure) => figure === null)).toBe(true);
});

describe('what is doubted', () => {
  const [one] = history;
  const gravityOf = (batch: Batch) =>
    createLearner([batch]).yeast(batch.recipe.yeast[0]!, { before: null, counts: () => true });
  it('teaches nothing: a starting gravity 20 points above what the weights give tells of no yeast', () => {
    expect(gravityOf(one!)).not.toBeNull();
    const reading = one!.readings.original_gravity;
    if (!reading || reading === 'not taken') throw new Error('no gravity');
    const slip = { ...reading, value: reading.value + 0.02 };
    expect(gravityOf({ ...one!, readings: { ...one!.readings, original_gravity: slip } })).toBeNull();
  });
});

describe('a kit that chills to 45 °C each time', () => {
  const warm = { value: 45 as never, u: null, written: '45 °C' };
  const batches = history.map((batch): Batch => {
    const setup = { ...batch.setup, learned: 'use' as const };
    const whole = sampleBatch({ ...batch, setup, recipe: { ...batch.recipe, ferment: [] } });
    return { ...whole, readings: { ...batch.readings, chilled: { at: null, temperature_C: warm } } };
  });
  it('is planned with what it does, from the third batch on', () => {
    const used = (n: number) =>
      batchToPlan(next({ brewed: '2030-01-01' }), createLearner(batches.slice(0, n))).used.find(
        ({ key }) => key === 'chill.to',
      );
    expect(used(2)).toBeUndefined();
    expect(used(6)!.value).toBeGreaterThan(35);
    expect(used(6)!.value).toBeLessThan(45);
  });
});
