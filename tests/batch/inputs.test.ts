/** Which inputs of a batch are uncertain, by how much, and that nudging one moves what it should and comes back. */
import { describe, expect, it } from 'vitest';
import { buildCase } from '../../lib/batch/model/build-model-input.ts';
import { INPUT_DEFAULTS } from '../../lib/batch/model/defaults.ts';
import { designBoil } from '../../lib/batch/model/design.ts';
import { runModel } from '../../lib/batch/model/model.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';
import { type Input, uncertainInputs } from '../../lib/batch/uncertainty/inputs.ts';
import { extract, given, grain, hop, sampleBatch, sampleRecipe, sampleSetup, yeast } from './sample.ts';
import { mashAt, own } from './sample-plan.ts';

function inputsOf(batch: Batch) {
  const c = buildCase(batch);
  designBoil(c);
  const inputs = uncertainInputs(batch, c);
  return { c, inputs, labels: inputs.map(({ label }) => label) };
}

const named = (inputs: readonly Input[], label: string): Input => {
  const found = inputs.find((input) => input.label === label);
  if (!found) throw new Error(`no input ${label}`);
  return found;
};

const KIT = [
  "the fermenter's volume mark",
  "the kettle's volume mark",
  'the kitchen scale',
  'the thermometer',
  'evaporation',
  'what stays in the kettle',
  'wort held by the hops',
  'water held by the grain',
  'the heat',
  'what stays on the yeast',
  'how far it chills',
  'the tap water',
  'the top-up water',
  'the room',
  'the altitude',
];

const defaults = (...names: readonly (keyof typeof INPUT_DEFAULTS)[]) =>
  names.map((name) => INPUT_DEFAULTS[name].label);

describe('the uncertain inputs', () => {
  it('of a steeped extract batch: the kit’s, the packets’, the formulas’', () => {
    const { labels } = inputsOf(sampleBatch());
    expect([...labels].sort()).toEqual(
      [
        ...KIT,
        'steep efficiency',
        'crystal malt 150: yield',
        'crystal malt 150: colour',
        'pale liquid extract: yield',
        'pale liquid extract: colour',
        'Fuggle: alpha acids',
        'how long it chills',
        "the yeast's attenuation",
        ...defaults(
          'maltHeat',
          'tinseth',
          'morey',
          'fermentability',
          'pitchingRate',
          'warmest',
          'co2Yield',
          'beerSolubility',
        ),
      ].sort(),
    );
  });

  it('of sugar water without hops or yeast: no more than it has', () => {
    const bare = sampleBatch({
      recipe: sampleRecipe({
        steep: null,
        grain: [],
        extract: [],
        sugar: [
          extract(1000, {
            kind: 'sugar',
            name: 'table sugar',
            colour_EBC: { value: 0 as never, u: null, from: 'table' },
            fermentableAs: 'sugar',
            yield: { value: 1 as never, u: null, from: 'table' },
          }),
        ],
        hops: [],
        yeast: [],
        packaging: [],
      }),
    });
    expect([...inputsOf(bare).labels].sort()).toEqual(
      [...KIT, 'table sugar: yield', ...defaults('morey', 'warmest', 'beerSolubility')].sort(),
    );
  });

  it('of a mash: its own efficiency, and the steep’s only where something is steeped', () => {
    const mash = { mash: mashAt(66, 3), grain: [grain(1500, { in: 'mash' })], steep: null };
    const { labels } = inputsOf(sampleBatch({ recipe: sampleRecipe(mash) }));
    expect(labels).toContain('mash efficiency');
    expect(labels).not.toContain('steep efficiency');
    expect(labels).toContain(INPUT_DEFAULTS.maltHeat.label);
  });

  it('of an ice bath: how well it works, and how near cold water comes', () => {
    const chill = { to_C: own(20), in_min: own(20), with: 'ice bath', assumed: false } as const;
    const { labels } = inputsOf(sampleBatch({ setup: sampleSetup({ chill }) }));
    for (const label of defaults('bathEffectiveness', 'bathApproach')) expect(labels).toContain(label);
    expect(inputsOf(sampleBatch()).labels).not.toContain(INPUT_DEFAULTS.bathEffectiveness.label);
  });

  it('what is known for sure is not among them', () => {
    const { labels } = inputsOf(
      sampleBatch({ setup: sampleSetup({ heat_kW: own(1.5), altitude_m: own(0) }) }),
    );
    expect(labels).not.toContain('the heat');
    expect(labels).not.toContain('the altitude');
  });
});

describe('what does not bear on the beer is not among them', () => {
  it('how malt ferments, where all of it ferments as the yeast says', () => {
    const of = (recipe: Parameters<typeof sampleRecipe>[0]) =>
      inputsOf(sampleBatch({ recipe: sampleRecipe(recipe) })).labels;
    const label = INPUT_DEFAULTS.fermentability.label;
    expect(of({ grain: [] })).not.toContain(label);
    expect(of({ extract: [] })).toContain(label);
    const sugar = extract(300, {
      name: 'syrup',
      kind: 'sugar',
      fermentableAs: 'sugar',
      fermentability: { value: 0.5 as never, u: null, from: 'table' },
    });
    expect(of({ grain: [], sugar: [sugar] })).not.toContain(label);
  });

  it('the gas of sugar, where a keg is filled from a bottle of it', () => {
    const packaging = sampleRecipe().packaging.map((step) => ({
      ...step,
      into: 'keg' as const,
      sugar: null,
    }));
    const kegged = inputsOf(sampleBatch({ recipe: sampleRecipe({ packaging }) })).labels;
    expect(kegged).not.toContain(INPUT_DEFAULTS.co2Yield.label);
    expect(kegged).toContain(INPUT_DEFAULTS.beerSolubility.label);
  });
});

describe('how uncertain', () => {
  it('as the recipe says, else as the setup says', () => {
    const stated = sampleBatch({
      recipe: sampleRecipe({ intoFermenter_L: { ...given(19, '19 ± 0.3 L'), u: 0.3 } as never }),
    });
    expect(named(inputsOf(stated).inputs, "the fermenter's volume mark").u).toBe(0.3);
    const { inputs } = inputsOf(sampleBatch());
    expect(named(inputs, "the fermenter's volume mark").u).toBe(sampleSetup().instruments.fermenterMark_L.u);
  });

  it('a packet’s own ± counts by its share: 5 ± 0.5 % alpha is a tenth', () => {
    const alpha = { value: 0.05 as never, u: 0.005, from: 'recipe' } as const;
    const recipe = sampleRecipe({ hops: [hop(30, { at: 'flameout' }, { alpha })] });
    expect(named(inputsOf(sampleBatch({ recipe })).inputs, 'Fuggle: alpha acids').u).toBeCloseTo(0.1, 12);
    expect(named(inputsOf(sampleBatch()).inputs, 'Fuggle: alpha acids').u).toBe(INPUT_DEFAULTS.alpha.u);
  });

  it('a yield by its kind: grain, liquid and dry extract, sugar', () => {
    const recipe = sampleRecipe({
      extract: [extract(1000, { name: 'liquid' }), extract(500, { name: 'dry', form: 'dry' })],
      sugar: [extract(200, { name: 'sugar', kind: 'sugar', form: null })],
    });
    const { inputs } = inputsOf(sampleBatch({ recipe }));
    expect(named(inputs, 'crystal malt 150: yield').u).toBe(INPUT_DEFAULTS['yield.grain'].u);
    expect(named(inputs, 'liquid: yield').u).toBe(INPUT_DEFAULTS['yield.liquid extract'].u);
    expect(named(inputs, 'dry: yield').u).toBe(INPUT_DEFAULTS['yield.dry extract'].u);
    expect(named(inputs, 'sugar: yield').u).toBe(INPUT_DEFAULTS['yield.sugar'].u);
  });

  it('of several yeasts the least known attenuation counts, and the wort’s with it', () => {
    const attenuation = (u: number | null) => ({ value: 0.75 as never, u, from: 'recipe' }) as const;
    const recipe = sampleRecipe({
      yeast: [yeast({ attenuation: attenuation(0.01) }), yeast({ attenuation: attenuation(0.05) })],
    });
    const found = (batch = sampleBatch()) => named(inputsOf(batch).inputs, "the yeast's attenuation").u;
    // Beside 0.02 of a yeast of which nothing is stated, and 0.025 of the wort.
    expect(found(sampleBatch({ recipe }))).toBeCloseTo(Math.hypot(0.05, 0.025), 9);
    expect(found()).toBeCloseTo(Math.hypot(0.02, 0.025), 9);
  });
});

const iced = sampleBatch({
  recipe: sampleRecipe({
    mash: mashAt(66, 3),
    grain: [grain(1500, { in: 'mash', name: 'pale malt' }), grain(200)],
    extract: [extract(1000)],
  }),
  setup: sampleSetup({
    chill: { to_C: own(20), in_min: own(20), with: 'ice bath', assumed: false },
    heat_kW: own(1.5, 0.1),
  }),
});

describe.each([
  ['a steep and a bath of water', sampleBatch()],
  ['a mash, a steep and a bath of ice', iced],
])('nudging what %s hangs on', (_, batch) => {
  const { c, inputs } = inputsOf(batch);
  const before = structuredClone(c);

  it.each(inputs.map((input) => [input.label, input] as const))(
    '%s moves the case, and comes back',
    (_, input) => {
      input.set(c, input.u);
      expect(structuredClone(c)).not.toEqual(before);
      input.set(c, 0);
      expect(structuredClone(c)).toEqual(before);
    },
  );

  it('says truly whether the boil by the minute moves', () => {
    const { detail } = runModel(c);
    const moving = inputs.filter((input) => {
      input.set(c, input.u);
      const moved = runModel(c).detail.kettle;
      input.set(c, 0);
      return moved.volume_L.some((litres, i) => litres !== detail.kettle.volume_L[i]);
    });
    const said = inputs.filter(({ movesKettle }) => movesKettle);
    expect(said.map(({ label }) => label)).toEqual(moving.map(({ label }) => label));
    expect(said.map(({ label }) => label)).toContain('evaporation');
  });
});

describe('packets', () => {
  const { c, inputs } = inputsOf(sampleBatch());
  const before = structuredClone(c);

  it('one packet used twice is one input, and both move by the same share', () => {
    const alpha = named(inputs, 'Fuggle: alpha acids');
    alpha.set(c, 0.1);
    for (const [i, { alpha: moved }] of c.hops.entries())
      expect(moved / before.hops[i]!.alpha).toBeCloseTo(1.1, 12);
    alpha.set(c, 0);
    const sweet = named(inputs, 'pale liquid extract: yield');
    sweet.set(c, -0.05);
    const shares = c.parts.map((part, i) => part.yield / before.parts[i]!.yield);
    sweet.set(c, 0);
    expect(shares.filter((share) => Math.abs(share - 0.95) < 1e-12)).toHaveLength(2);
  });

  it('names that differ only in their capitals are one packet', () => {
    const recipe = sampleRecipe({
      hops: [hop(30, { at: 'flameout' }), hop(20, { at: 'flameout' }, { name: 'FUGGLE' })],
    });
    expect(inputsOf(sampleBatch({ recipe })).labels.filter((label) => /alpha/.test(label))).toHaveLength(1);
  });
});
