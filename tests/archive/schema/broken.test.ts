import { readdirSync, readFileSync } from 'node:fs';
import { basename, join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Archive } from '../../../lib/archive/archive.ts';
import { formatProblem } from '../../../lib/archive/problem-text.ts';
import { readArchive } from '../../../lib/archive/read-archive.ts';

const here = join(import.meta.dirname, 'golden');
const tablesDir = join(here, 'tables');

/** What an archive says of one file, paths cut to the file's name. */
function saidOf(archive: Archive, name: string): string {
  return archive.problems
    .filter(({ file }) => basename(file) === name)
    .map((problem) => `${formatProblem({ ...problem, file: name })}\n`)
    .join('\n');
}

describe.each([
  ['broken', 'broken/batches', '', 54],
  ['broken-kit', 'broken-kit', '.txt', 3],
])('the files of tests/archive/schema/golden/%s', async (folder, files, suffix, least) => {
  const archive = await readArchive(join(here, folder), { tablesDir });
  const names = readdirSync(join(here, files)).filter((name) => /\.(md|yaml)$/.test(name));

  it('are all there', () => expect(names.length).toBeGreaterThanOrEqual(least));

  it.each(names)('%s gets its exact messages', (name) => {
    const expected = join(
      here,
      folder,
      'expected',
      `${suffix === '' ? name.replace(/\.md$/, '') : name}.txt`,
    );
    expect(saidOf(archive, name)).toBe(readFileSync(expected, 'utf8'));
  });

  it('are the only ones that anything is said of', () => {
    const others = archive.problems.filter(({ file }) => !names.includes(basename(file)));
    expect(others.map(formatProblem)).toEqual([]);
  });
});

it('a batch with an error is left out, one with a warning only is not', async () => {
  const archive = await readArchive(join(here, 'broken'), { tablesDir });
  expect(archive.batches.map(({ slug }) => slug)).toEqual([
    'base-malt-steeped',
    'readings-contradict',
    'unknown-batch',
    'unusual',
  ]);
  expect(archive.failed).toHaveLength(readdirSync(join(here, 'broken/batches')).length - 4);
});
