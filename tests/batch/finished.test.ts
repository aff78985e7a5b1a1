/** When a beer is finished, and when bottles are not safe. */
import { describe, expect, it } from 'vitest';
import type { Fermentation } from '../../lib/batch/types/plan.ts';
import type { FermentationRow, Readings } from '../../lib/batch/types/readings.ts';
import type { PackageStep } from '../../lib/batch/types/recipe.ts';
import { given, sampleBatch, sampleRecipe, sampleSetup } from './sample.ts';
import { own, planOf } from './sample-plan.ts';
import { litres, sg } from './sample-readings.ts';

/** `1.018 on the 18th at 08:00, 19 °C`. */
const row = (
  day: number,
  gravity: number | null,
  clock: string | null = null,
  t_C: number | null = null,
): FermentationRow => ({
  on: { date: `2026-02-${String(day).padStart(2, '0')}`, clock },
  gravity: gravity === null ? null : sg(gravity),
  temperature_C: t_C === null ? null : given(t_C),
  note: null,
});
const logged = (
  rows: readonly FermentationRow[],
  more: Readings = {},
  over: Parameters<typeof sampleRecipe>[0] = {},
) => planOf(sampleBatch({ readings: { fermentation: rows, ...more }, recipe: sampleRecipe(over) }));
const stateOf = (...rows: FermentationRow[]): Fermentation => logged(rows).fermentation!;

describe('finished', () => {
  // The sample ends at about 1.011; a hydrometer of 0.002 steps, so that changes up to 0.002 do not show.
  it('the range that these tests stand on', () => {
    expect(planOf(sampleBatch()).targets.final_gravity!.printed).toEqual({ low: 1.006, high: 1.014 });
  });

  it.each<[string, FermentationRow[], Fermentation['state'], string | null]>([
    ['one reading, however low', [row(18, 1.011)], 'too few readings', '2026-02-21'],
    ['a fall of seven points', [row(18, 1.018), row(22, 1.011)], 'still falling', '2026-02-25'],
    ['no fall over two days', [row(20, 1.011), row(22, 1.011)], 'too few readings', '2026-02-23'],
    ['no fall over three days, in the range', [row(19, 1.011), row(22, 1.011)], 'finished', null],
    ['a fall that a step of 0.002 does not show', [row(19, 1.013), row(22, 1.011)], 'finished', null],
    ['one that it does', [row(19, 1.0135), row(22, 1.011)], 'still falling', '2026-02-25'],
    [
      'not quite three days by the clock',
      [row(19, 1.011, '18:00'), row(22, 1.011, '08:00')],
      'too few readings',
      '2026-02-23',
    ],
    ['three days to the minute', [row(19, 1.011, '18:00'), row(22, 1.011, '18:00')], 'finished', null],
    ['flat above the range', [row(19, 1.018), row(22, 1.018)], 'stopped high', '2026-02-25'],
    ['just inside the range', [row(19, 1.014), row(22, 1.014)], 'finished', null],
    [
      'flat below the range for three days',
      [row(19, 1.004), row(22, 1.004)],
      'too few readings',
      '2026-02-25',
    ],
    ['flat below the range for six', [row(19, 1.004), row(25, 1.004)], 'finished', null],
    [
      'cold: three days are not enough',
      [row(19, 1.011, null, 12), row(22, 1.011, null, 12)],
      'too few readings',
      '2026-02-26',
    ],
    ['cold: seven are', [row(15, 1.011, null, 12), row(22, 1.011, null, 12)], 'finished', null],
    ['a fall, then flat for three days', [row(16, 1.03), row(19, 1.012), row(22, 1.011)], 'finished', null],
    [
      'a slow fall, each day within a step',
      [row(19, 1.016), row(20, 1.0145), row(21, 1.013), row(22, 1.0115)],
      'too few readings',
      '2026-02-24',
    ],
    ['a rise, which no beer shows', [row(19, 1.011), row(22, 1.015)], 'too few readings', '2026-02-23'],
    ['rows out of order', [row(22, 1.011), row(19, 1.011)], 'finished', null],
    ['rows without a gravity', [row(19, null), row(22, null)], 'too few readings', null],
  ])('%s', (_, rows, state, next) => {
    expect(stateOf(...rows)).toMatchObject({ state, next });
  });

  it('says in words what to do', () => {
    expect(stateOf(row(18, 1.011)).words).toBe(
      'One reading, 1.011, says nothing of a fall. Read again in 3 days; do not package on one reading.',
    );
    expect(stateOf(row(18, 1.018), row(22, 1.011)).words).toBe(
      'Still falling: 1.011 after 1.018. Leave it closed and read again in 3 days; do not package it.',
    );
    expect(stateOf(row(19, 1.011), row(22, 1.011)).words).toBe(
      'Finished: 1.011, no fall that shows over 3 days, inside the expected 1.006 to 1.014.',
    );
    expect(stateOf(row(19, 1.018), row(22, 1.018)).words).toMatch(
      /^Stopped high: 1\.018 over 3 days.*Do not package it\./,
    );
    expect(stateOf(row(19, 1.011), row(20, 1.011)).words).toBe(
      'No fall that shows over 1 day, but 3 days are needed. Read again in 2 days.',
    );
  });

  it('given up without a log: no verdict at all', () => {
    const abandoned = { on: { date: '2026-02-20', clock: null }, why: 'vinegar' };
    expect(planOf(sampleBatch({ readings: { abandoned } })).fermentation).toBeNull();
  });

  it('not taken is no log of readings, and says so', () => {
    expect(planOf(sampleBatch({ readings: { fermentation: 'not taken' } })).fermentation).toEqual({
      state: 'too few readings',
      words: 'No gravity has been read yet. Read one once the foam has fallen.',
      next: null,
    });
  });

  it('packaging that was not taken down is no packaging', () => {
    expect(logged([row(18, 1.011)], { packaged: 'not taken' }).fermentation!.next).toBe('2026-02-21');
  });

  it('finished and packaged: no word of danger', () => {
    const packaged = [
      {
        on: { date: '2026-02-22', clock: null },
        into: null,
        volume: null,
        temperature_C: null,
        sugar_g: null,
        bottles: null,
      },
    ];
    const { words } = logged([row(19, 1.011), row(22, 1.011)], { packaged }).fermentation!;
    expect(words).toBe(
      'Finished: 1.011, no fall that shows over 3 days, inside the expected 1.006 to 1.014.',
    );
  });

  it('whole days count where one of the two was not timed', () => {
    expect(stateOf(row(19, 1.011, '18:00'), row(22, 1.011)).state).toBe('finished');
    expect(stateOf(row(19, 1.011), row(22, 1.011, '08:00')).state).toBe('finished');
  });

  it('one cold reading makes it a cold beer; 15 °C is not cold', () => {
    expect(stateOf(row(19, 1.011, null, 18), row(22, 1.011, null, 14.9)).state).toBe('too few readings');
    expect(stateOf(row(19, 1.011, null, 15), row(22, 1.011, null, 15)).state).toBe('finished');
  });

  it('a less sure reading in the run widens what cannot be seen', () => {
    const vague = { ...row(19, 1.014), gravity: { ...sg(1.014), u: 0.002 } };
    expect(stateOf(vague, row(22, 1.011)).state).toBe('finished');
    expect(stateOf(row(19, 1.014), row(22, 1.011)).state).toBe('still falling');
  });

  it('the planned step of the day counts: warm at first, then cold', () => {
    // Brewed on 14 February: five days at 19 °C, then at 12.
    const ferment = [
      { temperature_C: given(19), time_min: given(5 * 1440) },
      { temperature_C: given(12), time_min: given(20 * 1440) },
    ] as never;
    expect(logged([row(15, 1.011), row(18, 1.011)], {}, { ferment }).fermentation!.state).toBe('finished');
    expect(logged([row(16, 1.011), row(19, 1.011)], {}, { ferment }).fermentation!.state).toBe(
      'too few readings',
    );
    // Beyond the last step its temperature stays.
    const short = [{ temperature_C: given(12), time_min: given(1440) }] as never;
    expect(logged([row(19, 1.011), row(22, 1.011)], {}, { ferment: short }).fermentation!.state).toBe(
      'too few readings',
    );
    // Without steps the middle of the yeast's band, 19 °C.
    expect(logged([row(19, 1.011), row(22, 1.011)], {}, { ferment: [] }).fermentation!.state).toBe(
      'finished',
    );
  });

  it('says why, where readings rise or end below what is expected', () => {
    expect(stateOf(row(19, 1.011), row(22, 1.015)).words).toBe(
      'The last two readings disagree: 1.015 after 1.011, and a gravity does not rise. Read again, with the sample stirred free of gas.',
    );
    expect(stateOf(row(19, 1.004), row(22, 1.004)).words).toBe(
      'No fall that shows over 3 days, but 6 days are needed, twice as long as usual because it is below the expected 1.006 to 1.014. Read again in 3 days.',
    );
    expect(stateOf(row(19, 1.004), row(25, 1.004)).words).toBe(
      'Finished: 1.004, no fall that shows over 6 days, below the expected 1.006 to 1.014.',
    );
    expect(stateOf(row(19, 1.006), row(22, 1.006)).state).toBe('finished');
  });

  it('the planned temperature counts where none was read', () => {
    const ferment = [{ temperature_C: given(12), time_min: given(30 * 1440) }] as never;
    expect(logged([row(19, 1.011), row(22, 1.011)], {}, { ferment }).fermentation!.state).toBe(
      'too few readings',
    );
  });

  it('a finer hydrometer shows more', () => {
    const hydrometer = { at_C: own(20), step: 0.001, u: 0.0005, assumed: false };
    const batch = sampleBatch({
      setup: sampleSetup({ hydrometer }),
      readings: { fermentation: [row(19, 1.013), row(22, 1.011)] },
    });
    expect(planOf(batch).fermentation!.state).toBe('still falling');
  });

  it('packaged all the same: no next reading, and what to do with the bottles', () => {
    const packaged = [
      {
        on: { date: '2026-02-22', clock: null },
        into: null,
        volume: null,
        temperature_C: null,
        sugar_g: null,
        bottles: null,
      },
    ];
    const { next, words } = logged([row(18, 1.018), row(22, 1.013)], { packaged }).fermentation!;
    expect(next).toBeNull();
    expect(words).toMatch(/packaged all the same: keep bottles cold and covered/);
  });

  it('given up is given up: no next reading, and no word of bottles that never were', () => {
    const abandoned = { on: { date: '2026-02-20', clock: null }, why: 'vinegar' };
    const plan = logged([row(18, 1.03)], { abandoned });
    expect(plan.fermentation).toEqual({
      state: 'given up',
      words: 'Given up on 2026-02-20: vinegar',
      next: null,
    });
    expect(plan.warnings.filter(({ code }) => code.startsWith('bottle-'))).toEqual([]);
  });

  it('no log, no verdict', () => {
    expect(planOf(sampleBatch()).fermentation).toBeNull();
    expect(planOf(sampleBatch({ readings: { original_gravity: sg(1.044) } })).fermentation).toBeNull();
  });
});

describe('bottles, once gravities are read', () => {
  const step = sampleRecipe().packaging[0]!;
  const bottlesFor = (value: number, unit: 'vol' | 'kPa' = 'vol'): PackageStep => ({
    ...step,
    limit: { unit, value, written: `${value} ${unit}`, assumed: false },
  });
  const codes = (readings: Readings, part: PackageStep = step) =>
    planOf(sampleBatch({ readings, recipe: sampleRecipe({ packaging: [part] }) }))
      .warnings.filter(({ code }) => code.startsWith('bottle-'))
      .map(({ code, key }) => `${code} ${key}`);
  const flat = [row(19, 1.011), row(22, 1.011)];
  const packed = (sugar_g: number, volume_L = 18): Readings => ({
    packaged: [
      {
        on: { date: '2026-02-24', clock: null },
        into: null,
        volume: litres(volume_L),
        temperature_C: null,
        sugar_g: given(sugar_g),
        bottles: null,
      },
    ],
  });

  it('without readings the planned carbonation alone is held against the limit', () => {
    expect(codes({})).toEqual([]);
    expect(codes({}, bottlesFor(2.3))).toEqual(['bottle-too-weak recipe.package.carbonation']);
    expect(codes({ original_gravity: sg(1.044) })).toEqual([]);
  });

  it('ten points too high: five volumes are still to come, danger even in heavy bottles', () => {
    expect(codes({ final_gravity: sg(1.02) }, bottlesFor(4.5))).toContain(
      'bottle-danger readings.final_gravity',
    );
    expect(codes({ fermentation: [row(18, 1.02)] }, bottlesFor(4.5))).toContain(
      'bottle-danger readings.fermentation[0].gravity',
    );
  });

  it('at the expected gravity but on one reading: what the hydrometer cannot show still counts', () => {
    expect(codes({ final_gravity: sg(1.011) })).toEqual(['bottle-danger readings.final_gravity']);
  });

  it('finished, but with a coarse hydrometer: a margin, said in other words', () => {
    expect(codes({ fermentation: flat, final_gravity: sg(1.011) })).toEqual([
      'bottle-margin readings.final_gravity',
    ]);
  });

  it('finished, in bottles that stand whatever could come', () => {
    expect(codes({ fermentation: flat, final_gravity: sg(1.011), ...packed(100) }, bottlesFor(7))).toEqual(
      [],
    );
  });

  it('a fall too small to see is never counted as none, not even below the expected range', () => {
    // Below the range nothing is left to the expected gravity; two standard uncertainties, 0.002, are: a volume.
    const low = [row(10, 1.004), row(22, 1.004)];
    const at = (limit: number) =>
      codes({ fermentation: low, final_gravity: sg(1.004), ...packed(100) }, bottlesFor(limit));
    // Residual and sugar at worst: 0.87 + 102 × 0.5143 / (17.5 × 1.9768) = 2.4 vol; with the fall 3.4.
    expect(at(2.9)).toContain('bottle-margin readings.final_gravity');
    expect(at(4)).toEqual([]);
  });

  it('too much sugar is danger in any state', () => {
    expect(codes({ fermentation: flat, final_gravity: sg(1.011), ...packed(250) })).toContain(
      'bottle-danger readings.final_gravity',
    );
  });

  it('says what was found, what the bottles stand, and what to do', () => {
    const message = (readings: Readings) =>
      planOf(sampleBatch({ readings })).warnings.find(({ code }) => code === 'bottle-danger')!.message;
    expect(message({ final_gravity: sg(1.02) })).toMatch(
      /^from 1\.020 the beer may still give [\d.]+ vol: with its sugar up to [\d.]+ vol, [\d.]+ bar in a full bottle at 30 °C; expected at most 3\.7 bar, what bottles for 3 vol stand; do not bottle it yet/,
    );
    expect(message({ final_gravity: sg(1.02), ...packed(100) })).toMatch(
      /these bottles may burst: .*gloves and eye protection/,
    );
  });

  it('a limit stated as a pressure is held to as one', () => {
    // 2.3 vol with a fall of at least 0.002 at 30 °C is above 3 bar; 20 bar stand anything here.
    expect(codes({ final_gravity: sg(1.011) }, bottlesFor(300, 'kPa'))).toContain(
      'bottle-danger readings.final_gravity',
    );
    expect(codes({ final_gravity: sg(1.011) }, bottlesFor(2000, 'kPa'))).toEqual([]);
  });

  it('kegs are let off by their valve: no warning of bottles', () => {
    expect(codes({ final_gravity: sg(1.02) }, { ...step, into: 'keg', sugar: null, bottle_L: null })).toEqual(
      [],
    );
  });

  it('the numbers: 1.020 read, 1.006 expected at worst', () => {
    const plan = planOf(sampleBatch({ readings: { final_gravity: sg(1.02) } }));
    const message = plan.warnings.find(({ code }) => code === 'bottle-danger')!.message;
    const toCome = Number(/still give ([\d.]+) vol/.exec(message)![1]);
    // Upper bound 1.022 to the lower bound of the plan, about half a volume a point.
    const points = (1.022 - plan.targets.final_gravity!.low) * 1000;
    expect(Math.abs(toCome / (0.5 * points) - 1)).toBeLessThan(0.05);
  });
});
