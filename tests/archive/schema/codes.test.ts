import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { FILE_PROBLEMS } from '../../../lib/archive/codes.ts';
import { SCHEMA_PROBLEMS } from '../../../lib/archive/schema/codes.ts';
import { UNIT_PROBLEMS } from '../../../lib/units/parse/parse.ts';
import { inGeneral } from '../../../lib/units/problem.ts';

const own = { ...SCHEMA_PROBLEMS, ...FILE_PROBLEMS };

it('no code is listed twice', () => {
  const all = [SCHEMA_PROBLEMS, FILE_PROBLEMS, UNIT_PROBLEMS].flatMap((codes) => Object.keys(codes));
  expect(new Set(all).size).toBe(all.length);
});

it('every code has a test of its exact text, and its meaning in one sentence', () => {
  const folders = ['..', '../../paper/paper'].map((folder) => join(import.meta.dirname, folder));
  const tested = folders
    .flatMap((folder) => readdirSync(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && /\.(ts|txt)$/.test(entry.name))
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .join('\n');
  expect(
    Object.keys(own).filter((code) => !tested.includes(`[${code}]`) && !tested.includes(`code: '${code}',`)),
  ).toEqual([]);
  expect(Object.values(own).filter((row) => !/^[A-Z].*\.$/.test(inGeneral(row).meaning))).toEqual([]);
});
