import { describe, expect, it } from 'vitest';
import type { TimetableRow } from '../../lib/batch/types/acts.ts';
import type { Batch } from '../../lib/batch/types/batch.ts';

import { fermentChart } from '../../lib/site/charts/ferment-chart.ts';
import { kettleChart } from '../../lib/site/charts/kettle-chart.ts';
import { lockSvg } from '../../lib/site/charts/lock.ts';
import { niceTicks } from '../../lib/site/charts/svg.ts';
import { missingView } from '../../lib/site/pages/about-view.ts';
import { batchView } from '../../lib/site/pages/batch-view.ts';
import { headView } from '../../lib/site/pages/head.ts';
import { scoreOf, statusOf } from '../../lib/site/pages/status.ts';
import { isSafeSlug } from '../../lib/site/paths.ts';
import { publish } from '../../lib/site/site.ts';
import { timetableLines } from '../../lib/words/day.ts';
import { content } from './build-fixture.ts';
import { brewed, brewery, plan, planFor, planned, recipeOnly, unseen } from './fixture.ts';

type Over = Partial<Pick<TimetableRow, 'phase' | 'clock'>> & { readonly action?: 'watch' };
const row = (at: number, over: Over = {}): TimetableRow => ({
  phase: 'heat',
  minutes_left: null,
  minute: at,
  clock: null,
  items: [],
  ...{ action: 'drain', minutes: 5 },
  ...over,
});
const lines = (...timetable: TimetableRow[]) => timetableLines({ ...plan, timetable }, brewery);

describe('the timetable hangs on the rule by its minutes', () => {
  it.each([
    [0, 0],
    [2, 0],
    [3, 1],
    [5, 1],
    [20, 4],
    [60, 12],
    [90, 12],
    [700, 4],
  ])('%d minutes to the next row are %d notches', (gap, notches) => {
    expect(lines(row(0), row(gap))[0]?.notches).toBe(notches);
  });
  it('gives a time once, as a clock where there is one, else as hours and minutes gone', () => {
    expect(lines(row(65), row(65), row(66)).map((l) => l.time)).toEqual(['1:05', '', '1:06']);
    expect(lines(row(65, { clock: '14:40' }))[0]?.time).toBe('14:40');
    expect(lines(row(-1440), row(-30)).map((l) => l.time)).toEqual(['day before', 'before']);
  });
  it('joins a watch for a boil-over to the act of the same minute, and to no other', () => {
    const watch = (at: number) => row(at, { action: 'watch' });
    const found = lines(row(60), watch(60), row(70), watch(71));
    expect(found.map((l) => [l.time, l.watch])).toEqual([
      ['1:00', true],
      ['1:10', false],
      ['1:11', false],
    ]);
  });
});

describe('what may be seen', () => {
  const site = publish(content);
  it('is sorted newest first and holds no hidden batch', () => {
    expect(site.batches.map((e) => e.batch.slug)).toEqual([
      'wordy',
      'not-yet',
      'mischief',
      'winding-hole-bitter',
    ]);
    expect(site.recipesAlone.map((e) => e.batch.slug)).toEqual(['towpath-gift']);
    expect(site.bySlug.has(unseen.slug)).toBe(false);
  });
  const from = (basedOn: string) => batchView({ batch: { ...brewed, basedOn }, plan }, site, '').basedOn;
  it('decides where a batch says that it comes from', () => {
    expect(from('unseen-barge')).toBeNull();
    expect(from('no-such-batch')).toBeNull();
    expect(from('not-yet')).toEqual({ href: 'batches/not-yet/index.html', title: 'Not Yet' });
    expect(from('towpath-gift')).toEqual({ href: 'recipes/towpath-gift/index.html', title: 'Towpath Gift' });
  });
  it.each(['../up', '..', 'a/b', 'a\\b', '.hidden', '', 'a\0b', 'a..b', 'con\n'])(
    'is never a path out of the folder: %j',
    (slug) => {
      expect(isSafeSlug(slug)).toBe(false);
      const entry = { batch: { ...planned, slug }, plan: planFor(planned) };
      expect(publish({ brewery, entries: [entry] }).recipes).toEqual([]);
    },
  );
});

it('a batch without a day, such as a recipe that was taken home, has a page', () => {
  const undated = { ...planned, brewed: null };
  expect(batchView({ batch: undated, plan: planFor(undated) }, publish(content), '').ready).toBeNull();
});

describe('how far a batch has come', () => {
  const on = { date: '2026-02-14', clock: null };
  const withReadings = (readings: Batch['readings']): Batch => ({ ...recipeOnly, readings });
  it.each<[string, Batch['readings']]>([
    ['planned', {}],
    ['brewing', { heating_started: '13:30' }],
    ['fermenting', { pitched: { on, temperature_C: null, yeast: null } }],
    ['fermenting', { pitched: 'not taken', fermentation: [] }],
    ['abandoned', { abandoned: { on, why: 'spilt' }, pitched: { on, temperature_C: null, yeast: null } }],
    ['tasted', { tasted: [{ on, score: null, note: null }] }],
    ['brewing', { packaged: 'not taken' }],
  ])('%s', (status, readings) => {
    expect(statusOf(withReadings(readings))).toBe(status);
  });
  it('is scored by the last tasting that gave a score', () => {
    const tasted = [3, 4.5, null].map((score) => ({ on, score, note: null }));
    expect(scoreOf(withReadings({ tasted }))).toBe('4.5\u00a0of\u00a05');
    expect(scoreOf(withReadings({ tasted: [{ on, score: 0, note: null }] }))).toBe('0\u00a0of\u00a05');
    expect(scoreOf(withReadings({}))).toBeNull();
  });
});

describe('the frame of a page', () => {
  const published = { ...brewery, url: 'https://lock.example/beer/' };
  it.each([
    ['index.html', './', 'https://lock.example/beer/'],
    ['about/index.html', '../', 'https://lock.example/beer/about/'],
    ['batches/x/index.html', '../../', 'https://lock.example/beer/batches/x/'],
  ])('%s finds the top at %s and calls itself %s', (path, root, canonical) => {
    const head = headView(published, path, 't', 'd');
    expect([head.root, head.canonical]).toEqual([root, canonical]);
    expect(headView(brewery, path, 't', 'd').canonical).toBeNull();
  });
  it('of a missing page works at any depth once the site has an address', () => {
    const site = publish({ brewery: published, entries: [] });
    expect(missingView(site, false).head).toMatchObject({ root: '/beer/', canonical: null, listed: false });
    expect(missingView(site, true).head.root).toBe('/');
  });
});

describe('charts', () => {
  it.each([
    [0, 10, 5, [0, 2, 4, 6, 8, 10]],
    [1.038, 1.102, 4, [1.04, 1.06, 1.08, 1.1]],
    [0, 60, 6, [0, 10, 20, 30, 40, 50, 60]],
    [0.4, 2.6, 5, [0.5, 1, 1.5, 2, 2.5]],
  ])('a scale from %d to %d has round steps', (low, high, count, ticks) => {
    expect(niceTicks(low, high, count).map((t) => Math.round(t * 1000) / 1000)).toEqual(ticks);
  });
  it('mark every addition of the boil, additions of a minute together', () => {
    const chart = kettleChart(plan, 'metric')!;
    expect(chart.marks.map((m) => [m.letter, m.minutesLeft])).toEqual([
      ['A', 60],
      ['B', 12],
      ['C', 10],
    ]);
    expect(chart.svg.match(/class="disc"/g)).toHaveLength(3);
    expect(chart.svg).not.toMatch(/NaN|Infinity|undefined/);
  });
  it('draw a level that falls as it boils', () => {
    const level = /class="level" d="([^"]*)"/.exec(kettleChart(plan, 'metric')!.svg)![1]!;
    const heights = level
      .slice(1)
      .split(/[ML]/)
      .map((point) => Number(point.split(' ')[1]));
    // Down the screen is up in number: until the extract goes in, each minute lies lower than the one before.
    for (let i = 1; i < 48; i++) expect(heights[i]).toBeGreaterThanOrEqual(heights[i - 1]!);
  });
  it('are left out where there is nothing to draw', () => {
    expect(kettleChart({ ...plan, kettle: [] }, 'metric')).toBeNull();
    expect(fermentChart([{ date: '2026-01-01', clock: null, gravity: 1.04 }], null, 'en-GB')).toBeNull();
  });
  it('take a colour only as a colour', () => {
    expect(lockSvg('#8a3f12')).toContain('fill="#8a3f12"');
    for (const bad of [null, 'red', '#8a3f1', '"/><script>', '#8a3f12;x']) expect(lockSvg(bad)).toBe('');
  });
});

describe('what a batch page says of readings', () => {
  const view = (batch: Batch) => batchView({ batch, plan: planFor(batch) }, publish(content), '');
  it('holds each against its target', () => {
    const rows = view(brewed).comparison.map((r) => [r.label, r.verdictWords]);
    expect(rows).toEqual([
      ['Original gravity', 'fine'],
      ['Wort at the end of the boil, at room temperature', 'a little off'],
      ['Final gravity', 'off'],
    ]);
  });
  it('says a judgment at its reading, with the level', () => {
    const [first, ...more] = view(brewed).marked;
    expect(more).toEqual([]);
    expect(first).toMatchObject({ level: 'act', label: 'Final gravity, 1.019\u00a0@\u00a019\u00a0°C' });
  });
  it('shows what was written beside what it comes to, once where both are the same', () => {
    const rows = view(brewed).comparison.map((r) => [r.read, r.reduced]);
    expect(rows).toEqual([
      ['1.044\u00a0@\u00a024\u00a0°C', '1.045'],
      ['9.7\u00a0L', '9.3\u00a0L'],
      ['1.019\u00a0@\u00a019\u00a0°C', ''],
    ]);
  });
  it('says whether it is finished, and when to read again', () => {
    const { fermentation, marked } = view(brewed);
    // What bears a mark is at the head of the page, and nowhere else.
    expect(marked.map(({ cause }) => cause)).toContainEqual(expect.stringMatching(/^Stopped high: 1\.019, /));
    expect(marked.map((one) => one.do).join()).toMatch(/read again on 3\u00a0Mar\u00a02026\.$/);
    expect(fermentation?.words).toBeNull();
    expect(view(planned).fermentation).toBeNull();
  });
});
