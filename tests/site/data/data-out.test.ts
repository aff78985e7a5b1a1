import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { planKey, valueAtPlace } from '../../../lib/batch/types/places.ts';
import { TARGET_KEYS } from '../../../lib/batch/types/targets.ts';
import { formFields } from '../../../lib/paper/blanks.ts';

import { unitOf } from '../../../lib/site/data/batch-table.ts';
import { csvCell, csvLines } from '../../../lib/site/data/csv.ts';
import { dataFiles } from '../../../lib/site/data/files.ts';
import { HIDDEN, published, RECIPE_ONLY } from '../feeds/site.ts';
import { readCsv } from './rfc4180.ts';

/** What a spreadsheet shows of a value. */
function inACell(value: unknown): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'string' && /^[=+\-@\t\r]/.test(value) ? `'${value}` : String(value);
}

interface Document {
  tables: Record<
    string,
    { columns: { name: string; unit: string | null; meaning: string }[]; rows: Record<string, unknown>[] }
  >;
}

const site = published();
const files = new Map([...dataFiles(site)].map(([path, parts]) => [path, parts().join('')]));

describe('CSV', () => {
  it('reads back as what was written, whatever the text', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string(), fc.string()), { minLength: 1 }), (lines) => {
        expect(readCsv(csvLines(lines))).toEqual(lines.map((line) => line.map(inACell)));
      }),
    );
  });

  it('lets no spreadsheet run a title, and leaves numbers alone', () => {
    expect(csvCell('=HYPERLINK("x")')).toBe('"\'=HYPERLINK(""x"")"');
    expect(csvCell('-2+3')).toBe("'-2+3");
    expect(csvCell(-0.35)).toBe('-0.35');
    expect(csvCell(null)).toBe('');
  });

  it.each([...files].filter(([path]) => path.endsWith('.csv')))(
    '%s has as many cells in each line',
    (_, text) => {
      const [head, ...rows] = readCsv(text);
      expect(new Set(head).size).toBe(head!.length);
      expect(rows.length).toBeGreaterThan(0);
      for (const row of rows) expect(row).toHaveLength(head!.length);
    },
  );
});

describe('the archive as JSON', () => {
  const archive = JSON.parse(files.get('data/archive.json')!) as Document;

  it('holds what the CSV files hold', () => {
    for (const [name, { columns, rows }] of Object.entries(archive.tables)) {
      const text = files.get(`data/${name}.csv`)!;
      expect(files.get(`data/spreadsheet/${name}.csv`)).toBe(`\uFEFF${text}`);
      expect(text).not.toMatch(/,\d+\.\d{5}/);
      const [head, ...lines] = readCsv(text);
      expect(head).toEqual(columns.map((column) => column.name));
      expect(lines).toEqual(rows.map((row) => head!.map((key) => inACell(row[key]))));
    }
  });

  it('gives every number its unit, and every column its meaning', () => {
    const withoutUnit = new Set<string>();
    for (const { columns } of Object.values(archive.tables)) {
      for (const { name, unit, meaning } of columns) {
        expect(meaning.length, name).toBeGreaterThan(5);
        if (unit === null && /_(?:l|g|c|kg|kpa|vol|percent|ibu|ebc)(?:_|$)/.test(name)) withoutUnit.add(name);
      }
    }
    expect([...withoutUnit]).toEqual([]);
    const bare = TARGET_KEYS.filter((key) => unitOf(key) === '');
    expect(bare).toEqual([
      'original_gravity',
      'final_gravity',
      'boil_start_gravity',
      'boil_end_gravity',
      'yeast_packs',
      'bottles',
    ]);
  });

  it('has every published batch once, with its planned gravity and what was read', () => {
    const rows = archive.tables.batches!.rows;
    const shown = [...site.batches, ...site.recipesAlone].map(({ batch }) => batch.slug);
    expect(rows.map(({ batch }) => batch).sort()).toEqual([...shown].sort());
    const brown = rows.find(({ batch }) => batch === 'moorhen-brown-2')!;
    expect(brown).toMatchObject({ number: 5, brewed: '2025-03-15', boil_min: 60, into_fermenter_l: 19 });
    const read = archive.tables.readings!.rows.find(
      ({ batch, reading }) => batch === 'moorhen-brown-2' && reading === 'packaged.sugar',
    );
    expect(read).toMatchObject({ written: '100 g', value: 100, value_unit: 'g' });
    const items = archive.tables.ingredients!.rows.filter(({ batch }) => batch === 'moorhen-brown-2');
    expect(items.find(({ name }) => name === 'Fuggle')).toMatchObject({
      amount: 45,
      alpha_percent: 4.4,
      minutes_left: 60,
    });
  });

  it('has every blank that was filled in, also days and hours of which the plan says nothing', () => {
    const rows = archive.tables.readings!.rows;
    for (const { batch, plan } of site.batches) {
      const filled = formFields(batch, 'metric')
        .filter(({ place, kind }) => kind !== 'text' && place.of !== 'tasted')
        .filter(({ place }) => valueAtPlace(batch.readings, place) != null);
      const own = rows.filter((row) => row.batch === batch.slug);
      expect(own.map(({ reading }) => reading)).toEqual(
        expect.arrayContaining([
          ...filled.map(({ place }) => planKey(place, batch.readings)),
          ...Object.keys(plan.readings),
        ]),
      );
    }
    const brown = (key: string) =>
      rows.find(({ batch, reading }) => batch === 'moorhen-brown-2' && reading === key)!.written;
    expect([brown('boil_started'), brown('pitched.on')]).toEqual([
      expect.stringMatching(/^\d\d:\d\d$/),
      expect.stringMatching(/^2025-03-15 \d\d:\d\d$/),
    ]);
  });

  it('names units of readings that carry one', () => {
    const rows = archive.tables.readings!.rows;
    const bare = rows.filter(({ value, value_unit }) => typeof value === 'number' && value_unit === null);
    const kinds = new Set(bare.map(({ reading }) => String(reading).replaceAll(/\[\d+\]/g, '')));
    expect([...kinds].filter((kind) => !/gravity$|bottles$/.test(kind))).toEqual([]);
  });
});

describe('what is not published', () => {
  it.each([...files])('is not in %s', (_, text) => {
    for (const word of [...HIDDEN, ...RECIPE_ONLY]) expect(text).not.toContain(word);
  });

  it('of a recipe alone is everything but the recipe', () => {
    const archive = JSON.parse(files.get('data/archive.json')!) as Document;
    const rowsIn = (table: string) =>
      archive.tables[table]!.rows.filter(({ batch }) => batch === 'sluice-recipe');
    const named = rowsIn('batches')[0]!;
    expect(named).toMatchObject({
      title: 'Sluice',
      number: null,
      brewed: null,
      state: null,
      tags: null,
      setup: null,
    });
    expect(Object.entries(named).filter(([name, cell]) => name.endsWith('_brewed') && cell !== null)).toEqual(
      [],
    );
    for (const table of ['readings', 'fermentation', 'tastings']) expect(rowsIn(table)).toEqual([]);
  });
});
