import { spawnSync } from 'node:child_process';
import {
  chmodSync,
  mkdirSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  rmSync,
  statSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, expect, it } from 'vitest';
import { sweepUnfinished, writeAtomic } from '../../lib/files/atomic-write.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'write-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it('writes a new file, its folders and nothing else', async () => {
  await writeAtomic(join(folder, 'a/b/x.md'), 'Brühe °C\r\n');
  expect(readFileSync(join(folder, 'a/b/x.md'), 'utf8')).toBe('Brühe °C\r\n');
  expect(readdirSync(join(folder, 'a/b'))).toEqual(['x.md']);
});

it('replaces a file and keeps its mode', async () => {
  const path = join(folder, 'x.md');
  writeFileSync(path, 'old');
  chmodSync(path, 0o640);
  await writeAtomic(path, new Uint8Array([1, 2, 3]));
  expect([...readFileSync(path)]).toEqual([1, 2, 3]);
  expect(statSync(path).mode & 0o777).toBe(0o640);
});

it('leaves the old state and no scraps where it fails', async () => {
  const path = join(folder, 'x.md');
  mkdirSync(path);
  writeFileSync(join(path, 'inside'), 'kept');
  await expect(writeAtomic(path, 'new')).rejects.toThrow();
  expect(readdirSync(folder)).toEqual(['x.md']);
  expect(readFileSync(join(path, 'inside'), 'utf8')).toBe('kept');
});

it('is never seen half written, whoever reads and writes at the same time', async () => {
  const path = join(folder, 'x.md');
  const versions = Array.from({ length: 20 }, (_, i) => String(i).repeat(200_000 / String(i).length));
  await writeAtomic(path, versions[0] ?? '');
  const writing = Promise.all(versions.map((version) => writeAtomic(path, version)));
  let done = false;
  const reading = (async () => {
    while (!done) {
      expect(versions).toContain(readFileSync(path, 'utf8'));
      await new Promise((resolve) => setImmediate(resolve));
    }
  })();
  await writing;
  done = true;
  await reading;
  expect(readdirSync(folder)).toEqual(['x.md']);
});

it('what a killed process left is taken away, and nothing that one still at work or a brewer wrote', async () => {
  const { pid } = spawnSync(process.execPath, ['-e', '']);
  const left = `.x.md.${pid}-0123456789ab.tmp`;
  const others = [`.x.md.${process.pid}-0123456789ab.tmp`, '.x.md.before', '.hidden', 'x.md', 'x.tmp'];
  for (const name of [left, ...others]) writeFileSync(join(folder, name), '');
  await sweepUnfinished(folder);
  expect(readdirSync(folder).sort()).toEqual([...others].sort());
  await sweepUnfinished(join(folder, 'nowhere'));
});
