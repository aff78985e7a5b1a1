import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { FILE_CODES } from '../../../lib/archive/codes.ts';
import { SCHEMA_CODES } from '../../../lib/archive/schema/codes.ts';
import { UNIT_CODES } from '../../../lib/units/parse/parse.ts';

const root = join(import.meta.dirname, '../../..');
const listed = [...Object.keys(SCHEMA_CODES), ...Object.keys(FILE_CODES)];

function textOf(folder: string): string {
  return readdirSync(join(root, folder), { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile() && /\.(ts|txt)$/.test(entry.name))
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .join('\n');
}

/** Codes as the source writes them, as the first argument of what reports, or as a property. */
function emitted(): string[] {
  const source = textOf('lib/archive');
  const written = source.matchAll(
    /(?:\b(?:fault|error|warn|slip|refuse)\(\s*|code: |\? )'([a-z]+(?:-[a-z0-9]+)+)'/g,
  );
  const made = ['stand-missing', 'steep-missing', 'mash-missing']; // written `${key}-missing`
  return [...new Set([...[...written].map((match) => match[1] ?? ''), ...made])];
}

it('no code is listed twice', () => {
  const all = [...listed, ...Object.keys(UNIT_CODES)];
  expect(new Set(all).size).toBe(all.length);
});

it('every code that the source reports is listed, and every listed code is reported', () => {
  const codes = emitted();
  expect(codes.filter((code) => !listed.includes(code))).toEqual([]);
  const source = textOf('lib/archive');
  expect(listed.filter((code) => !codes.includes(code) && !source.includes(`'${code}',`))).toEqual([]);
});

it('every code has a test of its exact text', () => {
  const tested = textOf('tests/archive/schema') + textOf('tests/archive') + textOf('tests/paper/paper');
  expect(
    listed.filter((code) => !tested.includes(`[${code}]`) && !tested.includes(`code: '${code}',`)),
  ).toEqual([]);
});

it('every code has its meaning in one sentence', () => {
  for (const meaning of [...Object.values(SCHEMA_CODES), ...Object.values(FILE_CODES)]) {
    expect(meaning).toMatch(/^[A-Z].*\.$/);
  }
});
