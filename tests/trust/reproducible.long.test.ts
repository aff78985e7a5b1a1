import { spawn } from 'node:child_process';
import { cpSync, mkdirSync, mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, expect, it } from 'vitest';
import { filesBelow } from '../site/files.ts';

const ROOT = join(import.meta.dirname, '../..');
const JITI = join(ROOT, 'node_modules/jiti/lib/jiti-cli.mjs');
/** One in the past, with readings; one yet to be brewed; one that is a recipe only; one that is not published. */
const SLUGS = ['first-water', 'black-ice-lager', 'lost-windlass', 'hedge-hop-pale', 'lantern-wedding'];
const SHEETS = ['first-water/kettle-sheet', 'hedge-hop-pale/cellar-sheet', 'black-ice-lager/recipe-card'];

/** Places that differ in the day it is, in how a figure is written and in what a small I is. */
const PLACES = [
  { name: 'a', env: { TZ: 'UTC', LANG: 'C', LC_ALL: 'C', LANGUAGE: '' } },
  { name: 'a', env: { TZ: 'UTC', LANG: 'C', LC_ALL: 'C', LANGUAGE: '' } },
  {
    name: 'another, far away',
    env: { TZ: 'Pacific/Kiritimati', LANG: 'tr_TR.UTF-8', LC_ALL: 'tr_TR.UTF-8', LANGUAGE: 'tr' },
  },
  {
    name: 'ç',
    env: { TZ: 'America/St_Johns', LANG: 'ar_EG.UTF-8', LC_ALL: 'de_DE.UTF-8', LANGUAGE: 'de' },
  },
] as const;

const trees: Map<string, Buffer>[] = [];
let dir: string;

function jiti(args: readonly string[], extra: Readonly<Record<string, string>>): Promise<string> {
  const own = Object.entries(process.env).filter(([key]) => !key.startsWith('npm_config_'));
  const env = { ...Object.fromEntries(own), ...extra };
  return new Promise((resolve, reject) => {
    const child = spawn(process.execPath, [JITI, ...args], { cwd: ROOT, env });
    let said = '';
    for (const stream of [child.stdout, child.stderr])
      stream.on('data', (bytes) => {
        said += bytes;
      });
    child.on('error', reject);
    child.on('close', (code) => (code === 0 ? resolve(said) : reject(new Error(said))));
  });
}

beforeAll(async () => {
  dir = mkdtempSync(join(tmpdir(), 'kettleside-same-'));
  for (const [at, { name, env }] of PLACES.entries()) {
    const place = join(dir, name);
    // The second run is in the first one's folders, over what is there.
    if (at !== 1) {
      mkdirSync(join(place, 'content/batches'), { recursive: true });
      for (const file of ['brewery.yaml', 'setups.yaml', 'ingredients.yaml'])
        cpSync(join(ROOT, 'content', file), join(place, 'content', file));
      for (const slug of at === 2 ? [...SLUGS].reverse() : SLUGS)
        cpSync(join(ROOT, `content/batches/${slug}.md`), join(place, `content/batches/${slug}.md`));
    }
    const site = join(place, 'site');
    await jiti(['lib/commands/site.ts', '--content', join(place, 'content'), '--output', site], env);
    if (at !== 1) await jiti(['tests/trust/print-once.ts', site, join(place, 'cache'), ...SHEETS], env);
    const tree = new Map<string, Buffer>();
    for (const path of await filesBelow(site)) tree.set(path, readFileSync(join(site, path)));
    trees.push(tree);
  }
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

it('there is something to compare', () => {
  const paths = [...(trees[0]?.keys() ?? [])];
  expect(paths.filter((path) => path.endsWith('.pdf')).length).toBe(SHEETS.length);
  expect(paths.filter((path) => path.endsWith('plan.json')).length).toBeGreaterThan(1);
  expect(paths.filter((path) => path.endsWith('.html')).length).toBeGreaterThan(15);
});

it.each([
  [1, 'twice in a row'],
  [2, 'in another folder, time zone and language'],
  [3, 'in a third'],
])('run %i gives the same bytes: %s', (run) => {
  const [first, other] = [trees[0], trees[run]];
  // What was printed there by itself is in no list of a build, and stays.
  const compared = [...(first?.keys() ?? [])];
  expect([...(other?.keys() ?? [])]).toEqual(compared);
  expect(
    compared.filter((path) => other?.get(path)?.equals(first?.get(path) ?? Buffer.alloc(0)) !== true),
  ).toEqual([]);
});
