import { execFileSync } from 'node:child_process';
import { cpSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { expect, it } from 'vitest';

const JITI = join(import.meta.dirname, '../../node_modules/jiti/lib/jiti-cli.mjs');

/** kB that stay in use for each edit under `npm start`, by the least of the last fifth against the least of the second fifth. */
function keptOfAnEdit(edits: number): number {
  const dir = mkdtempSync(join(tmpdir(), 'kettleside-edits-'));
  try {
    const content = join(dir, 'content');
    cpSync('content', content, { recursive: true });
    const args = ['--expose-gc', JITI, join(import.meta.dirname, 'edits-worker.ts'), content, String(edits)];
    const said = execFileSync(process.execPath, args, { encoding: 'utf8', timeout: 20 * 60_000 });
    const used = JSON.parse(said.trim().split('\n').at(-1) ?? '[]') as number[];
    const fifth = Math.floor(used.length / 5);
    const least = (from: number) => Math.min(...used.slice(from, from + fifth));
    return (least(used.length - fifth) - least(fifth)) / ((used.length - 2 * fifth) * 10);
  } finally {
    rmSync(dir, { recursive: true, force: true });
  }
}

it('five hundred edits under npm start leave no memory in use', () => {
  // It was 65 kB an edit while page templates were loaded anew; what is left is noise of the collection.
  expect(keptOfAnEdit(500)).toBeLessThan(5);
}, 1_200_000);
