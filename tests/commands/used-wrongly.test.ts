import { existsSync, readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { type Place, place, ROOT, run, smallBatch, write } from './run.ts';

const scripts: Record<string, string> = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')).scripts;
const commands = readdirSync(join(ROOT, 'lib/commands'))
  .filter((name) => name.endsWith('.ts'))
  .map((name) => name.replace(/\.ts$/, ''));

let made: Place;
let content: readonly string[];
beforeAll(() => {
  made = place([]);
  content = ['--content', made.content];
  write(made.batch('moorhen-brown'), smallBatch('Moorhen Brown', ['number: 7']));
});
afterAll(() => made.remove());

it('every command has its npm script', () => {
  const run = Object.values(scripts).flatMap(
    (line) =>
      /^(?:jiti lib\/commands\/|node lib\/commands\/kettleside\.js )([\w-]+)(?:\.ts)?$/.exec(line)?.[1] ?? [],
  );
  expect(run.sort()).toEqual([...commands].sort());
});

it.each(commands)('%s --help says what it is for and takes no other action', async (command) => {
  const nowhere = command === 'verify' ? [] : ['--content', '/nowhere'];
  const { code, out, err } = await run(command, ['--help', ...nowhere]);
  expect([code, err]).toEqual([0, '']);
  const script =
    Object.entries(scripts).find(
      ([, line]) => line.endsWith(` ${command}`) || line.includes(`/${command}.ts`),
    )?.[0] ?? '';
  expect(out).toMatch(new RegExp(`^  npm (?:run )?${script} -- \\[options\\]`, 'm'));
  expect(out).toMatch(/^ {2}--help {2,}this text$/m);
});

describe('a command that is used wrongly ends with 2, says why, and writes nothing', () => {
  it.each([
    ['check', ['--contnet', 'x'], 'did you mean "--content"?'],
    ['build', ['stray'], '"stray" is not expected here'],
    ['sheets', ['moorhen-brwon'], 'There is no batch "moorhen-brwon"; did you mean "moorhen-brown"?'],
    ['new', [], 'A title is missing'],
    ['new', ['Moorhen Brown'], 'is there already and stays as it is'],
    ['new', ['X', '--from', 'moorhen-brow'], 'did you mean "moorhen-brown"?'],
    ['new', ['X', '--brewed', '2026-02-30'], '--brewed is "2026-02-30"'],
    ['start', ['--port', 'x'], '--port is "x"'],
  ])('%s %j', async (command, args, message) => {
    const all = command === 'build' || command === 'sheets' ? made.folders : content;
    const { code, out, err } = await run(command, [...args, ...(args[0] === '--contnet' ? [] : all)]);
    expect([code, out.replace(/^As of .*\n/, '')]).toEqual([2, '']);
    expect(err).toContain(message);
    expect(err).not.toMatch(/^\s+at /m);
    expect(existsSync(made.output)).toBe(false);
    expect(readdirSync(join(made.content, 'batches'))).toEqual(['moorhen-brown.md']);
  });

  it.each(['build', 'site', 'sheets', 'schema', 'start'])('%s into the content folder', async (command) => {
    const { code, err } = await run(command, [...content, '--output', join(made.content, 'out')]);
    expect([code, err.split('\n')[0]]).toEqual([2, expect.stringContaining('is inside --content')]);
  });
});

it('npm run new writes a batch that is sound, with the next number, and says what to do next', async () => {
  const { code, out } = await run('new', ['Moorhen', 'Amber', '--brewed', '2026-12-01', ...content]);
  expect(code).toBe(0);
  expect(out).toContain(`Written: ${made.batch('moorhen-amber')}`);
  expect(out).toContain('npm run sheets -- moorhen-amber');
  const text = readFileSync(made.batch('moorhen-amber'), 'utf8');
  expect(text).toMatch(/^title: Moorhen Amber {2,}#[\s\S]*^number: 8 [\s\S]*^brewed: 2026-12-01 /m);
  const check = await run('check', content);
  expect([check.code, check.out.trimEnd()]).toEqual([0, '2 batch files: 2 fine']);
});

it('npm run new --from brews a batch again', async () => {
  const { code } = await run('new', ['Moorhen 2', '--from', 'moorhen-brown', '--slug', 'm2', ...content]);
  expect(code).toBe(0);
  const text = readFileSync(made.batch('m2'), 'utf8');
  const now = new Date();
  const days = [0, -1].map((back) => new Date(now.getTime() + back * 86_400_000).toLocaleDateString('sv-SE'));
  // The day may change while the command runs.
  expect(days).toContain(/^brewed: (.*)$/m.exec(text)?.[1]);
  expect(text).toMatch(/^title: "Moorhen 2"$|^title: Moorhen 2$/m);
  expect(text).toMatch(/^based_on: moorhen-brown$/m);
  const old = readFileSync(made.batch('moorhen-brown'), 'utf8');
  expect(text).toContain(/^recipe:\n(?: .*\n)+/m.exec(old)?.[0] ?? 'none');
  const check = await run('check', content);
  expect([check.code, check.out.trimEnd()]).toEqual([0, '3 batch files: 3 fine']);
});

it('npm run schema writes schemas that name the keys of the files', async () => {
  const file = join(made.dir, 'batch.schema.json');
  const { code } = await run('schema', ['--to', file]);
  expect(code).toBe(0);
  const schema = JSON.parse(readFileSync(file, 'utf8'));
  expect(Object.keys(schema.properties)).toEqual(expect.arrayContaining(['title', 'recipe', 'readings']));
});
