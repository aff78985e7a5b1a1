/** What the fitted curve lets expect, in words, and what the calendar makes of it. */
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import type { Fermentation, FermentationCurve, Plan } from '../../lib/batch/types/plan.ts';
import { batchCalendar } from '../../lib/words/calendar.ts';
import { expectedWords } from '../../lib/words/ferment-words.ts';
import { extract, given, sampleBatch, sampleRecipe } from '../batch/sample.ts';
import { brewery, planOf } from '../batch/sample-plan.ts';

const reading = (day: number, gravity: number, outlier = false) => ({
  key: `fermentation[${day}].gravity`,
  day,
  gravity,
  u: 0.001,
  outlier,
});

const CURVE: FermentationCurve = {
  model: 'published',
  pitched: '2026-11-14 16:22',
  readings: [reading(0, 1.045), reading(4, 1.02), reading(9, 1.014)],
  end_gravity: { value: 1.0124, low: 1.0101, high: 1.0147, printed: { low: 1.01, high: 1.016 } },
  end_day: { expected: '2026-11-28', earliest: '2026-11-26', latest: '2026-12-02' },
  points: [
    { day: 0, gravity: 1.045, low: 1.043, high: 1.047 },
    { day: 9, gravity: 1.014, low: 1.013, high: 1.015 },
    { day: 19, gravity: 1.0125, low: 1.01, high: 1.015 },
  ],
};
const FALLING: Fermentation = { state: 'still falling', next: '2026-11-26', as_of: null };

function words(over: Partial<FermentationCurve>, state: Fermentation['state'], batch = sampleBatch()) {
  const plan = {
    fermentation: { ...FALLING, state },
    fermentation_curve: { ...CURVE, ...over },
    readings: { 'fermentation[4].gravity': { value: 1.02 } },
  } as unknown as Plan;
  const said = expectedWords(batch, plan, 'en-GB');
  return said && { lead: said.lead.replaceAll('\u00a0', ' '), more: said.more.replaceAll('\u00a0', ' ') };
}

describe('in words', () => {
  it('where and when, between which days, and that the curve does not allow to package', () => {
    expect(words({}, 'still falling')).toEqual({
      lead: 'About 1.012 (1.010 to 1.016) by 28 Nov 2026 (between 26 Nov and 2 Dec 2026).',
      more: 'The curve says when to look, not when to package: it has finished when readings agree.',
    });
  });

  it.each<[string, Partial<FermentationCurve>, Fermentation['state'], string]>([
    [
      'the year of both days where it changes between them',
      { end_day: { expected: '2026-12-30', earliest: '2026-12-28', latest: '2027-01-03' } },
      'too few readings',
      'About 1.012 (1.010 to 1.016) by 30 Dec 2026 (between 28 Dec 2026 and 3 Jan 2027).',
    ],
    [
      'one day alone where the range is no longer',
      { end_day: { expected: '2026-11-28', earliest: '2026-11-28', latest: '2026-11-28' } },
      'still falling',
      'About 1.012 (1.010 to 1.016) by 28 Nov 2026.',
    ],
    [
      'no day where the readings do not tell one',
      { end_day: null },
      'still falling',
      'About 1.012 (1.010 to 1.016) in the end; the readings do not show yet on which day.',
    ],
    [
      'no day that is past while it has not finished',
      { end_day: { expected: '2026-11-22', earliest: '2026-11-20', latest: '2026-11-27' } },
      'too few readings',
      'By the curve it is nearly at its end: about 1.012 (1.010 to 1.016), by 27 Nov 2026 at the latest.',
    ],
    [
      'no day at all where even the latest is past',
      { end_day: { expected: '2026-11-20', earliest: '2026-11-19', latest: '2026-11-22' } },
      'too few readings',
      'By the curve it is nearly at its end: about 1.012 (1.010 to 1.016).',
    ],
    [
      'no day to wait for where it stopped high',
      {},
      'stopped high',
      'By the curve it levels out at about 1.012 (1.010 to 1.016).',
    ],
    [
      'when it came there, once it has finished',
      {},
      'finished',
      'By the curve it reached about 1.012 (1.010 to 1.016) by 28 Nov 2026 (between 26 Nov and 2 Dec 2026).',
    ],
    [
      'a finished beer without a day',
      { end_day: null },
      'finished',
      'By the curve it reached about 1.012 (1.010 to 1.016).',
    ],
  ])('%s', (_, over, state, lead) => {
    expect(words(over, state)?.lead).toBe(lead);
  });

  it('only once it is over is there nothing to warn of', () => {
    for (const state of ['finished', 'stopped high'] as const) expect(words({}, state)?.more).toBe('');
    const packaged = [
      {
        on: { date: '2026-12-01', clock: null },
        into: null,
        volume: null,
        temperature_C: null,
        sugar_g: null,
        bottles: null,
      },
    ];
    const closed = words({}, 'still falling', sampleBatch({ readings: { packaged } }));
    expect(closed?.more).toBe('');
    expect(closed?.lead).toMatch(/^By the curve it reached/);
    const open = words({}, 'still falling', sampleBatch({ readings: { packaged: 'not taken' } }));
    expect(open?.lead).toMatch(/^About/);
    expect(words({}, 'too few readings')?.more).toMatch(/not when to package/);
  });

  it('names a reading that hardly counts', () => {
    const readings = [reading(0, 1.045), reading(4, 1.02, true), reading(9, 1.014)];
    expect(words({ readings }, 'finished')?.more).toBe(
      'The reading of 18 Nov 2026, 1.020, is far from the curve and hardly counts in it: check the figure.',
    );
  });

  it('says so where sugar goes in on the way', () => {
    const sugar = { ...extract(200), kind: 'sugar', add: { at: 'fermenter', day: 3 } } as const;
    const batch = sampleBatch({ recipe: sampleRecipe({ sugar: [sugar] }) });
    expect(words({}, 'finished', batch)?.more).toBe(
      'Sugar that is added later raises the gravity again; the curve does not show that.',
    );
  });
});

describe('in the calendar', () => {
  const ferment = (days: number, t_C = 19) =>
    [{ temperature_C: given(t_C), time_min: given(days * 1440) }] as never;
  function entries(days: number, more: Partial<Plan> = {}, t_C = 19): Record<string, string> {
    const batch = sampleBatch({
      brewed: '2026-11-14',
      recipe: sampleRecipe({ ferment: ferment(days, t_C) }),
      readings: {},
    });
    const plan = { ...planOf(batch), fermentation: FALLING, fermentation_curve: CURVE, ...more };
    const calendar = new ICAL.Component(ICAL.parse(batchCalendar(batch, plan, null, brewery)!));
    return Object.fromEntries(
      calendar.getAllSubcomponents('vevent').map((component) => {
        const { uid, startDate } = new ICAL.Event(component);
        return [uid.split('@')[0]!.replace(`${batch.slug}-`, ''), startDate.toString()];
      }),
    );
  }

  it('packaging comes no earlier than three flat days after the latest day of the curve', () => {
    // Planned for the 28th; by 2 December at the latest no fall shows, and three days must agree.
    expect(entries(14).packaging).toBe('2026-12-05');
    expect(entries(30).packaging).toBe('2026-12-14');
    // Seven in the cold.
    expect(entries(14, {}, 10).packaging).toBe('2026-12-09');
  });

  it('packaging comes no earlier than the reading that is due', () => {
    const late = { fermentation: { ...FALLING, next: '2026-12-10' } };
    expect(entries(14, late).packaging).toBe('2026-12-10');
    expect(entries(14, { ...late, fermentation_curve: { ...CURVE, end_day: null } }).packaging).toBe(
      '2026-12-10',
    );
  });
});
