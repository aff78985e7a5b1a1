import fc from 'fast-check';
import ICAL from 'ical.js';
import { describe, expect, it } from 'vitest';
import { planBatch } from '../../lib/batch/plan/plan-batch.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';
import { beginSession, readKit } from '../../lib/site/key-in/session.ts';
import { batchCalendar } from '../../lib/words/calendar.ts';
import { calendarText } from '../../lib/words/calendar-text.ts';

const kit = await readKit('content');
const SLUGS = [
  'november-fog-porter',
  'twelfth-night-old',
  'hedge-hop-pale',
  'black-ice-lager',
  'moorhen-brown-2',
];

function opened(slug: string) {
  const begun = beginSession(kit, slug);
  if (!begun.ok) throw new Error(begun.why);
  return begun.session;
}

function calendarOf(slug: string, change: (batch: Batch) => Batch = (batch) => batch): string {
  const batch = change(opened(slug).batch);
  const planned = planBatch(batch, kit.brewery);
  if (!planned.ok) throw new Error('no plan');
  return batchCalendar(batch, planned.plan, 'example.org', kit.brewery) ?? '';
}

const without =
  (...keys: readonly (keyof Batch['readings'])[]) =>
  (batch: Batch): Batch => ({
    ...batch,
    readings: Object.fromEntries(
      Object.entries(batch.readings).filter(([key]) => !keys.some((one) => one === key)),
    ),
  });
const untasted = without('tasted');
const unbrewed = (batch: Batch): Batch => ({ ...batch, readings: {} });

const eventsOf = (text: string) =>
  new ICAL.Component(ICAL.parse(text)).getAllSubcomponents('vevent').map((event) => new ICAL.Event(event));
const named = (text: string) =>
  new Map(eventsOf(text).map((event) => [event.uid.replace(/@.*/, ''), event] as const));

/** Rules of RFC 5545 that a lenient parser would let pass. */
function expectWellFormed(text: string): void {
  expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  expect(text.endsWith('END:VCALENDAR\r\n')).toBe(true);
  for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
  const uids = eventsOf(text).map(({ uid }) => uid);
  expect(new Set(uids).size).toBe(uids.length);
  expect(text).not.toContain('\ufffd');
}

describe('the calendar of a batch', () => {
  it.each(SLUGS)('of %s is read by another parser, and is the same at every build', (slug) => {
    const text = calendarOf(slug, untasted);
    expectWellFormed(text);
    expect(eventsOf(text).length).toBeGreaterThan(0);
    expect(calendarOf(slug, untasted)).toBe(text);
    for (const { uid } of eventsOf(text)) expect(uid.startsWith(`${slug}-`)).toBe(true);
  });

  it('has the steps of the day at the hours of the kitchen clock, in no time zone', () => {
    const { batch, plan } = opened('november-fog-porter');
    const text = calendarOf('november-fog-porter', unbrewed);
    const first = named(text).get('november-fog-porter-step-1-heat');
    expect(first?.startDate.toString()).toBe(`${batch.brewed}T${batch.start}:00`);
    expect(first?.startDate.zone.tzid).toBe('floating');
    const boil = [...named(text)].find(([uid]) => uid.endsWith('-boil'))?.[1];
    const begins = plan.timetable.find(({ phase }) => phase === 'boil')?.clock;
    expect(boil?.startDate.toString()).toBe(`${batch.brewed}T${begins}:00`);
  });

  it('without an hour has the brewing day as a whole day', () => {
    const text = calendarOf('november-fog-porter', (batch) => unbrewed({ ...batch, start: null }));
    const day = named(text).get('november-fog-porter-brew');
    expect([day?.startDate.isDate, day?.startDate.toString(), day?.endDate.toString()]).toEqual([
      true,
      '2026-11-14',
      '2026-11-15',
    ]);
  });

  it('counts dry hops from the pitching that was read', () => {
    const { batch } = opened('hedge-hop-pale');
    const index = batch.recipe.hops.findIndex(({ add }) => add.at === 'dry');
    const pitched = batch.readings.pitched;
    const hop = batch.recipe.hops[index];
    if (hop?.add.at !== 'dry' || pitched === undefined || pitched === 'not taken')
      throw new Error('no dry hop');
    const event = named(calendarOf('hedge-hop-pale', without('tasted', 'packaged'))).get(
      `hedge-hop-pale-hop-${index + 1}-in`,
    );
    const from = ICAL.Time.fromDateString(pitched.on.date);
    expect(event?.startDate.subtractDate(from).toSeconds()).toBe(hop.add.day * 86_400);
  });

  it('speaks of bottling only until it was done, and of drinking from then on', () => {
    const open = named(calendarOf('november-fog-porter'));
    expect(open.get('november-fog-porter-packaging')?.description).toContain('Bottles burst');
    const done = named(calendarOf('moorhen-brown-2', untasted));
    expect([...done.keys()]).toEqual(['moorhen-brown-2-drink']);
    // Packaged on 2025-03-29; two weeks, common practice.
    expect(done.get('moorhen-brown-2-drink')?.startDate.toString()).toBe('2025-04-12');
  });

  it('is not made for a batch that was given up or tasted, or that has no day yet', () => {
    const given = (change: (batch: Batch) => Batch) => calendarOf('november-fog-porter', change);
    const abandoned = { on: { date: '2026-11-20', clock: null }, why: 'it fell over' };
    expect(given((batch) => ({ ...batch, readings: { ...batch.readings, abandoned } }))).toBe('');
    expect(given((batch) => ({ ...batch, brewed: null }))).toBe('');
    expect(calendarOf('moorhen-brown-2')).toBe('');
  });
});

describe('any text', () => {
  it('comes out of another parser as it went in', () => {
    let ran = 0;
    const words = fc
      .string({ unit: 'grapheme', maxLength: 200 })
      // The sign for a character that was cut in two is what the test looks for.
      .map((text) => text.replaceAll(/[\p{Cc}\u2028\u2029\ufffd]/gu, ' '));
    fc.assert(
      fc.property(words, words, (summary, description) => {
        ran++;
        const head = { slug: 'a-batch', title: 'A', host: 'example.org', stamp: '2026-02-14' };
        const lines = `${description}\nsecond; line, with \\ all`;
        const entry = {
          name: 'x',
          summary: `s${summary}`,
          description: lines,
          date: '2026-02-28',
          clock: '23:50',
          until: { date: '2026-03-01', clock: '00:20' },
        };
        const text = calendarText(head, [entry]);
        expectWellFormed(text);
        const [event] = eventsOf(text);
        expect([event?.summary, event?.description]).toEqual([`s${summary}`, lines]);
        expect(event?.duration.toSeconds()).toBe(1800);
      }),
      { numRuns: 300 },
    );
    expect(ran).toBe(300);
  });
});
