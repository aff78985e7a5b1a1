import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..');

/** The folders of `lib/` from the ground up: each may import from those before it, and no other. */
const LAYERS = [
  'units',
  'formulas',
  'batch/types',
  'batch/model',
  'batch/uncertainty',
  'batch/readings',
  'batch/fermentation',
  'batch/judgment',
  'batch/learning',
  'batch/scaling',
  'batch/plan',
  'archive',
  'words',
  'photo',
  'paper/engine',
  'paper',
  'key-in',
  'browser',
  'site',
  'commands',
];

/** Folders whose code also runs in a browser. */
const WITHOUT_NODE = [
  ...LAYERS.slice(0, LAYERS.indexOf('archive')),
  'archive/schema',
  'words',
  'paper',
  'photo',
  'key-in',
  'browser',
];

const filesBelow = (folder: string, ending: RegExp): string[] =>
  readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
    .filter((name) => ending.test(name))
    .map((name) => `${folder}/${name.split(sep).join('/')}`)
    .sort();

/** Every address that a file imports from, also for types and at run time. */
function importsOf(file: string): string[] {
  const text = readFileSync(join(ROOT, file), 'utf8');
  const static_ = text.matchAll(/^(?:import|export)\b[^'"`;]*?\bfrom\s*'([^']+)'|^import\s*'([^']+)'/gm);
  const dynamic = text.matchAll(/\bimport\(\s*'([^']+)'\s*\)/g);
  return [...static_, ...dynamic].map((match) => match[1] ?? match[2] ?? '');
}

const code = filesBelow('lib', /(?<!\.d)\.ts$/);
const imports = new Map(code.map((file) => [file, importsOf(file)]));

/** The file that a relative address leads to, below the project's folder. */
const target = (file: string, address: string): string =>
  relative(ROOT, join(ROOT, dirname(file), address))
    .split(sep)
    .join('/');
const ours = (file: string): string[] =>
  (imports.get(file) ?? [])
    .filter((address) => address.startsWith('.'))
    .map((address) => target(file, address));
/** The layer that a file belongs to: the longest of those that its path begins with. */
const layerOf = (file: string): string =>
  LAYERS.filter((layer) => file.startsWith(`lib/${layer}/`)).sort((a, b) => b.length - a.length)[0] ?? file;

describe('imports', () => {
  it('are read from all folders', () => {
    expect(code.map(layerOf).filter((layer) => !LAYERS.includes(layer))).toEqual([]);
    expect([...imports.values()].flat().length).toBeGreaterThan(code.length);
  });

  it.each(LAYERS)('of lib/%s lead only to the layers before it', (layer) => {
    const allowed = LAYERS.slice(0, LAYERS.indexOf(layer) + 1);
    const wrong = code
      .filter((file) => layerOf(file) === layer)
      .flatMap((file) => ours(file).map((to) => [file, to] as const))
      .filter(([, to]) => !allowed.includes(layerOf(to)));
    expect(wrong.map((pair) => pair.join(' -> '))).toEqual([]);
  });

  it.each(WITHOUT_NODE)('of lib/%s use nothing of Node', (folder) => {
    const wrong = code
      .filter((file) => file.startsWith(`lib/${folder}/`) && (folder !== 'paper' || layerOf(file) === folder))
      .filter((file) => imports.get(file)?.some((address) => address.startsWith('node:')));
    expect(wrong).toEqual([]);
  });

  it('lead to files that are there', () => {
    const known = new Set(filesBelow('lib', /\.ts$/));
    expect(code.flatMap(ours).filter((file) => !known.has(file))).toEqual([]);
  });

  it('do not go round in a circle', () => {
    expect(circles()).toEqual([]);
  });
});

/** Every circle of imports as it is met, `a -> b -> a`. */
function circles(): string[] {
  const found: string[] = [];
  const done = new Set<string>();
  const visit = (file: string, way: readonly string[]): void => {
    const at = way.indexOf(file);
    if (at >= 0) found.push([...way.slice(at), file].join(' -> '));
    if (at >= 0 || done.has(file)) return;
    for (const next of ours(file)) visit(next, [...way, file]);
    done.add(file);
  };
  for (const file of code) visit(file, []);
  return found;
}

it('no memory hides in the pure part: what is the same gives the same, whatever came before', () => {
  const pure = [...LAYERS.slice(0, LAYERS.indexOf('archive')), 'words', 'paper', 'key-in'];
  const kept = /^(?:export )?(?:let |const \w+(?:: [^=]+)? = new (?:WeakMap\b|(?:Map|Set)(?:<.*>)?\(\)))/m;
  const wrong = code
    .filter((file) => pure.includes(layerOf(file)))
    .filter((file) => kept.test(readFileSync(join(ROOT, file), 'utf8')));
  expect(wrong).toEqual([]);
});

describe('templates', () => {
  const templates = filesBelow('templates', /\.njk$/);

  it('are there', () => expect(templates.length).toBeGreaterThan(5));

  it.each(templates)('%s works nothing out', (file) => {
    const text = readFileSync(join(ROOT, file), 'utf8');
    const inside = [...text.matchAll(/\{\{(.*?)\}\}|\{%(.*?)%\}/gs)].map(
      (match) => match[1] ?? match[2] ?? '',
    );
    const withoutTexts = inside.map((expression) => expression.replaceAll(/'[^']*'|"[^"]*"/g, "''"));
    const arithmetic = withoutTexts.filter((expression) =>
      /[\w)\]]\s*(?:\*|\/|\+|%|\*\*|\/\/)\s*[\w(]|[\w)\]]\s+-\s+[\w(]|\|\s*(?:round|sum)\b/.test(
        expression.replaceAll(/\bloop\.\w+\s*[+-]\s*\d+/g, 'counter'),
      ),
    );
    expect(arithmetic).toEqual([]);
  });
});

it('the configuration of the site generator stays short', () => {
  const lines = readFileSync(join(ROOT, '.eleventy.js'), 'utf8').trimEnd().split('\n');
  expect(lines.length).toBeLessThanOrEqual(30);
});
