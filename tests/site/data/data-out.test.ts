import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { TARGET_KEYS } from '../../../lib/batch/types/targets.ts';

import { unitOf } from '../../../lib/site/data/batch-table.ts';
import { csvCell, csvText } from '../../../lib/site/data/csv.ts';
import { dataFiles } from '../../../lib/site/data/files.ts';
import { archiveTables } from '../../../lib/site/data/tables.ts';
import { HIDDEN, published, RECIPE_ONLY } from '../feeds/site.ts';
import { readCsv } from './rfc4180.ts';

/** What a spreadsheet shows of a value. */
function inACell(value: unknown): string {
  if (value === null || value === undefined) return '';
  return typeof value === 'string' && /^[=+\-@\t\r]/.test(value) ? `'${value}` : String(value);
}

const site = published();
const files = new Map([...dataFiles(site)].map(([path, text]) => [path, text()]));
const tables = archiveTables(site);

describe('CSV', () => {
  it('reads back as what was written, whatever the text', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string(), fc.string()), { minLength: 1 }), (lines) => {
        const columns = ['a', 'b'].map((name) => ({ name, type: 'text' as const, unit: '', meaning: '' }));
        const [head, ...rows] = readCsv(csvText({ columns, cells: lines }));
        expect(head).toEqual(['a', 'b']);
        expect(rows).toEqual(lines.map((line) => line.map(inACell)));
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
  interface Document {
    tables: Record<
      string,
      { columns: { name: string; unit: string | null; meaning: string }[]; rows: Record<string, unknown>[] }
    >;
  }
  const archive = JSON.parse(files.get('data/archive.json')!) as Document;

  it('holds what the CSV files hold', () => {
    for (const [name, { columns, rows }] of Object.entries(archive.tables)) {
      const [head, ...lines] = readCsv(files.get(`data/${name}.csv`)!);
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
    const row = tables[0]!.cells.find(([slug]) => slug === 'sluice-recipe')!;
    const named = Object.fromEntries(tables[0]!.columns.map(({ name }, i) => [name, row[i]]));
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
    for (const table of tables.slice(2))
      expect(table.cells.filter(([slug]) => slug === 'sluice-recipe')).toEqual([]);
  });
});
