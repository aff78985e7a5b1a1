import { describe, expect, it } from 'vitest';
import { batchFiles, checkArchive } from './archive.ts';

/** The day on which the demo archive was last written in: no reading can be later. */
const TODAY_OF_THE_ARCHIVE = '2026-11-25';

const strained = batchFiles('tests/archive/strained/');
const archive = checkArchive('content/', strained);
const own = archive.files.filter(({ file }) => file.startsWith('content/'));
const text = (of: unknown) => JSON.stringify(of);
const all = own.map(({ raw }) => text(raw)).join('\n');

describe('the demo archive', () => {
  it('holds only files that follow the format', () => {
    expect(own.length).toBeGreaterThanOrEqual(12);
    expect(archive.problems).toEqual([]);
    for (const { file, problems, batch } of archive.files) {
      expect(
        problems.filter(({ severity }) => severity === 'error'),
        file,
      ).toEqual([]);
      expect(batch, file).not.toBeNull();
    }
  });

  it('numbers its batches in the order of their days', () => {
    const inOrder = own
      .flatMap(({ batch }) => (batch === null ? [] : [batch]))
      .sort((a, b) => (a.brewed ?? '').localeCompare(b.brewed ?? ''));
    expect(inOrder.map(({ number }) => number)).toEqual(inOrder.map((_, index) => index + 1));
  });

  it('bases batches only on earlier ones that are there', () => {
    const day = new Map(own.map(({ slug, batch }) => [slug, batch?.brewed ?? '']));
    const based = own.filter(({ batch }) => batch?.basedOn);
    expect(based.length).toBeGreaterThanOrEqual(3);
    for (const { file, batch } of based) {
      const from = day.get(batch?.basedOn ?? '');
      expect(from, file).toBeDefined();
      expect(from! < (batch?.brewed ?? ''), file).toBe(true);
    }
  });

  it('keeps the days of a batch in the order in which they happen', () => {
    for (const { file, raw } of own) {
      const days = [text(raw.brewed), text(raw.readings ?? '')].join().match(/\d{4}-\d{2}-\d{2}/g)!;
      expect(days, file).toEqual([...days].sort());
      if (raw.readings !== undefined) expect(days.at(-1)! <= TODAY_OF_THE_ARCHIVE, file).toBe(true);
    }
  });

  it.each([
    ['a batch planned for later', /"brewed":"2027-/],
    ['a start', /"start":"\d/],
    ['a steep', /"in":"steep"/],
    ['a mash', /"in":"mash"/],
    ['a mash ratio', /"ratio":"[\d.]+ L\/kg"/],
    ['a rinse', /"rinse":/],
    ['steep water of its own', /"time":"30 min","water":/],
    ['late extract', /"name":"pale liquid extract","weight":"1.1 kg","add":"12 min"/],
    ['a hopped extract', /"bitterness":"\d+ IBU in/],
    ['honey', /"name":"honey"/],
    ['lactose', /"name":"lactose"/],
    ['a first wort hop', /"add":"first wort"/],
    ['a stand', /"add":"stand"/],
    ['a flame-out hop', /"add":"flameout"/],
    ['a dry hop', /"add":"dry","day":"\d+","for":/],
    ['something in the fermenter', /"add":"fermenter","day":/],
    ['leaf and pellet', /"form":"leaf"[\s\S]*"form":"pellet"/],
    ['a spice', /coriander seed/],
    ['fruit', /blackberries/],
    ['finings from fish', /isinglass/],
    ['yeast nutrient', /yeast nutrient/],
    ['US units', /\d us gal/],
    ['pounds with ounces', /\d lb \d+ oz/],
    ['a fraction', /\d \d\/\d us gal/],
    ['degrees Fahrenheit', /\d °F/],
    ['an uncertainty', /± /],
    ['a range', /\d-\d+ °C/],
    ['two steps of fermentation', /"ferment":\[\{[^}]*\},\{/],
    ['keg and bottles of one batch', /"package":\[\{"into":"keg"[^\]]*"into":"bottles"/],
    ['a keg alone', /"package":\{"into":"keg"/],
    ['private words', /"private":[\s\S]*"private":/],
    ['a batch kept from the site', /"publish":"false"/],
    ['a recipe only', /"publish":"recipe"/],
    ['a refractometer', /\d Bx"/],
    ['a reading that was not taken', /:"not taken"/],
    ['a hot sample', /@ 4\d °C/],
    ['a batch given up', /"abandoned":\{/],
    ['a half score', /"score":"\d\.5"/],
  ])('shows %s', (_feature, shape) => {
    expect(all).toMatch(shape);
  });

  it('shows a kettle volume left to be worked out', () => {
    expect(own.some(({ raw }) => !text(raw.recipe).includes('boil_volume'))).toBe(true);
  });

  it('brews in every kit that it has', () => {
    expect([...new Set(own.map(({ batch }) => batch?.setup.key))].sort()).toEqual(['ring', 'small', 'stove']);
  });
});

describe('batches that strain the paper', () => {
  it('are what their names say', () => {
    const raw = new Map(archive.files.map((file) => [file.slug, file.batch]));
    expect(strained.length).toBe(4);
    expect(raw.get('twenty-additions')?.recipe.hops.length).toBe(20);
    expect(raw.get('eleven-grains')?.recipe.grain.length).toBe(11);
    expect(raw.get('no-steep')?.recipe.steep).toBeNull();
    const names = raw.get('long-names')?.recipe.grain.map(({ name }) => name.length) ?? [];
    expect(Math.max(...names)).toBeGreaterThan(40);
  });

  it('include a kitchen in US units', () => {
    const us = checkArchive('tests/archive/strained/us-units/');
    expect(us.problems).toEqual([]);
    expect(us.files.length).toBe(1);
    for (const { problems, batch } of us.files) {
      expect(problems).toEqual([]);
      // 5 US gallons of 231 cubic inches.
      expect(batch?.recipe.intoFermenter_L.value).toBeCloseTo(18.927, 3);
    }
  });
});
