import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative, sep } from 'node:path';
import { describe, expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '..');

/** What each folder of `lib/` may import of ours. */
const MAY_IMPORT: Readonly<Record<string, readonly string[]>> = {
  units: [],
  formulas: ['units'],
  batch: ['formulas', 'units'],
  schema: ['batch', 'formulas', 'units'],
  files: ['schema', 'batch', 'formulas', 'units'],
  sheets: [],
  view: ['batch', 'formulas', 'units'],
  browser: ['view', 'batch', 'formulas', 'units'],
  site: ['browser', 'view', 'sheets', 'files', 'schema', 'batch', 'formulas', 'units'],
  commands: ['site', 'browser', 'view', 'sheets', 'files', 'schema', 'batch', 'formulas', 'units'],
};

/** Folders whose code also runs in a browser. */
const WITHOUT_NODE = ['units', 'formulas', 'batch', 'schema', 'view', 'browser'];

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
const folderOf = (file: string): string => file.split('/')[1] ?? '';

describe('imports', () => {
  it('are read from all folders', () => {
    expect([...new Set(code.map(folderOf))].sort()).toEqual(
      Object.keys(MAY_IMPORT)
        .filter((folder) => code.some((file) => folderOf(file) === folder))
        .sort(),
    );
    expect([...imports.values()].flat().length).toBeGreaterThan(code.length);
  });

  it.each(Object.entries(MAY_IMPORT))('of lib/%s lead only to %j', (folder, allowed) => {
    const wrong = code
      .filter((file) => folderOf(file) === folder)
      .flatMap((file) => ours(file).map((to) => `${file} -> ${to}`))
      .filter((line) => {
        const to = line.split(' -> ')[1] ?? '';
        return !to.startsWith('lib/') || ![folder, ...allowed].includes(folderOf(to));
      });
    expect(wrong).toEqual([]);
  });

  it.each(WITHOUT_NODE)('of lib/%s use nothing of Node', (folder) => {
    const wrong = code
      .filter((file) => folderOf(file) === folder)
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
