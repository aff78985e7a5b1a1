import { mkdirSync, mkdtempSync, rmSync, symlinkSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkFolders } from '../../lib/commands/support/folders.ts';
import { openOutput } from '../../lib/site/output.ts';

let dir = '';
beforeAll(() => {
  dir = mkdtempSync(join(tmpdir(), 'kettleside-folders-'));
  mkdirSync(join(dir, 'content/batches'), { recursive: true });
  mkdirSync(join(dir, 'holiday'));
  writeFileSync(join(dir, 'holiday/photo.jpg'), 'x');
  mkdirSync(join(dir, 'home'));
  for (const name of ['.profile', '.ssh']) writeFileSync(join(dir, 'home', name), 'x');
  mkdirSync(join(dir, 'worktree'));
  writeFileSync(join(dir, 'worktree/.git'), 'x');
  symlinkSync(join(dir, 'content'), join(dir, 'link'), 'dir');
  writeFileSync(join(dir, 'file'), 'x');
});
afterAll(() => rmSync(dir, { recursive: true, force: true }));

const check = (output: string, privateOutput?: string) => () =>
  checkFolders({
    content: join(dir, 'content'),
    output: join(dir, output),
    ...(privateOutput === undefined ? {} : { privateOutput: join(dir, privateOutput) }),
  });

describe('folders to write to', () => {
  it.each([
    ['content', undefined, 'is the same folder as --content'],
    ['content/site', undefined, 'is inside --content'],
    ['link/site', undefined, 'is inside --content'],
    ['.', undefined, 'holds --content'],
    ['out', 'out', 'is the same folder as --output'],
    ['out', 'out/private', 'is inside --output'],
    ['out/deep/site', 'out', 'holds --output'],
    ['out', 'content/private', 'is inside --content'],
    ['holiday', undefined, 'holds files that Kettleside did not make, such as photo.jpg'],
    ['out', 'holiday', 'holds files that Kettleside did not make'],
    ['home', undefined, 'holds files that Kettleside did not make, such as .profile'],
    ['out', 'home', 'holds files that Kettleside did not make'],
    ['file', undefined, 'is a file, not a folder'],
  ])('output %s and private output %s are refused', (output, privateOutput, message) => {
    expect(check(output, privateOutput)).toThrow(message);
  });

  it.each([
    ['out', 'private'],
    ['out', 'out-private'],
    ['content-site', undefined],
    ['worktree', undefined],
  ])('output %s and private output %s are fine', (output, privateOutput) => {
    expect(check(output, privateOutput)).not.toThrow();
  });

  it('are fine once these commands have made them', () => {
    openOutput(join(dir, 'made'));
    writeFileSync(join(dir, 'made/index.html'), 'x');
    expect(check('made')).not.toThrow();
  });
});
