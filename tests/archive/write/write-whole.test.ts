import { execFile, spawnSync } from 'node:child_process';
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
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { DISK, renameInto, sweepUnfinished, writeWhole } from '../../../lib/archive/write/write-whole.ts';

let folder = '';
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'write-'));
});
afterEach(() => rmSync(folder, { recursive: true, force: true }));

it('writes a new file, its folders and nothing else', async () => {
  await writeWhole(join(folder, 'a/b/x.md'), 'Brühe °C\r\n');
  expect(readFileSync(join(folder, 'a/b/x.md'), 'utf8')).toBe('Brühe °C\r\n');
  expect(readdirSync(join(folder, 'a/b'))).toEqual(['x.md']);
});

it('replaces a file and keeps its mode', async () => {
  const path = join(folder, 'x.md');
  writeFileSync(path, 'old');
  chmodSync(path, 0o640);
  await writeWhole(path, new Uint8Array([1, 2, 3]));
  expect([...readFileSync(path)]).toEqual([1, 2, 3]);
  expect(statSync(path).mode & 0o777).toBe(0o640);
});

it('leaves the old state and no scraps where it fails', async () => {
  const path = join(folder, 'x.md');
  mkdirSync(path);
  writeFileSync(join(path, 'inside'), 'kept');
  await expect(writeWhole(path, 'new')).rejects.toThrow();
  expect(readdirSync(folder)).toEqual(['x.md']);
  expect(readFileSync(join(path, 'inside'), 'utf8')).toBe('kept');
});

it('keeps the old file and leaves no part when the last step fails', async () => {
  const path = join(folder, 'sheet.pdf');
  await writeWhole(path, 'old');
  const rename = () => Promise.reject(new Error('the file is open elsewhere'));
  await expect(writeWhole(path, 'new', { ...DISK, rename })).rejects.toThrow('open elsewhere');
  expect(readFileSync(path, 'utf8')).toBe('old');
  expect(readdirSync(folder)).toEqual(['sheet.pdf']);
});

it('leaves no part when the process is told to end in the middle', async () => {
  const [jiti, lib] = ['jiti', '../../../lib/archive/write/write-whole.ts'].map((name) =>
    import.meta.resolve(name),
  );
  const into = join(folder, 'into');
  mkdirSync(into);
  const script = join(folder, 'ending.mjs');
  writeFileSync(
    script,
    `import { readdirSync, writeFileSync } from 'node:fs';
    import { createJiti } from ${JSON.stringify(jiti)};
    const { writeWhole } = await createJiti(import.meta.url).import(${JSON.stringify(lib)});
    const fill = async (part) => {
      writeFileSync(part, 'half');
      console.log(readdirSync(${JSON.stringify(into)}).length);
      process.exit(130);
    };
    await writeWhole(${JSON.stringify(join(into, 'sheet.pdf'))}, 'whole', { fill, rename: fill });`,
  );
  const { code, said } = await new Promise<{ code: unknown; said: string }>((tell) => {
    execFile(process.execPath, [script], (fault, said) => tell({ code: fault?.code, said }));
  });
  expect([code, said.trim(), readdirSync(into)]).toEqual([130, '1', []]);
});

it('is never seen half written, whoever reads and writes at the same time', async () => {
  const path = join(folder, 'x.md');
  const versions = Array.from({ length: 20 }, (_, i) => String(i).repeat(200_000 / String(i).length));
  await writeWhole(path, versions[0] ?? '');
  const writing = Promise.all(versions.map((version) => writeWhole(path, version)));
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
  sweepUnfinished(folder);
  expect(readdirSync(folder).sort()).toEqual([...others].sort());
  for (const none of ['nowhere', 'x.md']) sweepUnfinished(join(folder, none));
});

describe('a file that is held for a moment', () => {
  const held = (times: number, code: string) => {
    let tries = 0;
    const rename = async () => {
      tries += 1;
      if (tries <= times) throw Object.assign(new Error(code), { code });
    };
    return { rename, tries: () => tries };
  };

  it.each(['EPERM', 'EACCES', 'EBUSY'])('is moved on Windows once it is let go: %s', async (code) => {
    const { rename, tries } = held(3, code);
    await renameInto('a', 'b', { platform: 'win32', rename });
    expect(tries()).toBe(4);
  });

  it('is given up in the end, and at once where nothing else holds files', async () => {
    const forever = held(100, 'EPERM');
    await expect(renameInto('a', 'b', { platform: 'win32', rename: forever.rename })).rejects.toThrow(
      'EPERM',
    );
    expect(forever.tries()).toBe(10);
    const elsewhere = held(1, 'EPERM');
    await expect(renameInto('a', 'b', { platform: 'linux', rename: elsewhere.rename })).rejects.toThrow();
    expect(elsewhere.tries()).toBe(1);
    const full = held(1, 'ENOSPC');
    await expect(renameInto('a', 'b', { platform: 'win32', rename: full.rename })).rejects.toThrow('ENOSPC');
  });
});
