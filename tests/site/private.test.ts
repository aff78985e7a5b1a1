import { cp, mkdir, mkdtemp, readFile, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildSite, type SiteBuildResult } from '../../lib/site/build.ts';
import { filesBelow, filesThatHold } from './files.ts';

const DEMO = 'content';

/** A batch of the demo under another name, with keys put before the recipe. */
async function batch(dir: string, slug: string, keys: string, notes: string): Promise<void> {
  const source = await readFile(join(DEMO, 'batches/first-water.md'), 'utf8');
  const [, frontmatter = ''] = source.split(/^---$/m);
  const kept = frontmatter
    .replace(/^(title|number|brewed|start|style|tags|based_on|publish):.*\n/gm, '')
    .replace(/^private: \|\n(?: .*\n)*/m, '');
  await writeFile(
    join(dir, 'batches', `${slug}.md`),
    `---\n${keys}${kept.replace(/^\n/, '')}---\n${notes}\n`,
  );
}

let dir: string;
let out: string;
let result: SiteBuildResult;

beforeAll(async () => {
  dir = await mkdtemp(join(tmpdir(), 'kettleside-content-'));
  out = join(dir, 'out');
  await mkdir(join(dir, 'content/batches'), { recursive: true });
  for (const file of ['brewery.yaml', 'setups.yaml', 'ingredients.yaml'])
    await cp(join(DEMO, file), join(dir, 'content', file));
  const at = join(dir, 'content');
  await batch(
    at,
    'open-gate',
    'title: Open Gate\nnumber: 4001\nbrewed: 2026-01-02\nbased_on: shut-sluice\nprivate: |\n  it cost Quixotry and is for Zebedee\n',
    'Open to all.',
  );
  await batch(
    at,
    'shut-sluice',
    'title: Shut Sluice\nnumber: 4002\nbrewed: 2026-01-03\nbased_on: open-gate\npublish: false\n',
    'Sluicewords for nobody.',
  );
  await batch(
    at,
    'gift-lock',
    'title: Gift Lock\nnumber: 4003\nbrewed: 2023-07-08\nbased_on: shut-sluice\npublish: recipe\nprivate: Xylograph\n',
    'Giftwords for nobody.',
  );
  await writeFile(join(at, 'batches/broken-paddle.md'), '---\ntitle: Broken Paddle\nrecipe: {}\n---\n');
  result = await buildSite({ contentDir: at, outputDir: out });
});
afterAll(() => rm(dir, { recursive: true, force: true }));

describe('the site of an archive with secrets', () => {
  it('shows what is open', async () => {
    expect(await filesThatHold(out, 'Open Gate')).toContain('batches/open-gate/index.html');
    expect(await filesThatHold(out, 'Gift Lock')).toContain('recipes/gift-lock/index.html');
  });

  it.each(['Quixotry', 'Zebedee', 'Xylograph'])('holds nothing from private: %s', async (word) => {
    expect(await filesThatHold(out, word)).toEqual([]);
  });

  it.each(['shut-sluice', 'Shut Sluice', 'Sluicewords', 'Batch 4002', 'Batch\u00a04002'])(
    'holds nothing of what is not published: %s',
    async (word) => {
      expect(await filesThatHold(out, word)).toEqual([]);
    },
  );

  it.each(['Giftwords', 'Batch 4003', 'Batch\u00a04003', '8 Jul 2023', '2023-07-08'])(
    'holds of a recipe nothing that belongs to its batch: %s',
    async (word) => {
      expect(await filesThatHold(out, word)).toEqual([]);
      expect(await filesThatHold(out, word.replace(/ /g, '\u00a0'))).toEqual([]);
    },
  );

  it('leaves out a file that is wrong, and says so with its place', async () => {
    expect((await filesBelow(out)).filter((path) => path.includes('broken-paddle'))).toEqual([]);
    const errors = result.problems.filter((problem) => problem.severity === 'error');
    expect(errors.length).toBeGreaterThan(0);
    expect(errors.every((problem) => problem.file.endsWith('batches/broken-paddle.md'))).toBe(true);
  });

  it('forgets a batch that is withdrawn after a build', async () => {
    const file = join(dir, 'content/batches/open-gate.md');
    await writeFile(
      file,
      (await readFile(file, 'utf8')).replace('number: 4001', 'number: 4001\npublish: false'),
    );
    await buildSite({ contentDir: join(dir, 'content'), outputDir: out });
    expect(await filesThatHold(out, 'open-gate')).toEqual([]);
    expect(await filesThatHold(out, 'Open Gate')).toEqual([]);
  });
});
