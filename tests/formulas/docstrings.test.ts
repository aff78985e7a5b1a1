/** What a reader may expect above every formula: source, range, and the file that holds its cases. */
import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from 'vitest';

const ROOT = fileURLToPath(new URL('../..', import.meta.url));
const FOLDER = `${ROOT}/lib/formulas`;

/** `range.ts` checks bounds, `solve.ts` repeats, and `sucrose-set.ts` holds bare polynomials whose callers are the formulas. */
const NOT_FORMULAS = new Set(['range.ts', 'solve.ts', 'sucrose-set.ts']);

const found = readdirSync(FOLDER)
  .filter((file) => !NOT_FORMULAS.has(file))
  .flatMap((file) => {
    const text = readFileSync(`${FOLDER}/${file}`, 'utf8');
    const functions = [...text.matchAll(/(?:\/\*\*((?:(?!\*\/)[\s\S])*)\*\/\s*\n)?export function (\w+)/g)];
    return functions.map(([, comment = '', name]) => [name!, comment] as const);
  });

test('the formulas were found', () => {
  expect(found.length).toBeGreaterThan(50);
});

test.each(found)('%s', (_, comment) => {
  const [opening] = comment.split('\n *\n');
  expect(opening).toMatch(/^\s*\* [A-Z][\s\S]*\.$/);
  for (const label of ['Formula', 'Source', 'Range', 'Cases']) expect(comment).toContain(` * ${label}: `);
  const path = /Cases: (tests\/formulas\/[\w-]+(?:\.[\w-]+)*\.ts)/.exec(comment)?.[1];
  expect(path).toBeDefined();
  expect(existsSync(`${ROOT}/${path}`), path).toBe(true);
});
