import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const ROOT = join(import.meta.dirname, '../..');

it('nothing is put in order or written after the language of the computer at hand', () => {
  const files = readdirSync(join(ROOT, 'lib'), { recursive: true, encoding: 'utf8' }).filter((name) =>
    name.endsWith('.ts'),
  );
  expect(files.length).toBeGreaterThan(100);
  const found = files.flatMap((name) => {
    const text = readFileSync(join(ROOT, 'lib', name), 'utf8');
    const calls = [
      ...text.matchAll(/\.localeCompare\((?:[^(),]|\([^)]*\))*\)/g),
      ...text.matchAll(/\.toLocale\w*\(\s*\)|new Intl\.\w+\(\s*\)/g),
    ];
    return calls.map(([call]) => `${name}: ${call}`);
  });
  expect(found).toEqual([]);
});
