/** No formula is there for its tests alone: each is reached from the plan, by the names that are imported and used. */
import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, relative } from 'node:path';
import { expect, it } from 'vitest';
import { accuracyHeadlines } from './accuracy.ts';

const LIB = join(import.meta.dirname, '../../lib');

/** Text without its comments; strings stay, since no formula is called by a name in a string. */
const codeOf = (file: string) =>
  readFileSync(join(LIB, file), 'utf8').replaceAll(/\/\*[\s\S]*?\*\/|^\s*\/\/.*$/gm, '');

interface Import {
  readonly file: string;
  readonly name: string;
  readonly as: string;
}

function importsOf(file: string, code: string): Import[] {
  return [...code.matchAll(/^(?:import|export) (?:type )?\{([^}]*)\} from '(\.[^']+)'/gm)].flatMap(
    ([, names = '', from = '']) =>
      names
        .split(',')
        .map((name) => name.trim().replace(/^type /, ''))
        .filter((name) => name !== '')
        .map((name) => {
          const [own = '', as = own] = name.split(' as ');
          return { file: relative(LIB, join(LIB, dirname(file), from)), name: own, as };
        }),
  );
}

/** The declarations of a file at its outermost level, each with its text. */
function declarationsOf(code: string): Map<string, string> {
  const starts = [...code.matchAll(/^(?:export )?(?:function|const|interface|type) (\w+)/gm)];
  return new Map(
    starts.map((start, i) => [start[1]!, code.slice(start.index, starts[i + 1]?.index ?? code.length)]),
  );
}

const uses = (code: string, name: string) => new RegExp(`\\b${name}\\b`).test(code);

/** `file#name` of every declaration of lib/formulas that some file of the plan reaches. */
function reached(): Set<string> {
  const found = new Set<string>();
  const files = new Set<string>();
  const declaration = (file: string, name: string): void => {
    if (found.has(`${file}#${name}`)) return;
    found.add(`${file}#${name}`);
    const code = codeOf(file);
    const own = declarationsOf(code);
    const body = (own.get(name) ?? '').replace(name, '');
    for (const other of own.keys()) if (other !== name && uses(body, other)) declaration(file, other);
    for (const one of importsOf(file, code)) if (uses(body, one.as)) follow(one);
  };
  const follow = (one: Import): void => {
    if (one.file.startsWith('formulas/')) declaration(one.file, one.name);
    else whole(one.file);
  };
  const whole = (file: string): void => {
    if (files.has(file)) return;
    files.add(file);
    const code = codeOf(file);
    for (const one of importsOf(file, code)) follow(one);
  };
  for (const file of readdirSync(join(LIB, 'batch/plan'))) whole(`batch/plan/${file}`);
  return found;
}

const fromThePlan = reached();
const names = new Set([...fromThePlan].map((one) => one.split('#')[1]));

it('every export of lib/formulas is reached from the plan', () => {
  const exported = readdirSync(join(LIB, 'formulas')).flatMap((file) =>
    [...codeOf(`formulas/${file}`).matchAll(/^export (?:function|const|interface|type) (\w+)/gm)].map(
      ([, name]) => `formulas/${file}#${name}`,
    ),
  );
  expect(exported.length).toBeGreaterThan(50);
  expect(exported.filter((one) => !fromThePlan.has(one))).toEqual([]);
});

it('every formula of the accuracy table is one that the plan runs', () => {
  const certified = accuracyHeadlines().flatMap(({ formula }) => formula.split(', '));
  expect(certified.length).toBeGreaterThan(20);
  expect(certified.filter((name) => !names.has(name))).toEqual([]);
});
