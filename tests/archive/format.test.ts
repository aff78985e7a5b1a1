import { cpSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { formatProblem } from '../../lib/archive/problem-text.ts';
import { FORMAT } from '../../lib/archive/schema/brewery-schema.ts';
import { loadSite } from '../../lib/site/archive.ts';
import { run } from '../commands/run.ts';

const OLD = join(import.meta.dirname, 'format-1');
let content = '';
beforeEach(() => {
  content = mkdtempSync(join(tmpdir(), 'kettleside-format-'));
  cpSync(OLD, content, { recursive: true });
});
afterEach(() => rmSync(content, { recursive: true, force: true }));

const brewery = () => join(content, 'brewery.yaml');
const withFormat = (line: string) =>
  writeFileSync(brewery(), `${line}\n${readFileSync(join(OLD, 'brewery.yaml'), 'utf8')}`);
const written = () =>
  readdirSync(content, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath, entry.name))
    .sort()
    .map((path) => [path, readFileSync(path, 'utf8')]);

describe('files of an older format', () => {
  it.each([
    ['that says nothing of it', ''],
    ['that says so', 'format: 1'],
  ])('are read and planned as they are, by a brewery.yaml %s', async (_, line) => {
    withFormat(line);
    const { problems, failed, content: site } = await loadSite(content);
    expect(problems.filter(({ severity }) => severity === 'error')).toEqual([]);
    expect(failed).toEqual([]);
    expect(site.entries.length).toBe(readdirSync(join(OLD, 'batches')).length);
    expect(site.brewery.name).toBe('Pennywort Lock Cottage');
  });
});

describe('files of a newer format', () => {
  it('are refused with one word about it, whatever else is new in them', async () => {
    withFormat(`# of next year\nformat: ${FORMAT + 1}\nsomething_new: yes`);
    writeFileSync(join(content, 'setups.yaml'), 'stove: { vessel: copper }\n');
    const { problems, content: site, failed } = await loadSite(content);
    expect(problems.map((problem) => formatProblem({ ...problem, file: 'brewery.yaml' }))).toEqual([
      [
        'brewery.yaml:2:9  format  [newer-format]',
        `  found     files of format ${FORMAT + 1}`,
        '  expected  format 1, all that this version knows',
        '  mend      install a newer version of Kettleside; none of your files was changed',
      ].join('\n'),
    ]);
    expect([site.entries, failed]).toEqual([[], []]);
  });

  it('are never written to', async () => {
    withFormat(`format: ${FORMAT + 1}`);
    const [slug = ''] = readdirSync(join(OLD, 'batches')).map((name) => name.replace(/\.md$/, ''));
    writeFileSync(join(content, 'old.csv'), 'Name,OG\nA pale one,1.050\n');
    writeFileSync(join(content, 'map.yaml'), 'columns: { Name: title, OG: readings.original_gravity }\n');
    const before = written();
    const folder = ['--content', content];
    for (const [command, args] of [
      ['check', folder],
      ['key-in', [slug, '--sure', '--set', 'original_gravity=1.050', ...folder]],
      ['new', ['Another', ...folder]],
      ['start', ['--output', join(content, 'site'), ...folder]],
      ['import', [join(content, 'old.csv'), '--map', join(content, 'map.yaml'), ...folder]],
    ] as const)
      expect((await run(command, args)).code, command).not.toBe(0);
    expect(written()).toEqual(before);
  });

  it.each(['0', '1.5', 'two', '-1'])('are none where the number is no number: %s', async (format) => {
    withFormat(`format: ${format}`);
    const { problems } = await loadSite(content);
    const errors = problems.filter(({ severity }) => severity === 'error');
    expect(errors.map(({ code, path }) => [code, path])).toEqual([
      [expect.stringMatching(/^(?:out-of-range|not-a-count)$/), ['format']],
    ]);
  });
});
