import { execFile } from 'node:child_process';
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { afterAll, describe, expect, it } from 'vitest';
import { renameInto, writeWhole } from '../../../lib/paper/engine/write-whole.ts';
import { Workplace } from './workplace.ts';

const place = new Workplace();
afterAll(() => place.remove());

describe('writeWhole', () => {
  it('makes the folder and replaces what was there, under no other name', async () => {
    const path = place.path('new', 'folder', 'sheet.pdf');
    await writeWhole(path, Buffer.from('one'));
    await writeWhole(path, Buffer.from('two'));
    expect(readFileSync(path, 'utf8')).toBe('two');
    expect(readdirSync(place.path('new', 'folder'))).toEqual(['sheet.pdf']);
  });

  it('keeps the old file and leaves no part when the last step fails', async () => {
    const path = place.path('kept', 'sheet.pdf');
    await writeWhole(path, Buffer.from('old'));
    const steps = {
      fill: async (part: string, bytes: Uint8Array) => writeFileSync(part, bytes),
      rename: () => Promise.reject(new Error('the file is open elsewhere')),
    };
    await expect(writeWhole(path, Buffer.from('new'), steps)).rejects.toThrow('open elsewhere');
    expect(readFileSync(path, 'utf8')).toBe('old');
    expect(readdirSync(place.path('kept'))).toEqual(['sheet.pdf']);
  });

  it('leaves no part when the process is told to end in the middle', async () => {
    const folder = place.path('ended');
    mkdirSync(folder);
    const [jiti, lib] = ['jiti', '../../../lib/paper/engine/write-whole.ts'].map((name) =>
      import.meta.resolve(name),
    );
    const script = place.path('ending.mjs');
    writeFileSync(
      script,
      `import { readdirSync, writeFileSync } from 'node:fs';
      import { createJiti } from ${JSON.stringify(jiti)};
      const { writeWhole } = await createJiti(import.meta.url).import(${JSON.stringify(lib)});
      const fill = async (part) => {
        writeFileSync(part, 'half');
        console.log(readdirSync(${JSON.stringify(folder)}).length);
        process.exit(130);
      };
      await writeWhole(${JSON.stringify(place.path('ended', 'sheet.pdf'))}, Buffer.from('whole'), { fill, rename: fill });`,
    );
    const { code, said } = await new Promise<{ code: unknown; said: string }>((tell) => {
      execFile(process.execPath, [script], (fault, said) => tell({ code: fault?.code, said }));
    });
    expect(code).toBe(130);
    expect(said.trim()).toBe('1');
    expect(readdirSync(folder)).toEqual([]);
  });
});

describe('a sheet that a viewer has open on Windows', () => {
  const held = (times: number, code: string) => {
    let tries = 0;
    const rename = async (): Promise<void> => {
      tries += 1;
      if (tries <= times) throw Object.assign(new Error(code), { code });
    };
    return { rename, tries: () => tries };
  };

  it.each(['EPERM', 'EACCES', 'EBUSY'])('is replaced once it is let go: %s', async (code) => {
    const { rename, tries } = held(3, code);
    await renameInto('a', 'b', { platform: 'win32', rename });
    expect(tries()).toBe(4);
  });

  it('is given up in the end, and at once where nothing else holds files', async () => {
    const forever = held(100, 'EBUSY');
    await expect(renameInto('a', 'b', { platform: 'win32', rename: forever.rename })).rejects.toThrow(
      'EBUSY',
    );
    const elsewhere = held(1, 'EPERM');
    await expect(renameInto('a', 'b', { platform: 'darwin', rename: elsewhere.rename })).rejects.toThrow();
    expect(elsewhere.tries()).toBe(1);
    const full = held(1, 'ENOSPC');
    await expect(renameInto('a', 'b', { platform: 'win32', rename: full.rename })).rejects.toThrow('ENOSPC');
    expect(full.tries()).toBe(1);
  });
});
