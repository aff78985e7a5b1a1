import { execFileSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import type { Archive } from '../../lib/archive/archive.ts';
import { formatProblem } from '../../lib/archive/problem-text.ts';
import { readArchive } from '../../lib/archive/read-archive.ts';
import { locateProblem } from '../../lib/archive/yaml/source.ts';
import type { Problem } from '../../lib/units/problem.ts';

const tablesDir = join(import.meta.dirname, 'schema/golden/tables');
const GOOD = '---\ntitle: A batch\nrecipe:\n  into_fermenter: 10 L\n  boil: 60 min\n---\nNotes.\n';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'archive-'));
  put('brewery.yaml', 'name: The lock house\n');
  put('setups.yaml', 'stove: { kettle: 15 L }\n');
  mkdirSync(join(folder, 'content/batches'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

function put(name: string, content: string | Uint8Array): void {
  const path = join(folder, 'content', name);
  mkdirSync(dirname(path), { recursive: true });
  writeFileSync(path, content);
}

const read = () => readArchive(join(folder, 'content'), { tablesDir });

/** The text of all problems, the temporary folder cut away. */
const said = ({ problems }: Archive, folder = /^.*content(\/|$)/): string =>
  problems.map((problem) => formatProblem({ ...problem, file: problem.file.replace(folder, '') })).join('\n');

describe('files that cannot be read as text', () => {
  const WHOLE = 'a text file in UTF-8';
  it.each<[string, string | Uint8Array, string]>([
    [
      'a file over 1 MiB',
      `${GOOD}${'x'.repeat(1024 * 1024)}`,
      `batches/x.md:1:1  [file-too-large]
  found     1.0 MiB
  expected  at most 1 MiB
  mend      take pictures and other long matter out of the file`,
    ],
    [
      'a binary file',
      GOOD.replace('Notes', '\u0000'),
      `batches/x.md:1:1  [file-binary]
  found     characters that do not belong in text
  expected  ${WHOLE}
  mend      check that the file is what its name says, and save it as plain text`,
    ],
    [
      'a file in Latin-1',
      Buffer.from(GOOD.replace('Notes', 'Brühe'), 'latin1'),
      `batches/x.md:1:1  [file-not-utf8]
  found     bytes that are not UTF-8
  expected  ${WHOLE}
  mend      save it again from your editor as UTF-8`,
    ],
  ])('%s is an error, and the others are read', async (_, content, expected) => {
    put('batches/x.md', content);
    put('batches/y.md', GOOD);
    const archive = await read();
    expect(said(archive)).toBe(expected);
    expect(archive.batches.map(({ slug }) => slug)).toEqual(['y']);
    expect(archive.failed).toEqual(['x']);
  });

  it('an empty file is an error', async () => {
    put('batches/x.md', '');
    expect(said(await read())).toContain(
      'batches/x.md:1:1  [frontmatter-missing]\n  found     an empty file',
    );
  });
});

describe('links, pipes and names', () => {
  const OUTSIDE = `batches/x.md:1:1  [link-outside]
  found     a link that leads out of the content folder
  expected  a file in the content folder
  mend      copy the file here instead of linking it`;
  it('a link out of the content folder is refused', async () => {
    writeFileSync(join(folder, 'secret.md'), GOOD);
    symlinkSync('../../secret.md', join(folder, 'content/batches/x.md'));
    const archive = await read();
    expect(said(archive)).toBe(OUTSIDE);
    expect(archive.batches).toEqual([]);
  });

  it('a link within the content folder is followed', async () => {
    put('drafts/a.md', GOOD);
    symlinkSync('../drafts/a.md', join(folder, 'content/batches/x.md'));
    const archive = await read();
    expect(said(archive)).toBe('');
    expect(archive.batches.map(({ slug }) => slug)).toEqual(['x']);
  });

  it('a folder of batches that is a link to elsewhere is refused', async () => {
    rmSync(join(folder, 'content/batches'), { recursive: true });
    mkdirSync(join(folder, 'elsewhere'));
    writeFileSync(join(folder, 'elsewhere/x.md'), GOOD);
    symlinkSync('../elsewhere', join(folder, 'content/batches'));
    const archive = await read();
    expect(said(archive)).toBe(OUTSIDE.replace('batches/x.md', 'batches'));
  });

  it.each([
    ['a link to nothing', () => symlinkSync('nothing.md', join(folder, 'content/batches/x.md'))],
    ['a link that leads to itself', () => symlinkSync('x.md', join(folder, 'content/batches/x.md'))],
    [
      'something that is not an ordinary file',
      () => execFileSync('mkfifo', [join(folder, 'content/batches/x.md')]),
    ],
    ['something that is not an ordinary file', () => mkdirSync(join(folder, 'content/batches/x.md'))],
  ])('%s is an error, not a hang', async (found, make) => {
    make();
    expect(said(await read())).toBe(
      `batches/x.md:1:1  [file-unreadable]
  found     ${found}
  expected  a text file that can be read
  mend      check what it is and who may read it`,
    );
  });

  it('a file name that is no slug is an error', async () => {
    put('batches/My Batch.md', GOOD);
    put('batches/nul.md', GOOD);
    const archive = await read();
    const slug = 'small letters, digits and hyphens, at most 80, beginning with a letter or a digit';
    expect(said(archive)).toBe(
      [
        `batches/My Batch.md:1:1  [bad-slug]
  found     "My Batch"
  expected  ${slug}
  mend      rename the file to my-batch.md`,
        `batches/nul.md:1:1  [bad-slug]
  found     "nul"
  expected  ${slug}
  mend      choose another name for the file`,
      ].join('\n'),
    );
    expect(archive.batches).toEqual([]);
  });
});

describe('a content folder that is not complete', () => {
  it('none at all is one problem', async () => {
    const archive = await readArchive(join(folder, 'content-x'), { tablesDir });
    expect(said(archive, /^\S*\//)).toBe(
      `content-x:1:1  [content-missing]
  found     no such folder
  expected  a folder with setups.yaml, brewery.yaml and a folder batches
  mend      run the command where the content folder is, or name the folder`,
    );
  });

  it('without tables nothing is known, and that is said', async () => {
    const archive = await readArchive(join(folder, 'content'), { tablesDir: join(folder, 'shared-x') });
    expect(said(archive, /^\S*\//)).toBe(
      `shared-x:1:1  [tables-missing]
  found     no such folder
  expected  the folder with the tables of ingredients
  mend      install the project again, or name the folder`,
    );
  });

  it('a kept print that is damaged is a warning, and counts as not there', async () => {
    put('batches/x.md', GOOD);
    put('printed/x/abc.json', '{"slug":"x","num');
    const archive = await read();
    expect(said(archive)).toBe(
      `printed/x/abc.json:1:1  [printed-damaged]  warning
  found     text that is not JSON, or only part of it
  expected  the file as the program wrote it
  mend      bring it back from a copy of the folder; or delete it: readings are then compared with the print before it, else with the plan as it is now`,
    );
    expect(archive.batches.map(({ slug }) => slug)).toEqual(['x']);
  });

  const kitchen = (...lines: readonly string[]) => GOOD.replace('---\n', `---\n${lines.join('\n')}\n`);
  it('a batch that brings its own kitchen needs no setups.yaml, and leaves it where it names a setup', async () => {
    rmSync(join(folder, 'content/setups.yaml'));
    put('batches/x.md', kitchen('kitchen: { kettle: 12 L, boil_off: 2.4 L/h }'));
    const alone = await read();
    expect([said(alone), alone.batches[0]?.setup]).toMatchObject([
      '',
      {
        key: 'kitchen of x',
        title: 'The kitchen of A batch',
        kettle_L: { value: 12 },
        boilOff_L_per_h: { value: 2.4 },
      },
    ]);
    put('setups.yaml', 'one: { kettle: 15 L }\ntwo: { kettle: 20 L }\n');
    expect((await read()).batches[0]?.setup.key).toBe('kitchen of x');
    put('batches/x.md', kitchen('setup: two', 'kitchen: { kettle: 12 L }'));
    expect((await read()).batches[0]?.setup.key).toBe('two');
    put('batches/x.md', kitchen('kitchen: { kettle: 12 kg, boiloff: 2 L/h }'));
    expect(said(await read()).match(/kitchen\.\w+ +\[[\w-]+\]/g)).toEqual([
      'kitchen.kettle  [quantity-wrong-unit]',
      'kitchen.boiloff  [unknown-key]',
    ]);
    // What is wrong with it is said alone: to name a setup would plan the recipe for another pot.
    expect((await read()).problems.map(({ code }) => code)).not.toContain('setup-missing');
  });

  it('without setups.yaml a batch that only has a warning of its own is an error all the same', async () => {
    rmSync(join(folder, 'content/setups.yaml'));
    put('batches/x.md', GOOD.replace('title: A batch', 'title: A batch\nbased_on: nothing\nsetup: stove'));
    expect((await read()).problems.map(({ code }) => code)).toContain('setups-missing');
  });

  it('without brewery.yaml there is a warning, without setups.yaml an error', async () => {
    rmSync(join(folder, 'content/brewery.yaml'));
    rmSync(join(folder, 'content/setups.yaml'));
    const archive = await read();
    expect(said(archive)).toBe(
      [
        `brewery.yaml:1:1  [brewery-missing]  warning
  found     no such file
  expected  the name of the brewery, its units and its paper
  mend      write a file with name:, units: and paper:; metric units and A4 are used until then`,
        `setups.yaml:1:1  [setups-missing]
  found     no such file
  expected  your pots by name, each with at least the size of its kettle
  mend      write a file with for example stove: and below it, indented, kettle: 15 L`,
      ].join('\n'),
    );
    expect(archive.brewery.units).toBe('metric');
  });

  it('an empty setups.yaml is an error, and no batch is read past it', async () => {
    put('setups.yaml', '# nothing yet\n');
    put('batches/x.md', GOOD);
    const archive = await read();
    expect(said(archive)).toContain('setups.yaml:1:1  [wrong-shape]');
    expect(archive.failed).toEqual(['x']);
  });
});

describe('positions', () => {
  it.each([
    ['CRLF', (source: string) => source.replaceAll('\n', '\r\n')],
    ['a byte order mark', (source: string) => `\ufeff${source}`],
    ['blank lines and comments', (source: string) => source.replace('title', '\n# a comment\n\ntitle')],
  ])('are right with %s', async (name, change) => {
    const source = GOOD.replace('boil: 60 min', 'boil: 60 minuets');
    put('batches/x.md', change(source));
    const [problem] = (await read()).problems;
    expect(problem?.code).toBe('quantity-unknown-unit');
    expect([problem?.line, problem?.column]).toEqual([name.startsWith('blank') ? 8 : 5, 9]);
  });

  it('are found for what is noticed later', async () => {
    put('batches/x.md', GOOD);
    const archive = await read();
    const source = archive.files.get('x');
    if (source === undefined) throw new Error('no source');
    const nothing: Problem = { severity: 'error', code: 'c', path: [], found: '', expected: '', mend: '' };
    const place = (key: string) => locateProblem(source, { ...nothing, path: ['recipe', key] });
    expect(place('boil_volume')).toMatchObject({ line: 3, column: 1 });
    expect(place('boil')).toMatchObject({ line: 5, column: 9 });
    expect(source.hash).toMatch(/^[0-9a-f]{64}$/);
  });
});

describe('what never gets through', () => {
  it('private text is in no batch', async () => {
    put('batches/x.md', GOOD.replace('title', 'private: |\n  what it cost: 14.20\ntitle'));
    const archive = await read();
    expect(archive.batches).toHaveLength(1);
    expect(JSON.stringify(archive.batches)).not.toContain('14.20');
  });

  it('keys of the language do not pollute objects', async () => {
    put('batches/x.md', GOOD.replace('title', '__proto__: { polluted: 1 }\nprototype: x\ntitle'));
    put('setups.yaml', '__proto__: { kettle: 15 L }\nstove: { kettle: 15 L }\n');
    const archive = await read();
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    expect(archive.problems.map(({ code }) => code)).toEqual(['unknown-key', 'unknown-key', 'bad-slug']);
  });

  // What takes square time here would reach the runner's limit against hangs.
  it.each([
    ['deep nesting', `a: ${'['.repeat(300_000)}`],
    ['deep maps', Array.from({ length: 1200 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
    ['blank lines', '\n'.repeat(1_000_000)],
    ['line separators', '\u2028'.repeat(340_000)],
    ['one line of spaces', `a: x${' '.repeat(1_000_000)}b`],
    ['many keys', Array.from({ length: 30_000 }, (_, i) => `k${i}: x`).join('\n')],
    ['many numbers as keys', Array.from({ length: 6000 }, (_, i) => `${i} kg: 1`).join('\n')],
    ['many groups with a slip', `recipe:\n  hops:\n${'    - { nme: x }\n'.repeat(2000)}`],
    ['many keys and a slip', `${Array.from({ length: 15_000 }, (_, i) => `k${i}: x`).join('\n')}\nk1: y`],
    ['many anchors', Array.from({ length: 15_000 }, (_, i) => `k${i}: &a${i} x`).join('\n')],
    ['one long value', `a: ${'9'.repeat(900_000)} L`],
    ['an open quote', `a: "${'x\n'.repeat(100_000)}`],
    ['many aliases and a duplicate', 'a: &x 1\nb: *x\n'.repeat(3000)],
    ['many aliases in a long file', 'a: &x 1\nb: *x\n'.repeat(20_000)],
    ['many empty braces', `a: {${'{}'.repeat(20_000)}`],
    ['a recursive alias', 'a: &a [*a]'],
    ['many hyphens', `a: x\n${'- '.repeat(300_000)}`],
  ])('%s is an error, not a hang', async (_, yaml) => {
    put('batches/x.md', `---\n${yaml}\n---\n`);
    const archive = await read();
    expect(archive.failed).toEqual(['x']);
    expect(archive.problems.length).toBeGreaterThan(0);
  });
});

describe('what a figure is taken from', () => {
  const grain = (rest: string) =>
    `${GOOD.replace('---\nNotes', `  steep: { temperature: 68 °C, time: 20 min }\n  grain:\n    - { name: Dark-Crystal, weight: 350 g, in: steep${rest} }\n---\nNotes`)}`;

  it('the table, by another name, whatever its case and hyphens', async () => {
    put('batches/x.md', grain(''));
    const item = (await read()).batches[0]?.recipe.grain[0];
    expect(item?.colour_EBC).toEqual({ value: 150, u: null, from: 'table' });
    expect(item?.fermentability.value).toBeCloseTo(0.65, 12);
  });

  it('the brewer’s own table before the project’s, the recipe before both', async () => {
    put('ingredients.yaml', '- { name: dark crystal, kind: grain, yield: 70 %, colour: 200 EBC }\n');
    put('batches/x.md', grain(', colour: 120 ± 5 EBC'));
    const item = (await read()).batches[0]?.recipe.grain[0];
    expect(item?.yield.value).toBeCloseTo(0.7, 12);
    expect(item?.colour_EBC).toEqual({ value: 120, u: 5, from: 'recipe' });
  });

  it('a colour in °L is read as malt or as sugar by its list', async () => {
    const body =
      '  extract: [ { name: own extract, weight: 1 kg, yield: 79 %, colour: 10 °L } ]\n  sugar: [ { name: own syrup, weight: 1 kg, yield: 79 %, colour: 10 SRM } ]\n';
    put('batches/x.md', GOOD.replace('---\nNotes', `${body}---\nNotes`));
    const recipe = (await read()).batches[0]?.recipe;
    // EBC = 2.65 °L - 1.2 for malt (from memory), EBC = 25/12.7 SRM for sugar.
    expect(recipe?.extract[0]?.colour_EBC.value).toBeCloseTo(25.3, 9);
    expect(recipe?.sugar[0]?.colour_EBC.value).toBeCloseTo(250 / 12.7, 9);
  });
});

it('a setup that cannot be read leaves its batches out without a word more', async () => {
  put('setups.yaml', 'stove: { kettle: 15 litre pots }\n');
  put('batches/x.md', GOOD);
  const archive = await read();
  expect(archive.problems).toHaveLength(1);
  expect(archive.failed).toEqual(['x']);
});

it('two hundred files are all read', async () => {
  for (let i = 0; i < 200; i++) put(`batches/b-${i}.md`, GOOD);
  expect((await read()).batches).toHaveLength(200);
});
