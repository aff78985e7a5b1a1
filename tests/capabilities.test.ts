/** What the program can do, told by itself, against a written list: nothing is lost by accident. */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { JSON_SCHEMAS } from '../lib/archive/schema/json-schema.ts';
import { loadDemo } from './browser/demo.ts';
import { ROOT, run } from './commands/run.ts';
import { demoSite } from './shared.ts';
import { filesBelow } from './site/files.ts';

/** Each line is a kind of capability, a colon, and all of that kind in the order of the alphabet. */
const LIST = new Map(
  readFileSync(join(import.meta.dirname, 'capabilities.txt'), 'utf8')
    .split(/\n(?=\S)/)
    .filter((line) => !line.startsWith('#'))
    .map((line) => /^(.*?): (.*)$/.exec(line.replace(/\s+/g, ' '))?.slice(1) ?? [])
    .map(([kind = '', all = '']) => [kind, all.trim().split('; ')]),
);

function same(kind: string, found: Iterable<string>): void {
  const now = [...new Set(found)].sort();
  const listed = [...(LIST.get(kind) ?? [])].sort();
  expect(
    now.filter((one) => !listed.includes(one)),
    `new: write it into tests/capabilities.txt, ${kind}`,
  ).toEqual([]);
  expect(
    listed.filter((one) => !now.includes(one)),
    `lost: ${kind}`,
  ).toEqual([]);
}

function sameEach(prefix: string, found: ReadonlyMap<string, readonly string[]>): void {
  const listed = [...LIST.keys()].filter((kind) => kind.startsWith(prefix));
  for (const kind of new Set([...listed, ...found.keys()])) same(kind, found.get(kind) ?? []);
}

it('npm scripts', () => {
  same('npm scripts', Object.keys(JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')).scripts));
});

const commands = readdirSync(join(ROOT, 'lib/commands')).filter((name) => name.endsWith('.ts'));
it.each(commands.map((name) => name.replace('.ts', '')))('options of %s', async (command) => {
  const { out } = await run(command, ['--help']);
  same(
    `options of ${command}`,
    [...out.matchAll(/^ {2}--([\w-]+)/gm)].map(([, name = '']) => name),
  );
});

/** Every key of a schema, as `recipe.hops[].alpha`. */
function keysOf(node: unknown, path = ''): string[] {
  if (typeof node !== 'object' || node === null) return [];
  return Object.entries(node).flatMap(([word, inner]) => {
    if (word === 'properties')
      return Object.entries(inner).flatMap(([key, value]) => {
        const at = path === '' ? key : `${path}.${key}`;
        return [at, ...keysOf(value, at)];
      });
    if (word === 'items') return keysOf(inner, `${path}[]`);
    if (word === 'additionalProperties') return keysOf(inner, path === '' ? '*' : `${path}.*`);
    return word === 'anyOf' || word === 'oneOf' || word === 'allOf'
      ? (inner as unknown[]).flatMap((each) => keysOf(each, path))
      : [];
  });
}

it.each([
  ['batch file', JSON_SCHEMAS.batch],
  ['brewery.yaml', JSON_SCHEMAS.brewery],
  ['setups.yaml', JSON_SCHEMAS.setups],
  ['ingredients.yaml', JSON_SCHEMAS.ingredients],
])('keys of %s', (file, schema) => {
  // Below `kitchen` are the keys of setups.yaml.
  same(
    `keys of ${file}`,
    keysOf(schema()).filter((key) => !key.startsWith('kitchen.')),
  );
});

const slugs = readdirSync(join(ROOT, 'content/batches')).map((name) => name.replace('.md', ''));
const pattern = (path: string): string =>
  path
    .split('/')
    .map((part) => slugs.reduce((name, slug) => name.replace(slug, '*'), part))
    .join('/')
    .replace(/^data\/spreadsheet\/\w+/, 'data/spreadsheet/*')
    .replace(/^(by\/\w+|years)\/[^/]+\//, '$1/*/');

it('files of the site', async () => {
  same('files of the site', (await filesBelow(await demoSite())).map(pattern));
});

/** A figure has columns for its value, its range and what was brewed. */
const stem = (column: string): string => column.replace(/_(?:low|high|brewed)$/, '');

it('columns of the tables', async () => {
  const dir = await demoSite();
  for (const path of (await filesBelow(dir)).filter((each) => /^data\/\w+\.csv$/.test(each)))
    same(
      `columns of ${path}`,
      (readFileSync(join(dir, path), 'utf8').split(/\r?\n/, 1)[0] ?? '').split(',').map(stem),
    );
});

it('what stands on pages and sheets', async () => {
  const dir = await demoSite();
  const headings = new Map<string, Set<string>>();
  const blanks = new Map<string, Set<string>>();
  for (const path of await filesBelow(dir)) {
    if (!path.endsWith('.html')) continue;
    const html = readFileSync(join(dir, path), 'utf8');
    const kind = pattern(path);
    const add = (to: typeof headings, found: RegExp, shown = (text: string) => text) => {
      const all = to.get(kind) ?? new Set();
      for (const [, text = ''] of html.matchAll(found)) all.add(shown(text.replace(/<[^>]*>/g, '').trim()));
      if (all.size > 0) to.set(kind, all);
    };
    add(headings, /<h[2-4]\b[^>]*>(.*?)<\/h[2-4]>/gs);
    add(blanks, /\sdata-key="([^"]*)"/g, (key) => key.replace(/\[\d+\]/g, '[]'));
  }
  const { loaded } = await loadDemo();
  // What bears a name of the brewer's, or a year, is the demo's and no capability.
  const own = loaded.content.entries.flatMap(({ batch }) => [
    batch.title,
    batch.setup.title,
    ...batch.recipe.yeast.map(({ name }) => name),
  ]);
  const ours = (text: string): boolean =>
    !/\d/.test(text) && !own.some((name) => text.replaceAll('&#39;', "'").includes(name));
  const named = (prefix: string, of: typeof headings, shown: (text: string) => boolean) =>
    sameEach(prefix, new Map([...of].map(([kind, all]) => [`${prefix}${kind}`, [...all].filter(shown)])));
  named('headings of ', headings, ours);
  named('blanks of ', blanks, () => true);
});
