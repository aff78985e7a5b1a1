import { readdirSync, readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { READINGS } from '../../lib/batch/types/readings.ts';
import { changesOf } from '../../lib/key-in/changes.ts';
import { checkTyped } from '../../lib/key-in/check.ts';
import { complete } from '../../lib/key-in/complete.ts';
import { correctedGravity } from '../../lib/key-in/corrected.ts';
import { completeMoment, dateContextOf } from '../../lib/key-in/dates.ts';
import { doubtsOf } from '../../lib/key-in/doubts.ts';
import { type Blank, blanksOf, type Raw } from '../../lib/key-in/key-in.ts';
import { lineOf, partsOf } from '../../lib/key-in/parts.ts';
import { loadSite } from '../../lib/site/archive.ts';
import { beginSession, doubtContext, readKit, type Session } from '../../lib/site/key-in/session.ts';
import { publish } from '../../lib/site/site.ts';

const kit = await readKit('content');
const METRIC = { units: 'metric', language: 'en' } as const;
const ctx = dateContextOf({ brewed: '2026-02-14', start: null }, METRIC);

function opened(slug: string): Session {
  const begun = beginSession(kit, slug);
  if (!begun.ok) throw new Error(begun.why);
  return begun.session;
}

const fresh = opened('twelfth-night-old');
const blank = (key: string, session = fresh): Blank => {
  const found = session.blanks.find((each) => each.key === key);
  if (found === undefined) throw new Error(key);
  return found;
};
const text = (key: string, line: string) => {
  const read = complete(blank(key), line, ctx);
  return read.ok ? read.value : `offers ${read.offers.join(' or ') || 'nothing'}`;
};

describe('what is typed into a blank', () => {
  it.each([
    ['original_gravity', '1,049 @ 24', '1.049 @ 24 °C'],
    ['original_gravity', '1.049 @ 75 °F', '1.049 @ 75 °F'],
    ['original_gravity', '12,1 °P', '12.1 °P'],
    ['original_gravity', '11.8 Bx', '11.8 Bx'],
    ['original_gravity', '1.049 SG @ 24', '1.049 @ 24 °C'],
    ['original_gravity', '1054', 'offers 1.054'],
    ['original_gravity', '1054 @ 24', 'offers 1.054 @ 24 °C'],
    ['original_gravity', '54', 'offers 1.054'],
    ['original_gravity', 'high', 'offers nothing'],
    ['final_gravity', '0,998', '0.998'],
    ['fermenter_volume', '18,75', '18.75 L'],
    ['fermenter_volume', '5 us gal', '5 us gal'],
    ['fermenter_volume', '5 gal', 'offers 5 us gal or 5 imp gal'],
    ['boil_end_volume', '9,7 L @ 60 °C', '9.7 L @ 60 °C'],
    ['steep_temperature', '153 F', '153 F'],
    ['steep_temperature', '67', '67 °C'],
    ['steep_temperature', '670', 'offers nothing'],
    ['packaged[0].bottles', '36', '36'],
    ['packaged[0].bottles', '36.5', 'offers nothing'],
    ['packaged[0].sugar', '105', '105 g'],
    ['pitched.yeast', '11', '11 g'],
    ['heating_started', '1435', '14:35'],
    ['heating_started', '905', '9:05'.padStart(5, '0')],
    ['heating_started', '14.35', '14:35'],
    ['heating_started', '2 pm', '14:00'],
    ['heating_started', '2535', 'offers nothing'],
    ['tasted[0].score', '3,5', '3.5'],
    ['tasted[0].score', '4½', '4.5'],
    ['tasted[0].score', '6', 'offers nothing'],
    ['fermentation[0].note', ' a\tnote ', 'a note'],
    ['boil_start_gravity', 'Not taken', 'not taken'],
    ['boil_start_gravity', 'left out', 'offers nothing'],
    ['additions[0].clock', 'Left out', 'left out'],
    ['fermentation[0].on', 'not taken', 'offers nothing'],
    ['original_gravity', '', ''],
  ])('%s: %j becomes %j', (key, line, expected) => {
    expect(text(key, line)).toBe(expected);
  });

  it.each([
    ['14 Feb', '2026-02-14'],
    ['14 Feb 1720', '2026-02-14 17:20'],
    ['Feb 14, 5:20 PM', '2026-02-14 17:20'],
    ['14.2. 17:20', '2026-02-14 17:20'],
    ['14.2.2027 17.20', '2027-02-14 17:20'],
    ['2026-2-3', '2026-02-03'],
    ['16', '2026-02-16'],
    ['3', '2026-03-03'],
    ['3 Jan', '2027-01-03'],
    ['31 2 2026', 'date-not-real'],
    ['14 Foo', 'date-form'],
  ])('the day %j is %s for a batch brewed on 2026-02-14', (line, expected) => {
    const read = completeMoment(line, ctx);
    expect(read.ok ? read.value : read.code).toBe(expected);
  });

  it('a day in two numbers is asked again where it can be read both ways', () => {
    const read = completeMoment('2/3', { ...ctx, units: 'us' });
    expect(read.ok ? read.value : read.mend).toMatch(/letters/);
  });
});

describe('every reading of the demo archive', () => {
  const slugs = readdirSync('content/batches').map((name) => name.replace('.md', ''));
  it('comes apart for the form and together again as it was written', () => {
    let ran = 0;
    for (const slug of slugs) {
      const { blanks, batch } = opened(slug);
      for (const each of blanks.filter(({ now }) => now !== '')) {
        ran++;
        expect([slug, each.key, lineOf(each, partsOf(each, each.now))]).toEqual([slug, each.key, each.now]);
        // What is complete is completed to itself: the server reads again what the form has read.
        const ctx = dateContextOf(batch, METRIC);
        expect([slug, each.key, complete(each, each.now, ctx)]).toEqual([
          slug,
          each.key,
          { ok: true, value: each.now },
        ]);
      }
    }
    expect(ran).toBeGreaterThan(400);
  });

  it('is what the form without a server starts from', async () => {
    const site = publish((await loadSite('content')).content);
    for (const slug of slugs) {
      const file = readFileSync(`content/batches/${slug}.md`, 'utf8');
      const written =
        parse(/^---\n([\s\S]*?\n)---/.exec(file)?.[1] ?? '', { schema: 'failsafe' }).readings ?? {};
      // A batch that is not published has no form there, and none of its readings.
      const shown = site.bySlug.get(slug)?.batch.publish === 'all';
      expect([slug, site.rawOf(slug)]).toEqual([slug, shown ? { readings: written } : {}]);
    }
  });

  it('is written again as nothing, and raises no doubt', () => {
    for (const slug of slugs) {
      const session = opened(slug);
      const { answers, faults } = checkTyped(
        session.blanks,
        { lines: new Map(session.blanks.map(({ key, now }) => [key, now])) },
        ctx,
      );
      expect([slug, faults, changesOf(session.raw, session.blanks, answers)]).toEqual([slug, [], []]);
      expect(doubtsOf(session.blanks, answers, doubtContext(session, null))).toEqual([]);
    }
  });
});

describe('a gravity that few hydrometers reach', () => {
  const { batch, plan } = fresh;
  const gravity = plan.targets.boil_end_gravity!;
  const blankOf = (value: number, raw: Raw = {}) =>
    blanksOf(batch, raw, 'metric', undefined, {
      ...plan.targets,
      boil_end_gravity: { ...gravity, value },
    }).find(({ key }) => key === 'boil_end_gravity');

  it('is not asked for, on paper or in the form; what the file has of it is in the form alone', () => {
    expect(blankOf(1.1)?.onPaper).toBe(true);
    expect(blankOf(1.101)).toBeUndefined();
    expect(blankOf(1.101, { readings: { boil_end_gravity: '1.104' } })?.onPaper).toBe(false);
  });
});

describe('a blank with a figure in it', () => {
  const stored = { ...blank('original_gravity'), now: '1.044 @ 24 °C' };
  const parts = partsOf(stored, stored.now);

  it('and a tick was not taken; without it the figure is back', () => {
    expect(lineOf(stored, { ...parts, word: 'not taken' })).toBe('not taken');
    expect(lineOf(stored, parts)).toBe('1.044 @ 24 °C');
  });

  it('that is emptied goes with the temperature of its sample, a new temperature alone is none', () => {
    expect(lineOf(stored, { ...parts, value: '' })).toBe('');
    const alone = lineOf({ ...stored, now: '' }, { ...parts, value: '', sample: '24' });
    expect(complete(stored, alone, ctx).ok).toBe(false);
  });
});

describe('answers together', () => {
  const keyed = (lines: Readonly<Record<string, string>>, session = fresh) =>
    checkTyped(
      session.blanks,
      { lines: new Map(Object.entries(lines)) },
      dateContextOf(session.batch, METRIC),
    );
  const changes = (lines: Readonly<Record<string, string>>, session = fresh) =>
    changesOf(session.raw, session.blanks, keyed(lines, session).answers).map(
      ({ path, value }) => `${path.join('.')} = ${value}`,
    );
  const doubts = (lines: Readonly<Record<string, string>>, session = fresh) =>
    doubtsOf(session.blanks, keyed(lines, session).answers, doubtContext(session, null)).map(
      ({ key }) => key,
    );

  /** By a clock of twelve hours, a sheet that nothing was keyed in from, or only what the file says of the start. */
  const byTwelve = (start: string | null, lines: Readonly<Record<string, string>>) => {
    const { batch } = fresh;
    const context = dateContextOf({ ...batch, start }, { units: 'us', language: 'en-US' });
    const empty = blanksOf(batch, {}, 'us');
    const { answers, faults } = checkTyped(empty, { lines: new Map(Object.entries(lines)) }, context);
    return [...Object.keys(lines).map((key) => answers.get(key)), ...faults.map(({ offers }) => offers)];
  };

  it.each([
    ['goes by the start of the day', '13:00', ['1:05', '1:50'], ['13:05', '13:50']],
    ['goes by what was done before, over noon', '10:40', ['10:45', '12:15'], ['10:45', '12:15']],
    ['and over midnight', '22:30', ['10:45', '12:15'], ['22:45', '00:15']],
    ['that is a little before the start is not half a day after it', '13:00', ['12:50'], ['12:50']],
    ['is taken at its word with pm', null, ['7:10 pm', '7:55'], ['19:10', '19:55']],
    ['of twenty-four hours is what it says', null, ['19:10', '19:55'], ['19:10', '19:55']],
    ['is asked again where nothing tells the half', null, ['7:10'], [undefined, ['07:10 am', '07:10 pm']]],
  ])('a time by a clock of twelve hours %s', (_, start, [first = '', second], kept) => {
    const lines = { heating_started: first, ...(second === undefined ? {} : { boil_started: second }) };
    expect(byTwelve(start, lines)).toEqual(kept);
  });

  it('the first addition by a clock of twelve hours goes by the sheet, the log by what is typed', () => {
    const lines = {
      heating_started: '11:30 am',
      boil_ended: '1:59',
      'pitched.on': '14 Feb 2026 3:10',
      'fermentation[0].on': '17 Feb 2026 6:30 pm',
    };
    expect(byTwelve(null, lines)).toEqual(['11:30', '13:59', '2026-02-14 15:10', '2026-02-17 18:30']);
  });

  it('a time of the log without its half of the day is asked again, what the file says is not', () => {
    const lines = { 'fermentation[0].on': '17 Feb 2026 6:30' };
    expect(byTwelve('13:00', lines)).toEqual([undefined, ['2026-02-17 06:30 am', '2026-02-17 06:30 pm']]);
  });

  it('a row needs its day, and a batch that was poured away a reason', () => {
    expect(keyed({ 'fermentation[0].gravity': '1.020' }).faults.map(({ key, code }) => [key, code])).toEqual([
      ['fermentation[0].on', 'row-without-day'],
    ]);
    expect(keyed({ 'abandoned.on': '2027-01-20' }).faults.map(({ key }) => key)).toEqual(['abandoned.why']);
    expect(changes({ 'abandoned.on': '2027-01-20', 'abandoned.why': 'it fell over' })).toEqual([
      'abandoned.on = 2027-01-20',
      'abandoned.why = it fell over',
    ]);
  });

  it('an addition that never went in is left out, a reading that was fermented out and burst bottles are kept', () => {
    const [first] = fresh.blanks.filter(({ at }) => at !== null);
    expect(changes({ 'additions[0].clock': 'left out', fermented_out: '1.012' })).toEqual([
      `additions.0.at = ${first?.at}`,
      'additions.0.clock = left out',
      'fermented_out = 1.012',
    ]);
    expect(changes({ 'packaged[0].on': '2027-02-10', 'packaged[0].burst': '1' })).toEqual([
      'packaged.on = 2027-02-10',
      'packaged.burst = 1',
    ]);
  });

  it('midnight may pass during the day, half a day may not', () => {
    expect(doubts({ boil_started: '23:40', boil_ended: '00:40' })).toEqual([]);
    expect(doubts({ boil_started: '14:50', boil_ended: '14:05' })).toEqual(['boil_ended']);
  });

  it('a reading at 60 °C is corrected, and asked about', () => {
    const session = fresh;
    const line = { original_gravity: '1.070 @ 60 °C' };
    const value = correctedGravity(
      doubtContext(session, null),
      READINGS.original_gravity,
      '1.070 @ 60 °C',
      new Map(),
    );
    // Water at 60 °C has 0.985 of its density at 20 °C (0.98320 against 0.99821 kg/L: IAPWS), a wort about as much.
    expect(value).toBeGreaterThan(1.07 + 0.013);
    expect(value).toBeLessThan(1.07 + 0.019);
    expect(doubts(line)).toEqual(['original_gravity']);
  });

  it('a gravity that rises, and much sugar, are asked about; a dry beer below 1.000 is not', () => {
    expect(
      doubts({
        original_gravity: '1.084',
        'fermentation[0].on': '2027-01-12',
        'fermentation[0].gravity': '1.090',
      }),
    ).toContain('fermentation[0].gravity');
    expect(
      doubts({ 'packaged[0].on': '2027-02-10', 'packaged[0].volume': '12 L', 'packaged[0].sugar': '300 g' }),
    ).toEqual(['packaged[0].sugar']);
    expect(doubts({ 'fermentation[0].on': '2027-01-12', 'fermentation[0].gravity': '0.998' })).toEqual([]);
  });
});
