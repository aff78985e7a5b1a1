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
    expect(ids.length).toBeGreaterThan(40);
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
