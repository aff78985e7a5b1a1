import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { advisories, answered, findings, installed, isBefore, type Lock } from './advisories.ts';

const ROOT = join(import.meta.dirname, '../..');
const text = (path: string): string => readFileSync(join(ROOT, path), 'utf8');
const LOCK: Lock = JSON.parse(text('package-lock.json'));

const named = (one: { package: string; version: string; id: string }): string =>
  `${one.package} ${one.version}: ${one.id}`;

describe('packages with known faults', () => {
  it('there is none but those that are answered, and these are in tests only', () => {
    const found = findings(LOCK);
    expect(found.map(named)).toEqual(answered.map(named));
    expect(found.filter(({ dev }) => !dev)).toEqual([]);
  });

  it('every package of the table is in the lock file', () => {
    const have = new Set(installed(LOCK).map((one) => one.package));
    expect(advisories.map((advisory) => advisory.package).filter((name) => !have.has(name))).toEqual([]);
  });

  it('the developers are told of every answer', () => {
    const told = text('DEVELOPERS.md');
    expect(
      answered.flatMap(({ package: name, id }) => [name, id]).filter((word) => !told.includes(word)),
    ).toEqual([]);
  });

  it('of pdfjs-dist only the reader is loaded', () => {
    const loaded = ['lib', 'tests', 'templates'].flatMap((folder) =>
      readdirSync(join(ROOT, folder), { recursive: true, encoding: 'utf8' })
        .filter((name) => /\.[jt]s$/.test(name))
        .flatMap((name) => [
          ...text(join(folder, name)).matchAll(/(?:from|import)\W{1,2}(pdfjs-dist[^'"]*)/g),
        ])
        .map(([, from]) => from),
    );
    expect(new Set(loaded)).toEqual(new Set(['pdfjs-dist/legacy/build/pdf.mjs']));
  });
});

describe('the table of advisories', () => {
  const NUMBER = /^(?:GHSA(?:-[23456789cfghjmpqrvwx]{4}){3}|CVE-20\d\d-\d{4,7})$/;

  it('names each advisory of a package once, by its number', () => {
    const ids = advisories.map(({ package: name, id }) => `${name} ${id}`);
    expect(ids.length).toBeGreaterThan(100);
    expect(ids.filter((id, i) => ids.indexOf(id) !== i)).toEqual([]);
    expect(advisories.filter(({ id }) => !NUMBER.test(id))).toEqual([]);
  });

  it('says of each where it was read', () => {
    const thread = /^https:\/\/github\.com\/[\w.-]+\/[\w.-]+\/(?:issues|pull)\/\d+$/;
    const unread = advisories.filter(
      ({ source }) => source !== 'from memory' && !source.split(' ').every((address) => thread.test(address)),
    );
    expect(unread).toEqual([]);
  });

  it('has ranges that begin before they end, one release line after the other', () => {
    const wrong = advisories.filter(({ affected }) =>
      affected.some(({ from, below }, i) => {
        const before = affected[i - 1];
        if (from === null) return before !== undefined;
        return !isBefore(from, below) || (before !== undefined && isBefore(from, before.below));
      }),
    );
    expect(wrong).toEqual([]);
  });
});

describe('what is found in a made-up lock file', () => {
  const of = (path: string, version: string, more: object = {}): string[] =>
    findings({ packages: { '': {}, [path]: { version, ...more } } }).map(({ id }) => id);

  it.each([
    ['js-yaml', '3.12.2', true],
    ['js-yaml', '3.13.0', true],
    ['js-yaml', '3.13.1', false],
    ['js-yaml', '3.13.1-rc.1', true],
    ['js-yaml', '4.0.0', false],
  ])('%s %s runs code that a file brings: %s', (name, version, is) => {
    expect(of(`node_modules/${name}`, version).includes('GHSA-8j8c-7jfh-h6hx')).toBe(is);
  });

  it('an old version has all the faults of its release line, and of no other', () => {
    expect(of('node_modules/js-yaml', '3.13.1')).toEqual([
      'GHSA-mh29-5h37-fv8m',
      'GHSA-h67p-54hq-rp68',
      'GHSA-52cp-r559-cp3m',
      'GHSA-5p4m-2wfm-xmqj',
      'GHSA-2883-xcg3-v3hh',
    ]);
    expect(of('node_modules/js-yaml', '5.2.1')).toEqual(['GHSA-pm4m-ph32-ghv5']);
    expect(of('node_modules/js-yaml', '5.2.2')).toEqual([]);
  });

  it('it is found below another package, under another name, and in what only tests have', () => {
    const fault = ['GHSA-m95q-7qp3-xv42'];
    expect(of('node_modules/a/node_modules/zod', '3.22.2')).toEqual(fault);
    expect(of('node_modules/other', '3.22.2', { name: 'zod' })).toEqual(fault);
    expect(of('node_modules/zod', '3.22.2', { dev: true })).toEqual(fault);
    expect(of('node_modules/zod-like', '3.22.2')).toEqual([]);
  });

  it('a single release with hostile code is found, its neighbours are not', () => {
    expect(['4.4.1', '4.4.2', '4.4.3'].map((version) => of('node_modules/debug', version))).toEqual([
      [],
      ['GHSA-8mgj-vmr8-frr6'],
      [],
    ]);
  });
});

describe('which version is before', () => {
  it.each([
    ['1.2.3', '1.2.3', false],
    ['1.2.3', '1.2.4', true],
    ['1.2.10', '1.2.9', false],
    ['1.9.0', '1.10.0', true],
    ['2.0.0', '10.0.0', true],
    ['2.0.0', '1.9.9', false],
    ['2.0.0-beta.2', '2.0.0', true],
    ['2.0.0', '2.0.0-beta.2', false],
    ['2.0.1-beta.2', '2.0.0', false],
    ['2.0.0+build.7', '2.0.0', false],
  ])('%s before %s: %s', (version, other, is) => {
    expect(isBefore(version, other)).toBe(is);
  });

  it('what is no version is refused', () => {
    for (const wrong of ['', '1.2', 'v1.2.3', '1.2.3.4', 'latest']) {
      expect(() => isBefore(wrong, '1.0.0')).toThrow(`Not a version: ${wrong}`);
    }
  });
});
