import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, expect, it } from 'vitest';
import { place, ROOT, run } from './run.ts';

const made = place([]);
afterAll(made.remove);
const content = join(made.dir, 'mine');

it('a first evening: questions, a kit, a name that was not known, and all of it sound', async () => {
  const typed = ['Anna', 'us', '', 'a bucket', '3.5', 'electric', '', 'ice', '5280 ft'];
  const begun = await run('begin', ['--content', content], {}, `${typed.join('\n')}\n`);
  expect([begun.code, begun.err]).toEqual([0, '']);
  expect(begun.out).toContain('[4 gal]');
  expect(begun.out).toContain('"a bucket": expected a volume');
  expect(begun.out.match(/\[[^\]]+\] /g)).toHaveLength(9);
  expect(begun.out).toContain(`Next, your first batch: npm run new -- "First Pale" --content ${content}`);
  const [brewery, setups] = ['brewery', 'setups'].map((name) =>
    readFileSync(join(content, `${name}.yaml`), 'utf8'),
  );
  expect(brewery).toMatch(/^name: Anna .*\n[\s\S]*^units: us .*\npaper: letter .*\nlanguage: en-US /m);
  expect(setups).toMatch(/^ {2}kettle: 3\.5 gal .*\n {2}heat: 1\.4 ± 0\.2 kW /m);
  expect(setups).toMatch(/^ {2}chill: \{ with: ice bath \} .*\n[\s\S]*^ {2}altitude: 5280 ft /m);
  const demo = readFileSync(join(ROOT, 'content/brewery.yaml'), 'utf8');
  for (const [, of = ''] of demo.matchAll(/^(?:name|author|url): (.*)$/gm)) expect(brewery).not.toContain(of);
  expect(readdirSync(content).sort()).toEqual(['brewery.yaml', 'setups.yaml']);

  const again = await run('begin', ['--content', content], {}, '');
  expect([again.code, again.out]).toEqual([2, '']);
  expect(again.err).toContain('is there already and stays as it is');
  expect(readFileSync(join(content, 'setups.yaml'), 'utf8')).toBe(setups);

  const kit = await run('new', ['From the shop', '--kit', '--content', content]);
  expect(kit.code).toBe(0);
  expect(readFileSync(join(content, 'batches/from-the-shop.md'), 'utf8')).toMatch(/bitterness: 25 IBU in /);
  const check = await run('check', ['--content', content]);
  expect([check.code, check.out.trimEnd()]).toEqual([0, '1 batch file: 1 fine']);
});

it('an answer given by an option is not asked, and one that cannot be used is told before anything is written', async () => {
  const wrong = await run('begin', ['--content', join(made.dir, 'none'), '--stove', 'campfire'], {}, '');
  expect([wrong.code, wrong.out]).toEqual([2, '']);
  expect(wrong.err).toContain(
    '--stove: "campfire" is none of: small gas ring, large gas ring, electric plate',
  );
  expect(readdirSync(made.dir)).not.toContain('none');
});

it('npm run ingredients finds names, also other ones, with their figures', async () => {
  const { code, out } = await run('ingredients', ['golding', '--content', made.content]);
  expect(code).toBe(0);
  expect(out).toMatch(/^hop\n[\s\S]*^ {2}Goldings: alpha [\d.]+-[\d.]+ %\n {6}also: .*Kent Goldings/m);
  const near = await run('ingredients', ['cristal'], {});
  expect(near.out.trim()).toBe('Nothing has this name. Near it: Crystal');
});
