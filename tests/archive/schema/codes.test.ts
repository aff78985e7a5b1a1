import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { FILE_PROBLEMS } from '../../../lib/archive/codes.ts';
import { SCHEMA_PROBLEMS } from '../../../lib/archive/schema/codes.ts';
import { BATCH_PROBLEMS } from '../../../lib/batch/types/problem.ts';
import { KEY_IN_PROBLEMS } from '../../../lib/key-in/complete.ts';
import { SHEET_PROBLEMS } from '../../../lib/paper/engine/faults.ts';
import { SITE_PROBLEMS } from '../../../lib/site/check-links.ts';
import { UNIT_PROBLEMS } from '../../../lib/units/parse/parse.ts';
import { type Catalogue, inGeneral, type Said, say } from '../../../lib/units/problem.ts';

const own = { ...SCHEMA_PROBLEMS, ...FILE_PROBLEMS };
const ALL = [own, UNIT_PROBLEMS, BATCH_PROBLEMS, KEY_IN_PROBLEMS, SHEET_PROBLEMS, SITE_PROBLEMS].flatMap(
  (rows: Catalogue) => Object.entries(rows),
);

it('no code is listed twice', () => {
  expect(new Set(ALL.map(([code]) => code)).size).toBe(ALL.length);
});

it.each(ALL)('%s: each fact is filled in, once, and a brace in it is shown as it is', (code, row) => {
  const written = '{found} {mend} $& {';
  const names = String(row).matchAll(/\{(\w+)\}/g);
  const facts = Object.fromEntries(Array.from(names, ([, name]) => [name, written]));
  const sayAny = say as (rows: Catalogue, code: string, facts: object) => Said;
  const { found, expected, mend } = sayAny({ [code]: row }, code, facts);
  for (const words of [found, expected, mend]) {
    expect(words).not.toBe('');
    expect(words.replaceAll(written, '')).not.toMatch(/[{}]|undefined/);
  }
  expect(inGeneral(row).meaning).toMatch(/^[A-Z].*\.$/);
  expect(inGeneral(row).mend).not.toMatch(/[{}]/);
});

it('every code has a test of its exact text', () => {
  const folders = ['..', '../../paper/paper'].map((folder) => join(import.meta.dirname, folder));
  const tested = folders
    .flatMap((folder) => readdirSync(folder, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && /\.(ts|txt)$/.test(entry.name))
    .map((entry) => readFileSync(join(entry.parentPath, entry.name), 'utf8'))
    .join('\n');
  expect(
    Object.keys(own).filter((code) => !tested.includes(`[${code}]`) && !tested.includes(`code: '${code}',`)),
  ).toEqual([]);
});
