import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtempSync, readdirSync, readFileSync, rmSync, utimesSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { locked, saysTaken } from '../../../lib/archive/write/lock.ts';
import { besideOf } from '../../../lib/archive/write/sibling-path.ts';

const JITI = join(import.meta.dirname, '../../../node_modules/jiti/lib/jiti-cli.mjs');
const WORKER = join(import.meta.dirname, 'lock-worker.ts');
const PROCESSES = 10;
const ROUNDS = 60;

let dir: string;
let file: string;
beforeEach(() => {
  dir = mkdtempSync(join(tmpdir(), 'kettleside-lock-'));
  file = join(dir, 'batch.md');
  writeFileSync(file, '0');
});
afterEach(() => rmSync(dir, { recursive: true, force: true }));

const longAgo = (name: string) => {
  const path = besideOf(file, name);
  writeFileSync(path, '');
  utimesSync(path, 0, 0);
};

describe('a lock that was left behind', () => {
  it(`is never taken over by two of ${PROCESSES} processes at once, ${ROUNDS} times over`, async () => {
    const ended = await Promise.all(
      Array.from({ length: PROCESSES }, async () => {
        const child = spawn(process.execPath, [JITI, WORKER, file, String(ROUNDS)], { stdio: 'pipe' });
        let said = '';
        child.stderr.on('data', (bytes) => {
          said += bytes;
        });
        const [code] = await once(child, 'close');
        return { code, said };
      }),
    );
    expect(ended).toEqual(Array.from({ length: PROCESSES }, () => ({ code: 0, said: '' })));
    // Two inside at once would both have added one to the same number.
    expect(readFileSync(file, 'utf8')).toBe(String(PROCESSES * ROUNDS));
  });

  it('is taken away, with claims to it that were left behind too', async () => {
    longAgo('lock');
    longAgo('lock.1-0123456789ab');
    expect(await locked(file, async (held) => held())).toBe(true);
    expect(readdirSync(dir)).toEqual(['batch.md']);
  });

  it('need not be there for claims of before to be cleared away', async () => {
    longAgo('lock.1-0123456789ab');
    writeFileSync(besideOf(file, 'lock.2-0123456789ab'), '');
    await locked(file, async () => undefined);
    expect(readdirSync(dir)).toEqual(['.batch.md.lock.2-0123456789ab', 'batch.md']);
  });

  it('is left alone while another process is about to take it away', async () => {
    longAgo('lock');
    const claim = besideOf(file, 'lock.1-0123456789ab');
    writeFileSync(claim, '');
    let inside = false;
    const work = locked(file, async () => {
      inside = true;
    });
    await new Promise((go) => setTimeout(go, 300));
    expect([inside, readdirSync(dir).includes('.batch.md.lock')]).toEqual([false, true]);
    rmSync(claim);
    await work;
    expect([inside, readdirSync(dir)]).toEqual([true, ['batch.md']]);
  });
});

describe('a lock that another has', () => {
  const refused = (code: string) => Object.assign(new Error('refused'), { code });

  it.each([
    ['EEXIST', 'linux', true],
    ['EEXIST', 'win32', true],
    ['EPERM', 'win32', true],
    ['EBUSY', 'win32', true],
    ['EPERM', 'linux', false],
    ['EACCES', 'win32', false],
    ['ENOSPC', 'darwin', false],
  ] as const)('%s on %s: %s', (code, platform, taken) => {
    expect(saysTaken(refused(code), platform)).toBe(taken);
  });
});
