/** Bottles against what they are made for, with gases from published tables: no head space, 30 °C, at sea level. */
import { describe, expect, it } from 'vitest';
import { checkReadBottles, limitOf } from '../../lib/batch/judgment/bottle-safety.ts';
import { checkBottles } from '../../lib/batch/judgment/check-bottles.ts';
import type { PackedPart } from '../../lib/batch/model/packaging.ts';
import type { Observation } from '../../lib/batch/readings/normalise-readings.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';
import type { Fermentation, Figure, Targets } from '../../lib/batch/types/plan.ts';
import type { PackagedReading, Readings } from '../../lib/batch/types/readings.ts';
import type { PackageStep } from '../../lib/batch/types/recipe.ts';
import { TARGET_KEYS, type TargetKey } from '../../lib/batch/types/targets.ts';
import { pathText } from '../../lib/units/problem.ts';
import { given, sampleBatch, sampleRecipe } from './sample.ts';
import { brewery } from './sample-plan.ts';

const AMBIENT_kPa = 101.325;
const bottle = sampleRecipe().packaging[0]!;
const madeFor = (value: number, unit: 'vol' | 'kPa' = 'vol', assumed = false): PackageStep => ({
  ...bottle,
  limit: { unit, value, written: `${value} ${unit}`, assumed },
});

const figure = (value: number, low: number, high: number): Figure => ({
  value,
  low,
  high,
  printed: { low, high },
  contributors: [],
});
const targetsOf = (known: Partial<Record<TargetKey, Figure>>): Targets => ({
  ...(Object.fromEntries(TARGET_KEYS.map((key) => [key, null])) as Record<TargetKey, null>),
  ...known,
});
const packedOf = (step: PackageStep, volumes: number, volume_L = 16): PackedPart => ({
  part: {
    into: step.into,
    carbonation_vol: step.carbonation_vol.value,
    volume_L,
    bottle_L: 0.5,
    co2_g_per_g: 0.5143,
    serving_C: Number.NaN,
    sugar_g: Number.NaN,
  },
  volume_L,
  volumes,
});

const observed = (key: string, value: number | null, u: number): Observation => ({
  key,
  value,
  u,
  target: null,
});
const state = (word: Fermentation['state']): Fermentation => ({ state: word, words: '', next: null });
const on = { date: '2026-03-01', clock: null };
const filled = (into: 'bottles' | 'keg' | null): PackagedReading => ({
  on,
  into,
  volume: null,
  temperature_C: null,
  sugar_g: null,
  bottles: null,
});

/** 0.8 volumes are left from fermentation, 0.9 at most; the sugar brings another 1.5. */
const RESIDUAL = figure(0.8, 0.7, 0.9);
const ENDS_AT = figure(1.01, 1.008, 1.012);
interface Kept {
  readonly read: readonly Observation[];
  readonly packaged?: readonly PackagedReading[];
  readonly steps?: readonly PackageStep[];
  readonly fermentation?: Fermentation | null;
  readonly readings?: Readings;
  readonly ends?: Figure | null;
  readonly volumes?: number;
  readonly asBrewed?: Partial<Targets> | null;
}

function found(of: Kept) {
  const packaging = of.steps ?? [madeFor(3)];
  const packaged = of.packaged === undefined ? {} : { packaged: of.packaged };
  const batch: Batch = sampleBatch({
    recipe: sampleRecipe({ packaging }),
    readings: { ...packaged, ...of.readings },
  });
  const ends = of.ends === undefined ? ENDS_AT : of.ends;
  const targets = targetsOf({
    residual_co2_vol: RESIDUAL,
    ...(ends === null ? {} : { final_gravity: ends }),
  });
  return checkReadBottles({
    batch,
    brewery,
    targets,
    asBrewed: of.asBrewed ?? null,
    readings: of.read,
    fermentation: of.fermentation ?? null,
    packed: packaging.map((step) => packedOf(step, of.volumes ?? 2.3)),
    ambient_kPa: AMBIENT_kPa,
  });
}
const codes = (of: Kept) => found(of).map(({ code }) => code);

describe('sugar that was weighed', () => {
  // 190.65 g × 0.5143 / (16 L × 1.9768) = 3.10 volumes, and 0.9 are there already: 4 volumes, 5.32 bar at 30 °C (Weiss 1974).
  const weighed = (name = 'packaged') => [
    observed(`${name}.volume`, 17, 0.5),
    observed(`${name}.sugar`, 187.65, 1.5),
  ];
  const packaged = [filled('bottles')];

  it('at its upper bound, over the lower bound of the volume', () => {
    expect(codes({ read: weighed(), packaged, steps: [madeFor(3.99)] })).toEqual(['bottle-danger']);
    expect(codes({ read: weighed(), packaged, steps: [madeFor(4.01)] })).toEqual([]);
  });

  it('says what it makes, and what to do with bottles that are filled', () => {
    expect(found({ read: weighed(), packaged, steps: [madeFor(3, 'vol', true)] })).toEqual([
      {
        severity: 'warning',
        code: 'bottle-danger',
        path: ['readings', 'packaged', 'sugar'],
        found: 'the sugar that was weighed in makes up to 4 vol, 5.3 bar in a full bottle at 30 °C',
        expected: 'at most 3.7 bar, what bottles for 3 vol stand (assumed)',
        mend: 'these bottles may burst: move them somewhere cold and covered, handle them with gloves and eye protection, and let the gas off one by one',
      },
    ]);
  });

  it('over the volume that is planned, where none was read', () => {
    const sugar = weighed().slice(1);
    for (const read of [sugar, [observed('packaged.volume', null, 0), ...sugar]]) {
      expect(codes({ read, packaged, steps: [madeFor(3.99)] })).toEqual(['bottle-danger']);
      expect(codes({ read, packaged, steps: [madeFor(4.01)] })).toEqual([]);
    }
  });

  it('a volume that may be none says nothing: it is as planned, 0.9 + 1.5', () => {
    const read = [observed('packaged.volume', 1, 0.5), observed('packaged.sugar', 187.65, 1.5)];
    expect(codes({ read, packaged, steps: [madeFor(2.41)] })).toEqual([]);
    expect(codes({ read, packaged, steps: [madeFor(2.39)] })).toEqual(['bottle-danger']);
  });

  it('of the bottles, not of the keg beside them', () => {
    const both = [filled('keg'), filled('bottles')];
    expect(codes({ read: weighed('packaged[1]'), packaged: both, steps: [madeFor(3.99)] })).toHaveLength(1);
    expect(codes({ read: weighed('packaged[0]'), packaged: both, steps: [madeFor(2.41)] })).toEqual([]);
  });

  it('of the one part, whatever it is called', () => {
    expect(codes({ read: weighed(), packaged: [filled(null)], steps: [madeFor(3.99)] })).toHaveLength(1);
  });

  it('counts for nothing where the bottles are not primed, or it was not weighed', () => {
    const plain = { ...madeFor(2.41), sugar: null };
    const gravity = observed('final_gravity', 1.008, 0);
    expect(codes({ read: [...weighed(), gravity], packaged, steps: [plain] })).toEqual([]);
    const none = observed('packaged.sugar', null, 0);
    expect(codes({ read: [none], packaged, steps: [madeFor(1)] })).toEqual([]);
    expect(codes({ read: [none, gravity], packaged, steps: [madeFor(2.39)] })).toHaveLength(1);
  });

  it('on what the beer really kept, where that was worked out', () => {
    // 0.2 volumes more than was planned.
    const asBrewed = { residual_co2_vol: figure(1, 0.9, 1.1) };
    expect(codes({ read: weighed(), packaged, steps: [madeFor(4.19)], asBrewed })).toHaveLength(1);
    expect(codes({ read: weighed(), packaged, steps: [madeFor(4.21)], asBrewed })).toEqual([]);
  });
});

describe('a gravity that was read', () => {
  // With 0.9 + 1.5 = 2.4 volumes from gas and sugar. °P by (463 − 205 S)(S − 1), within 0.015; a fall of x °P gives
  // x × 0.8192 × 10 × S × 0.998 × 0.9565 / 2.0665 / 1.9768 volumes (Balling).
  it.each([
    // 3.572 − 2.051 °P are 2.95 volumes: 5.35 ± 0.03.
    ['from its upper bound to the lower one of what is expected', 1.012, ENDS_AT, 5.3, 5.4],
    // 3.572 − 3.067 °P are 0.98 volumes: 3.38 ± 0.03.
    ['at least down to itself, where it ended lower', 1.012, figure(1.018, 1.016, 1.02), 3.33, 3.43],
    // −6.85 + 7.92 °P are 2.0 volumes: 4.4, and the fit is less sure below water.
    ['no further than to 0.970', 0.972, figure(0.96, 0.95, 0.97), 4.3, 4.5],
  ] as const)('%s', (_, value, ends, below, above) => {
    const read = [observed('final_gravity', value, 0.001)];
    expect(codes({ read, ends, steps: [madeFor(below)] })).toEqual(['bottle-danger']);
    expect(codes({ read, ends, steps: [madeFor(above)] })).toEqual([]);
  });

  it.each([
    ['that no beer has', 0.96],
    ['of a syrup', 1.299],
  ])('%s leaves the plan standing', (_, value) => {
    expect(codes({ read: [observed('final_gravity', value, 0.002)], steps: [madeFor(1)] })).toEqual([
      'bottle-danger',
    ]);
  });

  it('gas beyond the range of the law is taken at its end', () => {
    const read = [observed('final_gravity', 1.2, 0.001)];
    expect(codes({ read, steps: [madeFor(19.9)] })).toHaveLength(1);
    expect(limitOf(madeFor(25), AMBIENT_kPa)).toBe(limitOf(madeFor(20), AMBIENT_kPa));
  });

  it('a limit in bar is held against beer that holds 4 % less than water', () => {
    // 3 / 0.96 = 3.125 volumes: between 3.71 and 4.51 bar at 3 and 3.5 volumes, 3.91.
    const read = [observed('final_gravity', 1.008, 0)];
    expect(codes({ read, volumes: 2.9, steps: [madeFor(386, 'kPa')] })).toHaveLength(1);
    expect(codes({ read, volumes: 2.9, steps: [madeFor(396, 'kPa')] })).toEqual([]);
    expect(limitOf(madeFor(386, 'kPa'), AMBIENT_kPa)).toBe(386);
    expect(limitOf(madeFor(3), AMBIENT_kPa) / 100).toBeCloseTo(3.71, 2);
  });

  it.each([
    [
      'the final one before the log',
      [
        ['fermentation[0].gravity', 1.03],
        ['final_gravity', 1.012],
      ],
      'final_gravity',
    ],
    [
      'the last of the log before the first',
      [
        ['fermentation[0].gravity', 1.03],
        ['fermentation[10].gravity', 1.02],
      ],
      'fermentation[10].gravity',
    ],
    [
      'one that was taken before one that was not',
      [
        ['fermentation[0].gravity', 1.03],
        ['final_gravity', null],
      ],
      'fermentation[0].gravity',
    ],
    [
      'a gravity before the sugar',
      [
        ['fermentation[0].gravity', 1.03],
        ['packaged.sugar', 100],
      ],
      'fermentation[0].gravity',
    ],
  ] as const)('%s', (_, rows, key) => {
    const read = [
      observed('original_gravity', 1.05, 0.001),
      ...rows.map(([name, value]) => observed(name, value, 0.001)),
      observed('fermentation[11].temperature', 20, 0.5),
    ];
    expect(found({ read, packaged: [filled('bottles')] }).map(({ path }) => pathText(path))).toEqual([
      `readings.${key}`,
    ]);
  });
});

describe('nothing is said', () => {
  const high = [observed('final_gravity', 1.03, 0.001)];
  it.each<[string, Kept]>([
    ['before anything of the beer was read', { read: [observed('original_gravity', 1.05, 0.001)] }],
    ['of a batch without yeast', { read: high, ends: null }],
    ['of a keg', { read: high, steps: [{ ...madeFor(1), into: 'keg' }] }],
    [
      'of a batch given up before it was bottled',
      { read: high, readings: { abandoned: { on, why: 'sour' } } },
    ],
    [
      'the same, with a sheet that says so',
      { read: high, readings: { abandoned: { on, why: 'sour' }, packaged: 'not taken' } },
    ],
  ])('%s', (_, of) => {
    expect(found(of)).toEqual([]);
  });

  it('but bottles that were filled before it was given up are still there', () => {
    const packaged = [filled('bottles')];
    expect(codes({ read: high, packaged, readings: { abandoned: { on, why: 'sour' } } })).toHaveLength(1);
  });
});

describe('a finished beer', () => {
  const read = [observed('final_gravity', 1.01, 0.001)];
  const finished = state('finished');

  it('is in danger only from what its instrument cannot show', () => {
    expect(codes({ read, fermentation: finished })).toEqual(['bottle-margin']);
    expect(codes({ read, fermentation: state('still falling') })).toEqual(['bottle-danger']);
    expect(codes({ read, fermentation: null })).toEqual(['bottle-danger']);
  });

  it('is in danger where its sugar alone is too much', () => {
    expect(codes({ read, fermentation: finished, volumes: 3.0 })).toEqual(['bottle-danger']);
    expect(codes({ read, fermentation: finished, volumes: 2.8 })).toEqual(['bottle-margin']);
  });

  it('is told what its instrument cannot show: 3.067 − 2.051 °P are 2.0 volumes, 4.4 in all', () => {
    expect(found({ read, fermentation: finished })).toEqual([
      {
        severity: 'warning',
        code: 'bottle-margin',
        path: ['readings', 'final_gravity'],
        found:
          'finished as far as the instrument shows, but between the far ends of its ranges (1.012 and 1.008) the beer may still give 2 vol: with its sugar up to 4.4 vol, 5.9 bar in a full bottle at 30 °C',
        expected: 'at most 3.7 bar, what bottles for 3 vol stand',
        mend: 'read again after another week, with a finer hydrometer if there is one, use less sugar, or use stronger bottles',
      },
    ]);
  });

  it('once bottled, is watched', () => {
    const [one] = found({ read, fermentation: finished, packaged: [filled('bottles')] });
    expect(one!.mend).toBe('keep the bottles cool and covered, and open one after a week');
  });

  it('not yet bottled and not finished, is not bottled', () => {
    const [one] = found({ read: [observed('final_gravity', 1.02, 0.001)] });
    expect(one!.found).toMatch(/^from 1\.020 the beer may still give /);
    expect(one!.mend).toMatch(/^do not bottle it yet/);
  });
});

describe('bottles against the plan', () => {
  // 2.5, 3 and 3.5 volumes: 2.91, 3.71 and 4.51 bar at 30 °C (Weiss 1974).
  const planned = (steps: readonly PackageStep[], volumes: readonly number[], pressure: Figure | null) =>
    checkBottles(
      sampleBatch({ recipe: sampleRecipe({ packaging: steps }) }),
      brewery,
      targetsOf({
        residual_co2_vol: RESIDUAL,
        ...(pressure === null ? {} : { bottle_pressure_30c_kpa: pressure }),
      }),
      steps.map((step, i) => packedOf(step, volumes[i]!)),
      AMBIENT_kPa,
    ).map(({ code, path }) => `${code} ${pathText(path)}`);
  const liveliest = figure(371, 291, 451);

  it('the one part at the upper bound of its pressure, 4.51 bar', () => {
    expect(planned([madeFor(448, 'kPa')], [3], liveliest)).toEqual([
      'bottle-too-weak recipe.package.carbonation',
    ]);
    expect(planned([madeFor(454, 'kPa')], [3], liveliest)).toEqual([]);
  });

  it('says what they stand, and whether anyone said so', () => {
    const said = (assumed: boolean) =>
      checkBottles(
        sampleBatch({ recipe: sampleRecipe({ packaging: [madeFor(3, 'vol', assumed)] }) }),
        brewery,
        targetsOf({ bottle_pressure_30c_kpa: liveliest }),
        [packedOf(bottle, 3)],
        AMBIENT_kPa,
      ).map(({ found: is, expected }) => [is, expected]);
    expect(said(true)).toEqual([
      ['up to 4.5 bar at 30 °C with 2.3 vol', 'at most 3.7 bar, what bottles for 3 vol stand (assumed)'],
    ]);
    expect(said(false)[0]![1]).toBe('at most 3.7 bar, what bottles for 3 vol stand');
  });

  it('a less lively part at a share of that spread: 2.91 + 0.80 × 2.91 / 3.71 = 3.54 bar', () => {
    const lively = madeFor(1000, 'kPa');
    expect(planned([lively, madeFor(351, 'kPa')], [3, 2.5], liveliest)).toEqual([
      'bottle-too-weak recipe.package[1].carbonation',
    ]);
    expect(planned([lively, madeFor(357, 'kPa')], [3, 2.5], liveliest)).toEqual([]);
  });

  it('where the liveliest is flat, at the upper bound of that', () => {
    expect(planned([madeFor(390, 'kPa')], [0], figure(-10, -20, 400))).toHaveLength(1);
    expect(planned([madeFor(410, 'kPa')], [0], figure(-10, -20, 400))).toEqual([]);
  });

  it('more gas than the law reaches is taken at its end; kegs and unpressed beer are not its business', () => {
    expect(planned([madeFor(3)], [25], liveliest)).toHaveLength(1);
    expect(planned([{ ...madeFor(1), into: 'keg' }], [3], liveliest)).toEqual([]);
    expect(planned([madeFor(1)], [3], null)).toEqual([]);
  });

  it('sugar is not needed below what is left from fermentation, 0.8 volumes', () => {
    const flat = (vol: number): PackageStep => ({ ...madeFor(9), carbonation_vol: given(vol) });
    expect(planned([flat(0.79)], [0.8], liveliest)).toEqual(['gas-already-there recipe.package.carbonation']);
    expect(planned([flat(0.8)], [0.8], liveliest)).toEqual([]);
    expect(planned([{ ...flat(0.79), sugar: null }], [0.8], liveliest)).toEqual([]);
  });
});
