import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { FILE_CODES } from '../../../lib/archive/codes.ts';
import { SCHEMA_CODES } from '../../../lib/archive/schema/codes.ts';
import { UNIT_CODES } from '../../../lib/units/parse/parse.ts';

const own = { ...SCHEMA_CODES, ...FILE_CODES };

it('no code is listed twice', () => {
  const all = [SCHEMA_CODES, FILE_CODES, UNIT_CODES].flatMap((codes) => Object.keys(codes));
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
  expect(Object.values(own).filter((meaning) => !/^[A-Z].*\.$/.test(meaning))).toEqual([]);
});
