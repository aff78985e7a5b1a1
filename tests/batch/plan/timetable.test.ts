/** The order of the day, its clock, and the amounts as the brewer wrote them. */
import { describe, expect, it } from 'vitest';
import { planBatch } from '../../../lib/batch/plan/plan-batch.ts';
import { PHASES, type TimetableRow } from '../../../lib/batch/types/acts.ts';

import { clockAfter, dayNumber, minutesBetween } from '../../../lib/batch/types/time.ts';
import { randomBatch } from '../random.ts';
import { boilFor, extract, given, grain, hop, sampleBatch, sampleRecipe, sampleSetup } from '../sample.ts';
import { brewery, mashAt, own, planOf, steepAt, worded } from '../sample-plan.ts';

const said = (rows: readonly TimetableRow[]) => worded(rows).map(({ action, what }) => `${action}: ${what}`);

describe('the timetable', () => {
  const plan = planOf(sampleBatch());
  const rows = plan.timetable;
  const inWords = worded(rows);

  it('goes through the day in order, from the day before to the airlock', () => {
    for (let i = 1; i < rows.length; i++) expect(rows[i]!.minute).toBeGreaterThanOrEqual(rows[i - 1]!.minute);
    expect(rows[0]!.minute).toBe(-1440);
    expect(rows.at(-1)).toMatchObject({ phase: 'pitch', action: 'seal' });
    expect([...new Set(rows.map((row) => row.phase))]).toEqual(
      ['gather', 'heat', 'steep', 'heat', 'boil', 'chill', 'read', 'pitch'].filter(
        (p, i, all) => all.indexOf(p) === i,
      ),
    );
    for (const row of rows) expect(PHASES).toContain(row.phase);
  });

  it('steep, boil and chill in the words of the trade', () => {
    const boil = said(rows.filter((row) => row.minute >= 0 && row.phase !== 'pitch' && row.phase !== 'read'));
    expect(
      boil
        .filter((line) =>
          /^(grain in|grain out|stir in|add|flame off|flame on|boil begins|flame out|transfer|top up)/.test(
            line,
          ),
        )
        .map((line) => line.split(':')[0]),
    ).toEqual([
      'flame off',
      'grain in',
      'grain out',
      'flame off',
      'stir in',
      'flame on',
      'boil begins',
      'add',
      'add',
      'flame off',
      'stir in',
      'flame on',
      'flame out',
      'add',
      'transfer',
      'top up',
    ]);
  });

  it('amounts are the brewer’s own words', () => {
    const written = (item: string) =>
      inWords.find((row) => row.items.includes(item) && row.minute >= 0)?.amount;
    expect(written('grain[0]')).toBe('350 g');
    expect(written('extract[1]')).toBe('1100 g');
    expect(written('hops[2]')).toBe('15 g');
    expect(written('yeast[0]')).toBe('11 g');
    expect(inWords.find((row) => row.action === 'boil begins')!.amount).toBe('60 min');
    const odd = planOf(
      sampleBatch({
        recipe: sampleRecipe({
          hops: [hop(28.3495, boilFor(60), { weight_g: given(28.3495, '1 oz, a heap') })],
        }),
      }),
    );
    expect(
      worded(odd.timetable).find((row) => row.items.includes('hops[0]') && row.action === 'add')!.amount,
    ).toBe('1 oz, a heap');
  });

  it('the clock stands still for the countdown while the flame is off, and goes on for the day', () => {
    const begins = rows.find((row) => row.action === 'boil begins')!;
    const out = rows.find((row) => row.action === 'flame out')!;
    const pause = plan.pauses.find((one) => one.minutes_left === 12)!;
    expect(out.minute - begins.minute).toBeCloseTo(60 + pause.minutes, 9);
    expect(plan.pauses.map((one) => one.minutes_left)).toEqual([60, 12]);
    expect(out.minutes_left).toBe(0);
    // 1.1 kg of syrup (79 °P: 2.4 to 2.6 kJ/(kg K)) from 20 to 100 °C with 1.5 kW: 2.3 to 2.6 min; 3 to stir.
    expect(pause.minutes).toBeGreaterThan(5);
    expect(pause.minutes).toBeLessThan(6);
  });

  it('the countdown evaporates nothing in its pauses: sixty minutes take 2.5 L whatever the heat', () => {
    const weak = planOf(sampleBatch({ setup: sampleSetup({ heat_kW: own(0.6) }) }));
    expect(weak.kettle).toEqual(plan.kettle);
    expect(weak.pauses[1]!.minutes).toBeGreaterThan(plan.pauses[1]!.minutes);
  });

  it('a kettle put on at 23:45 is pitched after midnight, on the clock', () => {
    const late = planOf(sampleBatch({ start: '23:45' }));
    const on = late.timetable.find((row) => row.minute === 0 && row.clock !== null)!;
    expect(on.clock).toBe('23:45');
    const begins = late.timetable.find((row) => row.action === 'boil begins')!;
    expect(minutesBetween('23:45', begins.clock!)).toBe(Math.round(begins.minute));
    expect(begins.clock! < '06:00').toBe(true);
    expect(late.timetable.filter((row) => row.minute < 0).every((row) => row.clock === null)).toBe(true);
    expect(planOf(sampleBatch({ start: null })).timetable.every((row) => row.clock === null)).toBe(true);
  });

  it('mash first, then its rinse, then the steep', () => {
    const recipe = sampleRecipe({
      mash: mashAt(66, 3),
      rinse_L: given(1, '1 L'),
      steep: steepAt(70, 2),
      grain: [grain(1500, { in: 'mash', name: 'pale malt' }), grain(200)],
      extract: [extract(1000)],
    });
    const { timetable, targets } = planOf(sampleBatch({ recipe }));
    const lines = said(timetable);
    const at = (line: string) => lines.findIndex((one) => one.startsWith(line));
    expect(at('grain in: pale malt')).toBeLessThan(at('rinse'));
    expect(at('rinse')).toBeLessThan(at('fill: water for the steep'));
    expect(at('fill: water for the steep')).toBeLessThan(at('grain in: crystal malt 150'));
    const filled = worded(timetable)
      .filter((row) => row.action === 'fill')
      .map((row) => row.amount);
    // 4.5 L of mash, 1 L of rinse, 2 L of steep water; the rest straight into the kettle.
    const rest = targets.water_to_heat_l!.value - 7.5;
    expect(filled).toEqual(['4.5 L', '2 L', `${rest.toFixed(1).replace(/\.0$/, '')} L`]);
  });

  it('a rinse without a mash goes over the steeped grain, and is part of the water', () => {
    const recipe = sampleRecipe({ rinse_L: given(2, '2 L') });
    const { timetable, targets } = planOf(sampleBatch({ recipe }));
    expect(worded(timetable).find((row) => row.action === 'rinse')).toMatchObject({
      phase: 'steep',
      amount: '2 L',
    });
    const soak = worded(timetable).find((row) => row.action === 'fill')!;
    expect(Number.parseFloat(soak.amount!)).toBeCloseTo(targets.water_to_heat_l!.value - 2, 1);
  });

  it('with 0 min left an addition is one at flame-out, and the flame stays off', () => {
    const recipe = sampleRecipe({
      extract: [extract(1500), extract(500, { add: boilFor(0) })],
      hops: [hop(10, boilFor(0))],
    });
    const { timetable } = planOf(sampleBatch({ recipe }));
    const out = timetable.findIndex((row) => row.action === 'flame out');
    const after = timetable.slice(out);
    expect(
      after.filter((row) => row.items.length > 0 && row.phase === 'boil').map((row) => row.items[0]?.path),
    ).toEqual(['extract[1]', 'hops[0]']);
    expect(after.some((row) => row.action === 'flame on')).toBe(false);
  });

  it('extract as first wort is in the kettle while it heats: no pause, a longer way to the boil', () => {
    const early = planOf(
      sampleBatch({ recipe: sampleRecipe({ extract: [extract(1500, { add: { at: 'first wort' } })] }) }),
    );
    const start = planOf(sampleBatch({ recipe: sampleRecipe({ extract: [extract(1500)] }) }));
    expect(early.pauses).toEqual([]);
    expect(start.pauses).toHaveLength(1);
    expect(early.targets.minutes_to_boil!.value - start.targets.minutes_to_boil!.value).toBeCloseTo(
      start.targets.minutes_back_to_boil!.value,
      6,
    );
  });

  it('keeps its order whatever the recipe', () => {
    let plans = 0;
    for (let seed = 1; seed <= 400; seed++) {
      const result = planBatch(randomBatch(seed).batch, brewery);
      if (!result.ok) continue;
      plans++;
      const { timetable } = result.plan;
      for (let i = 1; i < timetable.length; i++) {
        if (timetable[i]!.minute < timetable[i - 1]!.minute - 1e-9)
          throw new Error(`${seed}: row ${i} goes back`);
      }
      const counted = timetable.filter((row) => row.minutes_left !== null).map((row) => row.minutes_left!);
      expect(counted, `seed ${seed}`).toEqual([...counted].sort((a, b) => b - a));
    }
    expect(plans).toBeGreaterThan(150);
  });
});

describe('kitchen clock and calendar', () => {
  it.each([
    ['13:30', 45, '14:15'],
    ['23:45', 30, '00:15'],
    ['00:10', -20, '23:50'],
    ['12:00', 1440, '12:00'],
  ])('%s and %i min is %s', (clock, minutes, later) => {
    expect(clockAfter(clock, minutes)).toBe(later);
  });

  it('a clock earlier than the one before it is the next day', () => {
    expect(minutesBetween('23:30', '00:15')).toBe(45);
    expect(minutesBetween('13:30', '14:00')).toBe(30);
    expect(dayNumber('2026-03-01') - dayNumber('2026-02-28')).toBe(1);
    expect(dayNumber('2026-03-01', '12:00') - dayNumber('2026-03-01')).toBe(0.5);
  });
});
