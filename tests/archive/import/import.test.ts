import { cpSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeEach, describe, expect, it } from 'vitest';
import { readCsv } from '../../../lib/archive/import/csv-read.ts';
import {
  headerFaults,
  type ImportAround,
  importRows,
  unusedColumns,
} from '../../../lib/archive/import/import-csv.ts';
import { type ImportMap, keyPath, readImportMap } from '../../../lib/archive/import/import-map.ts';
import { readArchive } from '../../../lib/archive/read-archive.ts';
import { slugFor } from '../../../lib/commands/support/slug.ts';
import { csvLines } from '../../../lib/site/data/csv.ts';
import { ROOT } from '../../../lib/site/paths.ts';
import { run as runCommand } from '../../commands/run.ts';

const archive = await readArchive(join(ROOT, 'content'), { tablesDir: join(ROOT, 'shared') });
const around = (taken: readonly string[] = []): ImportAround => ({
  brewery: archive.brewery,
  units: archive.brewery.units,
  setups: archive.setups,
  tables: archive.tables,
  slugFor,
  taken: new Set(taken),
});

describe('reading a foreign CSV', () => {
  const cells = (text: string, separator?: string) => {
    const read = readCsv(text, separator);
    return read.ok ? read.rows.map((row) => row.cells) : read;
  };

  it.each([
    ['commas and CRLF', 'a,b\r\n1,2\r\n'],
    ['semicolons, LF and no last line end', 'a;b\n1;2'],
    ['tabs and old line ends', 'a\tb\r1\t2\r'],
    ['a byte order mark and empty lines', '\ufeffa,b\n\n,\n1,2\n\n'],
    ['quotes where none are needed', '"a","b"\n"1","2"\n'],
  ])('takes %s', (_, text) => {
    expect(cells(text)).toEqual([
      ['a', 'b'],
      ['1', '2'],
    ]);
  });

  it('keeps what quotes protect, and counts its lines', () => {
    const read = readCsv('a,b\n"one, ""two""\nthree",x\ny,z\n');
    expect(read).toMatchObject({
      ok: true,
      rows: [{ line: 1 }, { line: 2, cells: ['one, "two"\nthree', 'x'] }, { line: 4 }],
    });
  });

  it('says where a quote was opened that is never closed', () => {
    expect(readCsv('a,b\n1,2\n3,"4\n5,6\n')).toMatchObject({ ok: false, line: 3 });
  });

  it('reads whatever our own writer wrote', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.stringMatching(/^a[a-z ,"\r\n;]*x$/), fc.stringMatching(/^b[a-z,"\n]*y$/))),
        (lines) => {
          const all = [['a', 'b'], ...lines];
          expect(cells(csvLines(all), ',')).toEqual(all);
        },
      ),
    );
  });

  it('never hangs or throws on any text', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: fc.constantFrom('"', ',', '\n', '\r', 'a', ';') }),
        (text) => void readCsv(text),
      ),
    );
  });
});

describe('the map of columns', () => {
  it('knows key paths from what only looks like one', () => {
    expect(keyPath('recipe.hops[1].weight')).toEqual(['recipe', 'hops', 1, 'weight']);
    const bad = [
      '__proto__',
      'recipe.__proto__.x',
      'constructor',
      'a..b',
      'a[100000]',
      'a[-1]',
      'A',
      '',
      'a.b[x]',
    ];
    for (const key of bad) expect(keyPath(key), key).toBeNull();
  });

  it('tells everything that is wrong with it at once', () => {
    const read = readImportMap({
      colums: {},
      columns: { Name: 'title', Also: 'title', Date: { key: 'brewed', date: 'backwards' }, X: '__proto__' },
      always: { setup: ['a'] },
      decimal: 'dot',
    });
    expect(read.ok ? [] : read.faults).toEqual([
      expect.stringContaining('colums'),
      expect.stringContaining('columns.Date: date is one of'),
      expect.stringContaining('columns.X: wants a key'),
      expect.stringContaining('always.setup'),
      expect.stringContaining('decimal'),
      'title is filled twice.',
    ]);
  });
});

const MAP = readImportMap({
  columns: {
    Name: 'title',
    Date: { key: 'brewed', date: 'day-month-year' },
    Litres: { key: 'recipe.into_fermenter', unit: 'L' },
    Malt: { key: 'recipe.extract[0].weight', unit: 'kg' },
    'Hop 1': { key: 'recipe.hops[0].name', words: { EKG: 'East Kent Goldings' } },
    'g 1': { key: 'recipe.hops[0].weight', unit: 'g' },
    'Hop 2': 'recipe.hops[1].name',
    'g 2': { key: 'recipe.hops[1].weight', unit: 'g' },
    OG: 'readings.original_gravity',
    Tasted: { key: 'readings.tasted[0].on', date: 'day-month-year' },
    Score: 'readings.tasted[0].score',
    Remarks: 'notes',
    More: 'notes',
  },
  always: {
    setup: 'stove',
    'recipe.boil': '60 min',
    'recipe.extract[0].name': 'pale liquid extract',
    'recipe.hops[0].add': '60 min',
    'recipe.hops[1].add': '10 min',
    'recipe.hops[0].alpha': '5 %',
    'recipe.hops[1].alpha': '5 %',
  },
  decimal: 'comma',
}) as { ok: true; map: ImportMap };
const HEADER = MAP.map.columns.map(({ column }) => column);
const GOOD: Readonly<Record<string, string>> = {
  Name: 'Bywash',
  Date: '3.4.2019',
  Litres: '19',
  Malt: '2,4',
  'Hop 1': 'EKG',
  'g 1': '35',
  OG: '1.041',
};
const run = (...rows: readonly Readonly<Record<string, string>>[]) =>
  importRows(
    HEADER,
    rows.map((row, i) => ({ line: i + 2, cells: HEADER.map((name) => row[name] ?? '') })),
    MAP.map,
    around(),
  );

describe('a row', () => {
  it('becomes a batch file, units, dates, words and all', () => {
    const [found] = run({ ...GOOD, Remarks: 'dry\n---\nvery', More: 'and a second word' });
    expect(found).toMatchObject({ line: 2, said: [] });
    expect(found!.file!.slug).toBe('bywash');
    expect(found!.file!.text).toBe(`---
title: Bywash
brewed: 2019-04-03
setup: stove
recipe:
  into_fermenter: 19 L
  boil: 60 min
  extract:
    - name: pale liquid extract
      weight: 2.4 kg
  hops:
    - name: East Kent Goldings
      weight: 35 g
      add: 60 min
      alpha: 5 %
readings:
  original_gravity: 1.041
---
dry
---
very

and a second word
`);
  });

  it('closes gaps in lists: a second hop alone is the first', () => {
    const [found] = run({ ...GOOD, 'Hop 1': '', 'g 1': '', 'Hop 2': 'Fuggle', 'g 2': '20' });
    expect(found!.file!.text).toContain(
      '  hops:\n    - name: Fuggle\n      weight: 20 g\n      add: 10 min\n',
    );
    expect(found!.file!.text).not.toContain('60 min\n      alpha');
  });

  it('goes without a reading that cannot be used, and says which column it was', () => {
    const [found] = run({ ...GOOD, OG: '1041', Date: '2019', Score: '4' });
    expect(found!.file!.text).not.toContain('readings:');
    expect(found!.file!.text).not.toContain('brewed');
    expect(found!.said).toEqual([
      expect.stringContaining('column "Date": "2019" is no day-month-year date'),
      expect.stringContaining('column "OG" (readings.original_gravity): found "1041"'),
      'left out: 4 points (column "Score"): the row has no day of tasting; give it a date in a column for readings.tasted[0].on',
    ]);
  });

  it.each(['1.2.26', '01/02/26', '1-2-26 18:30'])('has no year of two digits: %s', (date) => {
    const [found] = run({ ...GOOD, Date: date });
    expect(found!.said).toEqual([
      `left out: column "Date": the year in "${date}" needs four digits, for example 2026`,
    ]);
  });

  it.each(['1.2.', '1.2.226', '1.2.3.26', '30.2.x26'])('has no other date that is none: %s', (date) => {
    expect(run({ ...GOOD, Date: date })[0]!.said).toEqual([
      `left out: column "Date": "${date}" is no day-month-year date`,
    ]);
  });

  it('tells every cell that is left out for want of its day', () => {
    const read = readImportMap({
      columns: {
        Name: 'title',
        Malt: 'recipe.extract[0].weight',
        Filled: 'readings.packaged.bottles',
        Sugar: 'readings.packaged.sugar',
        Points: 'readings.tasted[0].score',
        Taste: 'readings.tasted[0].note',
      },
      always: {
        setup: 'stove',
        'recipe.into_fermenter': '19 L',
        'recipe.boil': '60 min',
        'recipe.extract[0].name': 'pale liquid extract',
        'readings.packaged.into': 'bottles',
      },
    });
    if (!read.ok) throw new Error(read.faults.join());
    const row = { line: 2, cells: ['Bywash', '2.4 kg', '22', '100 g', '4', 'dry'] };
    const [found] = importRows(
      read.map.columns.map(({ column }) => column),
      [row],
      read.map,
      around(),
    );
    expect(found!.said).toEqual([
      'left out: 22 bottles (column "Filled"), "100 g" (column "Sugar"): the row has no day of packaging; give it a date in a column for readings.packaged.on',
      'left out: 4 points (column "Points"), "dry" (column "Taste"): the row has no day of tasting; give it a date in a column for readings.tasted[0].on',
    ]);
    expect(found!.file!.text).not.toContain('readings:');
  });

  it('is left out where its recipe cannot be taken whole', () => {
    const rows = [{ 'Hop 1': 'Nosuchhop', Malt: '' }, { 'g 1': 'many' }, { Litres: '' }, { Litres: '9000' }];
    for (const wrong of rows) {
      const [found] = run({ ...GOOD, ...wrong });
      expect(found!.file, JSON.stringify(wrong)).toBeNull();
      expect(found!.said.at(-1)).toMatch(/recipe/);
    }
  });

  it('is left out without a title, with one that is taken, or with too many cells', () => {
    const [, twice] = run(GOOD, GOOD);
    expect(twice!.said).toEqual(['bywash.md is there already and stays as it is']);
    expect(run({ ...GOOD, Name: '' })[0]!.said).toEqual(['the row has no title']);
    expect(run({ ...GOOD, Name: '???' })[0]!.file).toBeNull();
    const long = importRows(HEADER, [{ line: 2, cells: [...HEADER, 'x'] }], MAP.map, around());
    expect(long[0]!.said[0]).toMatch(/14 cells for 13 columns/);
  });

  it('may hold any text in its title and notes: what is written reads back the same', async () => {
    const titles = ['null', '~ x', 'a: b # c', '"quoted" x', "it's [x]", '1.050', 'true', '- dash', '{x}'];
    for (const title of titles) {
      const [found] = run({ ...GOOD, Name: title });
      expect(found!.file, title).not.toBeNull();
      expect(found!.file!.text.split('\n')[1], title).toMatch(/^title: /);
    }
  });
});

it('names columns that are missing, doubled or not used', () => {
  expect(headerFaults(['Name', 'Name'], MAP.map)).toEqual([
    expect.stringContaining('"Date"'),
    ...Array.from({ length: HEADER.length - 2 }, () => expect.stringContaining('does not have')),
    'The table has the column "Name" twice.',
  ]);
  expect(unusedColumns([...HEADER, 'Price'], MAP.map)).toEqual(['Price']);
});

describe('npm run import', () => {
  const folder = mkdtempSync(join(tmpdir(), 'import-'));
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  const command = (name: string, ...args: readonly string[]) =>
    runCommand(name, [...args, '--content', folder]);

  beforeEach(() => {
    rmSync(join(folder, 'batches'), { recursive: true, force: true });
    mkdirSync(join(folder, 'batches'), { recursive: true });
    for (const name of ['brewery.yaml', 'setups.yaml', 'ingredients.yaml'])
      cpSync(join(ROOT, 'content', name), join(folder, name));
    writeFileSync(
      join(folder, 'map.yaml'),
      'columns:\n  Name: title\n  Litres: { key: recipe.into_fermenter, unit: L }\n  Malt: { key: "recipe.extract[0].weight", unit: kg }\n  Secret: private\n' +
        'always: { setup: stove, recipe.boil: 60 min, "recipe.extract[0].name": pale liquid extract }\n',
    );
    writeFileSync(
      join(folder, 'old.csv'),
      'Name,Litres,Malt,Secret\nFirst Lock,19,2.5,for us\nSecond Lock,19,,\nThird Lock,10,1.2,\n',
    );
  });
  const importIt = (...more: readonly string[]) =>
    command('import', join(folder, 'old.csv'), '--map', join(folder, 'map.yaml'), ...more);

  it('writes what passes check, tells the rest by line, and never overwrites', async () => {
    writeFileSync(join(folder, 'batches', 'Third-Lock.md'), 'mine');
    const first = await importIt();
    expect(first.out).toContain('old.csv:2  written');
    expect(first.out).toContain('old.csv:3  recipe: the row has neither');
    expect(first.out).toContain('old.csv:4  third-lock.md is there already');
    expect(first.out).toContain('1 batch written; 2 rows left out');
    expect(first.code).toBe(1);
    expect(readFileSync(join(folder, 'batches', 'Third-Lock.md'), 'utf8')).toBe('mine');
    rmSync(join(folder, 'batches', 'Third-Lock.md'));
    const check = await command('check');
    expect(check.out).not.toContain('found  ');
    expect(check.code).toBe(0);
  });

  it('writes nothing on a dry run', async () => {
    expect((await importIt('--dry-run')).out).toContain('2 batches would be written');
    expect(readdirSync(join(folder, 'batches'))).toEqual([]);
  });

  it('is used wrongly without a map', async () => {
    expect((await command('import', join(folder, 'old.csv'))).code).toBe(2);
  });
});
