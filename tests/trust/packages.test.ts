import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { licences } from './licences.ts';

const ROOT = join(import.meta.dirname, '../..');

/** All of them let anyone use, change and hand on a program that has such a package in it. */
const FREE = new Set([
  '0BSD',
  'Apache-2.0',
  'BlueOak-1.0.0',
  'BSD-2-Clause',
  'BSD-3-Clause',
  'CC0-1.0',
  'ISC',
  'MIT',
  'OFL-1.1',
  'PSF-2.0',
  'Python-2.0',
]);
/** The LGPL lets anyone do so too as long as the library can be exchanged: it is an npm package of its own, and stays one. */
const EXCHANGEABLE = {
  name: /^@img\/sharp-/,
  licence: /^(?:(?:Apache-2\.0|MIT|LGPL-3\.0-or-later)(?: AND |$))+$/,
};

it('every package that comes with the program has a licence that lets it be handed on', () => {
  const all = licences();
  expect(all.length).toBeGreaterThan(100);
  const free = ({ name, licence }: (typeof all)[number]): boolean =>
    FREE.has(licence) || (EXCHANGEABLE.name.test(name) && EXCHANGEABLE.licence.test(licence));
  expect(all.filter((one) => !free(one)).map(({ name, licence }) => `${name}: ${licence}`)).toEqual([]);
});

it('no package needs its install script: those that have one only print a line', () => {
  const lock: { packages: Record<string, { hasInstallScript?: boolean }> } = JSON.parse(
    readFileSync(join(ROOT, 'package-lock.json'), 'utf8'),
  );
  const scripted = Object.entries(lock.packages).filter(
    ([, { hasInstallScript }]) => hasInstallScript === true,
  );
  const known = ['node_modules/core-js', 'node_modules/es5-ext'];
  expect(
    scripted.map(([path]) => path).filter((path) => !known.includes(path) && !path.endsWith('/fsevents')),
  ).toEqual([]);
});

it('no package comes from anywhere but the registry', () => {
  const lock: { packages: Record<string, { resolved?: string; link?: boolean }> } = JSON.parse(
    readFileSync(join(ROOT, 'package-lock.json'), 'utf8'),
  );
  const elsewhere = Object.entries(lock.packages).filter(
    ([, { resolved, link }]) => link === true || /^(?:git|file|http:)/.test(resolved ?? ''),
  );
  expect(elsewhere).toEqual([]);
});
