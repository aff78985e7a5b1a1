import { readdirSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Place, place, ROOT, run, smallBatch, write } from './run.ts';

let made: Place;
beforeAll(() => {
  made = place([]);
});
afterAll(() => made.remove());

describe('npm run check', () => {
  it('tells of every file of a broken archive, and of each what was found, expected and how to mend it', async () => {
    const folder = join('tests/archive/schema/golden/broken');
    const names = readdirSync(join(ROOT, folder, 'batches'));
    const { code, out, err } = await run('check', ['--content', folder]);
    expect(code).toBe(1);
    expect(names.length).toBeGreaterThanOrEqual(20);
    for (const name of names)
      expect(out).toMatch(new RegExp(`^${folder}/batches/${name}:\\d+:\\d+ .*\\[[a-z-]+\\]`, 'm'));
    const heads = out.match(/^\S+:\d+:\d+ .*$/gm) ?? [];
    for (const word of ['found', 'expected', 'mend'])
      expect(out.match(new RegExp(`^  ${word} +\\S`, 'gm'))?.length).toBe(heads.length);
    const warnings = heads.map((line) => line.endsWith('  warning'));
    expect(warnings).toEqual([...warnings].sort((a, b) => Number(a) - Number(b)));
    expect(out).toMatch(/^\d+ batch files: \d+ fine, \d+ with errors, \d+ warnings$/m);
    expect(`${out}${err}`).not.toMatch(/^\s+at /m);
  });

  it('is content with a warning, and not with an error found while planning', async () => {
    write(made.batch('fine'), smallBatch('Fine', ['based_on: nowhere']));
    const fine = await run('check', ['--content', made.content]);
    expect([fine.code, fine.out.trimEnd().split('\n').at(-1)]).toEqual([
      0,
      '1 batch file: 1 fine, 1 warning',
    ]);
    write(
      made.batch('huge'),
      smallBatch('Huge').replace('  boil: 30 min', '  boil: 30 min\n  boil_volume: 40 L'),
    );
    const huge = await run('check', ['--content', made.content]);
    expect(huge.code).toBe(1);
    expect(huge.out).toMatch(
      /batches\/huge\.md:\d+:\d+ {2}recipe\S* {2}\[(?:kettle-overflows|boil-too-large)\]/,
    );
    expect(huge.out).toMatch(/^2 batch files: 1 fine, 1 with errors, 1 warning$/m);
  });

  it('says so where there is no such folder', async () => {
    const { code, out, err } = await run('check', ['--content', join(made.dir, 'nowhere')]);
    expect([code, err]).toEqual([1, '']);
    expect(out).toContain('[content-missing]');
  });
});
