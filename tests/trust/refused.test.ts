import { mkdirSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { formatProblem } from '../../lib/archive/problem-text.ts';
import { type LoadedSite, loadSite } from '../../lib/site/archive.ts';
import { buildSite } from '../../lib/site/build.ts';
import { filesBelow } from '../site/files.ts';

const RECIPE = `recipe:
  into_fermenter: 10 L
  boil: 30 min
  extract:
    - { name: light dry extract, weight: 1.2 kg }
  yeast:
    - { name: English ale, form: dry, amount: 11 g }
`;
const file = (keys: string, notes = ''): string => `---\ntitle: A\n${keys}${RECIPE}---\n${notes}`;
const bomb = `a: &a [x,x,x,x,x,x,x,x,x,x]\n${'bcdefghij'
  .split('')
  .map((name, at) => `${name}: &${name} [${`*${'abcdefghij'[at]},`.repeat(10)}]`)
  .join('\n')}\n`;

/** Files that no site may be made of: by name, what is in them and a code that says why. */
const REFUSED: Readonly<Record<string, readonly [text: string, code: string]>> = {
  'proto-key': [file('__proto__: { polluted: yes }\n'), 'unknown-key'],
  'proto-quoted': [file('"__proto__": { polluted: yes }\n'), 'unknown-key'],
  'constructor-key': [file('constructor: { prototype: { polluted: yes } }\n'), 'unknown-key'],
  'proto-in-recipe': [file('').replace('boil:', '__proto__: { polluted: yes }\n  boil:'), 'unknown-key'],
  'proto-merge': [file('<<: { __proto__: { polluted: yes } }\n'), 'unknown-key'],
  'alias-bomb': [file(bomb), 'yaml-too-large'],
  'alias-loop': [file('tags: &a [*a]\n'), 'yaml-too-large'],
  'deep-list': [file(`tags: ${'['.repeat(5000)}${']'.repeat(5000)}\n`), 'yaml-too-large'],
  'long-title': [file(`style: ${'x'.repeat(900_000)}\n`), 'text-too-long'],
  'long-key': [file(`${'x'.repeat(900_000)}: 1\n`), 'unknown-key'],
  'long-note': [file('').replace('11 g }', `11 g, note: "${'A<b>'.repeat(200_000)}" }`), 'text-too-long'],
  'long-figure': [file('').replace('30 min', `${'3'.repeat(900_000)} min`), ''],
  'two-mebibytes': [file('', 'x'.repeat(2 * 1024 * 1024)), 'file-too-large'],
  'js-language': ['---js\n{ title: process.exit(1) }\n---\n', 'frontmatter-not-yaml'],
  'json-language': ['---json\n{ "title": "A" }\n---\n', 'frontmatter-not-yaml'],
  'function-tag': [file('style: !!js/function "function () { process.exit(1) }"\n'), 'yaml-tag'],
  'based-on-path': [file('based_on: ../../../outside\n'), 'bad-slug'],
  'setup-path': [file('setup: ../../outside\n'), 'bad-slug'],
  '..': [file(''), 'bad-slug'],
  '..%2f..%2foutside': [file(''), 'bad-slug'],
  '..\\..\\outside': [file(''), 'bad-slug'],
  con: [file(''), 'bad-slug'],
  UPPER: [file(''), 'bad-slug'],
  'a\u202eb': [file(''), 'bad-slug'],
};

let dir: string;
let out: string;
let site: LoadedSite;

beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), 'kettleside-refused-'));
  out = join(dir, 'deep/in/out');
  mkdirSync(join(dir, 'content/batches'), { recursive: true });
  writeFileSync(join(dir, 'content/setups.yaml'), 'stove: { kettle: 15 L }\n');
  writeFileSync(join(dir, 'content/brewery.yaml'), 'name: A\n');
  writeFileSync(join(dir, 'content/batches/sound.md'), file('', 'All is well.'));
  for (const [name, [text]] of Object.entries(REFUSED))
    writeFileSync(join(dir, 'content/batches', `${name}.md`), text);
  site = await loadSite(join(dir, 'content'));
  await buildSite({ contentDir: join(dir, 'content'), outputDir: out, data: site });
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

describe('a file that no site may be made of', () => {
  it.each(Object.entries(REFUSED))('%s is refused with its place', (name, [, code]) => {
    // A name that begins with a dot is a hidden file, and no batch.
    if (name.startsWith('.')) return expect(site.failed).not.toContain(name);
    expect(site.failed).toContain(name);
    const errors = site.problems.filter(
      (problem) => problem.severity === 'error' && problem.file.endsWith(`batches/${name}.md`),
    );
    expect(errors.length).toBeGreaterThan(0);
    if (code !== '') expect(errors.map((problem) => problem.code)).toContain(code);
    for (const problem of errors) expect(formatProblem(problem).length).toBeLessThan(2000);
  });

  it('keeps no other batch from being built, and leaves no trace of itself', async () => {
    expect(site.content.entries.map(({ batch }) => batch.slug)).toEqual(['sound']);
    const made = (await filesBelow(out)).filter((path) => /^(?:batches|recipes)\//.test(path));
    expect(made.length).toBeGreaterThan(3);
    expect(made.filter((path) => !/^(?:batches|recipes)\/sound\//.test(path))).toEqual([]);
    expect(readdirSync(dir).sort()).toEqual(['content', 'deep']);
    expect(readdirSync(join(dir, 'deep/in'))).toEqual(['out']);
    expect(readFileSync(join(dir, 'content/batches/sound.md'), 'utf8')).toBe(file('', 'All is well.'));
  });

  it('changes nothing that every object inherits', () => {
    expect(({} as Record<string, unknown>).polluted).toBeUndefined();
    expect(Object.keys(Object.prototype)).toEqual([]);
  });
});
